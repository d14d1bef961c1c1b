/** Workbooks made by hand for tests, part by part, so that they can hold what no program would write. */
import { crc32, deflateRawSync } from 'node:zlib';

export interface ZipEntry {
  readonly name: string;
  readonly data: string | Uint8Array;
  /** What the entry says of itself, where that is not so. */
  readonly statedBytes?: number;
  readonly statedCrc?: number;
  readonly flags?: number;
  readonly method?: number;
}

/** A ZIP file (APPNOTE 6.3) of deflated entries. */
export function zipOf(entries: readonly ZipEntry[]): Buffer {
  const locals: Buffer[] = [];
  const centrals: Buffer[] = [];
  let offset = 0;
  for (const entry of entries) {
    const data = Buffer.from(entry.data);
    const packed = entry.method === 0 ? data : deflateRawSync(data);
    const name = Buffer.from(entry.name);
    const common = Buffer.alloc(26);
    common.writeUInt16LE(20, 0);
    common.writeUInt16LE(entry.flags ?? 0, 2);
    common.writeUInt16LE(entry.method ?? 8, 4);
    common.writeUInt32LE(entry.statedCrc ?? crc32(data), 10);
    common.writeUInt32LE(packed.length, 14);
    common.writeUInt32LE(entry.statedBytes ?? data.length, 18);
    common.writeUInt16LE(name.length, 22);
    const local = Buffer.concat([Buffer.from('PK\x03\x04', 'latin1'), common, name, packed]);
    const place = Buffer.alloc(14);
    place.writeUInt32LE(offset, 10);
    centrals.push(Buffer.concat([Buffer.from('PK\x01\x02\x14\x00', 'latin1'), common, place, name]));
    locals.push(local);
    offset += local.length;
  }
  const central = Buffer.concat(centrals);
  const end = Buffer.alloc(22);
  end.write('PK\x05\x06', 'latin1');
  end.writeUInt16LE(entries.length, 8);
  end.writeUInt16LE(entries.length, 10);
  end.writeUInt32LE(central.length, 12);
  end.writeUInt32LE(offset, 16);
  return Buffer.concat([...locals, central, end]);
}

export interface SmallSheet {
  readonly name: string;
  /** XML inside `sheetData`, such as `<row r="1"><c r="A1" t="str"><v>key</v></c></row>`. */
  readonly data: string;
  /** XML after `sheetData`. */
  readonly after?: string;
}

export interface SmallWorkbook {
  readonly sheets: readonly SmallSheet[];
  /** Attributes of `workbookPr`. */
  readonly workbookPr?: string;
  /** Shared string items, the XML inside `sst`. */
  readonly strings?: string;
}

const MAIN = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
const RELATIONS = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const PACKAGE = 'http://schemas.openxmlformats.org/package/2006/relationships';

/** The parts of a workbook with the date styles 1 (yyyy-mm-dd) and 2 (h:mm) and the number style 3. */
export function workbookParts(book: SmallWorkbook): ZipEntry[] {
  const relation = (id: string, type: string, target: string): string =>
    `<Relationship Id="${id}" Type="${RELATIONS}/${type}" Target="${target}"/>`;
  const sheets = book.sheets.map(
    (sheet, i) => `<sheet name="${sheet.name}" sheetId="${i + 1}" r:id="s${i}"/>`,
  );
  const targets = book.sheets.map((_, i) => relation(`s${i}`, 'worksheet', `worksheets/sheet${i + 1}.xml`));
  return [
    {
      name: '_rels/.rels',
      data: `<Relationships xmlns="${PACKAGE}">${relation('r', 'officeDocument', 'xl/workbook.xml')}</Relationships>`,
    },
    {
      name: 'xl/workbook.xml',
      data: `<workbook xmlns="${MAIN}" xmlns:r="${RELATIONS}"><workbookPr ${book.workbookPr ?? ''}/><sheets>${sheets.join('')}</sheets></workbook>`,
    },
    {
      name: 'xl/_rels/workbook.xml.rels',
      data: `<Relationships xmlns="${PACKAGE}">${targets.join('')}${relation('st', 'styles', 'styles.xml')}${relation('ss', 'sharedStrings', 'sharedStrings.xml')}</Relationships>`,
    },
    {
      name: 'xl/styles.xml',
      data: `<styleSheet xmlns="${MAIN}"><numFmts><numFmt numFmtId="164" formatCode="yyyy\\-mm\\-dd"/></numFmts><cellXfs><xf numFmtId="0"/><xf numFmtId="164"/><xf numFmtId="20"/><xf numFmtId="4"/></cellXfs></styleSheet>`,
    },
    { name: 'xl/sharedStrings.xml', data: `<sst xmlns="${MAIN}">${book.strings ?? ''}</sst>` },
    ...book.sheets.map((sheet, i) => ({
      name: `xl/worksheets/sheet${i + 1}.xml`,
      data: `<worksheet xmlns="${MAIN}"><sheetData>${sheet.data}</sheetData>${sheet.after ?? ''}</worksheet>`,
    })),
  ];
}

export function smallWorkbook(book: SmallWorkbook): Buffer {
  return zipOf(workbookParts(book));
}

/** Rows of texts as the XML of a sheet. */
export function textRows(rows: readonly (readonly string[])[]): string {
  return rows
    .map((cells, r) => {
      const xml = cells.map((text, c) =>
        text === ''
          ? ''
          : `<c r="${String.fromCharCode(65 + c)}${r + 1}" t="inlineStr"><is><t>${text}</t></is></c>`,
      );
      return `<row r="${r + 1}">${xml.join('')}</row>`;
    })
    .join('');
}
