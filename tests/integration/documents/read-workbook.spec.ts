import type { RawCell, RawTable } from '../../../libs/documents/src/raw-table.ts';
import { UnreadableSheet } from '../../../libs/documents/src/sheet-fault.ts';
import { SHEET_LIMITS, type SheetLimits } from '../../../libs/documents/src/sheet-limits.ts';
import { readWorkbook } from '../../../libs/documents/src/xlsx/read-workbook.ts';
import { smallWorkbook, textRows, workbookParts, zipOf } from './small-workbook.ts';

function cellsOf(table: RawTable | undefined): Record<string, RawCell> {
  return Object.fromEntries(
    (table?.rows ?? []).flatMap((row) =>
      [...row.cells].map(([column, cell]) => [`${String.fromCharCode(64 + column)}${row.number}`, cell]),
    ),
  );
}

function read(
  data: string,
  rest: Partial<Parameters<typeof smallWorkbook>[0]> = {},
): Record<string, RawCell> {
  return cellsOf(readWorkbook(smallWorkbook({ sheets: [{ name: 'Jobs', data }], ...rest }), SHEET_LIMITS)[0]);
}

function refusal(bytes: Uint8Array, limits: SheetLimits = SHEET_LIMITS): string {
  try {
    readWorkbook(bytes, limits);
  } catch (error) {
    if (error instanceof UnreadableSheet) return `${error.fault.code}: ${error.fault.message}`;
    throw error;
  }
  return 'it was read';
}

const plain = {
  sheets: [
    {
      name: 'Jobs',
      data: textRows([
        ['key', 'site'],
        ['a', 'b'],
      ]),
    },
  ],
};

describe('Cells of a workbook', () => {
  test('texts: shared, inline, of formulas, in runs, without reading aids, with escapes and entities', () => {
    const cells = read(
      '<row r="2"><c r="A2" t="s"><v>0</v></c><c r="B2" t="s"><v>1</v></c><c r="C2" t="s"><v>2</v></c></row>' +
        '<row r="3"><c r="A3" t="str"><f>"x"</f><v>worked _x0041_</v></c>' +
        '<c r="B3" t="inlineStr"><is><t>&lt;in&#x41;&#66;line&gt;</t></is></c>' +
        '<c r="C3" t="inlineStr"><is><t><![CDATA[a & b]]></t></is></c></row>',
      {
        strings:
          '<si><t xml:space="preserve"> spaces </t></si><si><r><t>ru</t></r><r><rPr/><t>ns</t></r></si>' +
          '<si><t>reading</t><rPh sb="0" eb="1"><t>aid</t></rPh></si>',
      },
    );
    expect(cells).toEqual({
      A2: { kind: 'text', text: ' spaces ' },
      B2: { kind: 'text', text: 'runs' },
      C2: { kind: 'text', text: 'reading' },
      A3: { kind: 'text', text: 'worked A' },
      B3: { kind: 'text', text: '<inAB' + 'line>' },
      C3: { kind: 'text', text: 'a & b' },
    });
  });

  test('numbers keep all their digits; dates and times are told by their format; booleans', () => {
    expect(
      read(
        '<row r="1"><c r="A1"><v>12345678901234567890</v></c><c r="B1" s="1"><v>46146</v></c><c r="C1" s="2"><v>0.333333333333333</v></c>' +
          '<c r="D1" s="3"><v>1.50</v></c><c r="E1" t="b"><v>1</v></c><c r="F1" t="d"><v>2026-05-04T00:00:00Z</v></c></row>',
      ),
    ).toEqual({
      A1: { kind: 'number', digits: '12345678901234567890' },
      B1: { kind: 'serial', days: 46146, epochShiftDays: 0 },
      C1: { kind: 'serial', days: 0.333333333333333, epochShiftDays: 0 },
      D1: { kind: 'number', digits: '1.50' },
      E1: { kind: 'boolean', value: true },
      F1: { kind: 'iso', text: '2026-05-04T00:00:00Z' },
    });
  });

  test.each(['1', 'true'])('the 1904 system is known by date1904="%s"', (flag) => {
    const cells = read('<row r="1"><c r="A1" s="1"><v>44684</v></c></row>', {
      workbookPr: `date1904="${flag}"`,
    });
    expect(cells['A1']).toEqual({ kind: 'serial', days: 44684, epochShiftDays: 1462 });
  });

  test('errors and formulas that were never worked out are not taken for empty cells', () => {
    expect(
      read(
        '<row r="1"><c r="A1" t="e"><f>1/0</f><v>#DIV/0!</v></c><c r="B1"><f>A1+1</f></c><c r="C1" t="str"><f>""</f><v></v></c></row>',
      ),
    ).toEqual({ A1: { kind: 'error', error: '#DIV/0!' }, B1: { kind: 'not-calculated' } });
  });

  test('rows and cells without addresses follow one another; a far address costs nothing', () => {
    expect(read('<row><c><v>1</v></c><c><v>2</v></c></row><row><c/><c><v>3</v></c></row>')).toEqual({
      A1: { kind: 'number', digits: '1' },
      B1: { kind: 'number', digits: '2' },
      B2: { kind: 'number', digits: '3' },
    });
    expect(read('<row r="1048576"><c r="XFD1048576" s="1"/><c r="A1048576"><v>1</v></c></row>')).toEqual({
      A1048576: { kind: 'number', digits: '1' },
    });
  });

  test('prefixed element names are the same elements', () => {
    const parts = workbookParts(plain).map((part) =>
      part.name.includes('sheet1')
        ? {
            ...part,
            data: String(part.data)
              .replace('xmlns=', 'xmlns:x=')
              .replace(/<(\/?)(\w)/g, '<$1x:$2'),
          }
        : part,
    );
    expect(cellsOf(readWorkbook(zipOf(parts), SHEET_LIMITS)[0])['B2']).toEqual({ kind: 'text', text: 'b' });
  });
});

describe('A workbook that cannot be read is refused with one reason', () => {
  const book = smallWorkbook(plain);
  const part = (name: string, change: object) =>
    zipOf(workbookParts(plain).map((p) => (p.name === name ? { ...p, ...change } : p)));
  const sheet = 'xl/worksheets/sheet1.xml';

  test.each([
    ['an empty file', Buffer.alloc(0), 'cannot-be-read: The file is empty.'],
    ['another file', Buffer.from('key,site\n'), 'cannot-be-read: The file is no .xlsx workbook.'],
    [
      'an old workbook',
      Buffer.from('d0cf11e0a1b11ae1', 'hex'),
      'cannot-be-read: The file is in the older .xls format, or a document of another kind.',
    ],
    [
      'a workbook with a password',
      Buffer.concat([Buffer.from('d0cf11e0a1b11ae1', 'hex'), Buffer.from('EncryptedPackage', 'utf16le')]),
      'cannot-be-read: The workbook is protected by a password.',
    ],
    [
      'an entry with a password',
      part('xl/workbook.xml', { flags: 1 }),
      'cannot-be-read: The workbook is protected by a password.',
    ],
    [
      'an OpenDocument file',
      zipOf([{ name: 'mimetype', data: 'application/vnd.oasis.opendocument.spreadsheet', method: 0 }]),
      'cannot-be-read: The file is an OpenDocument file.',
    ],
    [
      'a workbook that is cut off',
      book.subarray(0, book.length - 100),
      'cannot-be-read: The workbook is damaged or cut off: the list of its parts at the end is missing.',
    ],
    [
      'a ZIP file of something else',
      zipOf([{ name: 'a.txt', data: 'a' }]),
      'cannot-be-read: The file is no workbook: its part xl/workbook.xml is missing.',
    ],
    [
      'a part with another checksum',
      part(sheet, { statedCrc: 1 }),
      `cannot-be-read: The workbook is damaged or cut off: ${sheet} does not have the length or checksum that it should have.`,
    ],
    [
      'a part that grows beyond the size that it states',
      part(sheet, { data: ' '.repeat(1_000_000), statedBytes: 100 }),
      `cannot-be-read: The workbook is damaged or cut off: ${sheet} cannot be unpacked to the size that it states.`,
    ],
    [
      'a part in an unknown packing',
      part(sheet, { method: 14 }),
      `cannot-be-read: The workbook is damaged or cut off: ${sheet} is packed in an unknown way (14).`,
    ],
    [
      'a part twice',
      zipOf([...workbookParts(plain), { name: sheet.toUpperCase(), data: 'x' }]),
      'cannot-be-read: The workbook is damaged or cut off: it holds XL/WORKSHEETS/SHEET1.XML twice.',
    ],
    [
      'a sheet that ends in the middle',
      part(sheet, { data: '<worksheet><sheetData><row r="1"><c r="A1"><v>1' }),
      `cannot-be-read: The workbook is damaged: its part ${sheet} cannot be read, the element v is not closed.`,
    ],
    [
      'a document type, with which texts could be made to grow',
      part(sheet, { data: '<!DOCTYPE x [<!ENTITY a "aaaa">]><worksheet/>' }),
      `cannot-be-read: The workbook is damaged: its part ${sheet} cannot be read, it has a document type, which no workbook has.`,
    ],
    [
      'a shared text that is not there',
      part(sheet, {
        data: '<worksheet><sheetData><row r="4"><c r="A4" t="s"><v>7</v></c></row></sheetData></worksheet>',
      }),
      'cannot-be-read: The workbook is damaged: a cell in row 4 of sheet Jobs names a shared text 7 that is not there.',
    ],
  ])('%s', (_what, bytes, message) => {
    expect(refusal(bytes)).toBe(message);
  });

  test('what is too large is refused before it is unpacked', () => {
    expect(refusal(book, { ...SHEET_LIMITS, fileBytes: 100 })).toBe(
      `too-large: The workbook has ${book.length} bytes.`,
    );
    // A part that only states to be huge: nothing of that size is ever made.
    expect(refusal(part(sheet, { statedBytes: 4_000_000_000 }))).toBe(
      `too-large: The workbook would take more than ${SHEET_LIMITS.unpackedBytes} bytes unpacked.`,
    );
    expect(refusal(book, { ...SHEET_LIMITS, cells: 3 })).toBe(
      'too-large: The workbook has more than 3 cells that hold something.',
    );
    expect(refusal(book, { ...SHEET_LIMITS, rows: 1 })).toBe('too-large: The sheet Jobs has 2 rows.');
    expect(refusal(book, { ...SHEET_LIMITS, sheets: 0 })).toBe('too-large: The workbook has 1 sheets.');
  });

  test('cut anywhere, a workbook is refused and never read in part', () => {
    for (let length = 0; length < book.length; length += 7) {
      expect(refusal(book.subarray(0, length))).toMatch(/^cannot-be-read: /);
    }
  });

  test('with any byte changed, a workbook is refused or read, and nothing else happens', () => {
    for (let at = 0; at < book.length; at += 3) {
      const bytes = Buffer.from(book);
      bytes[at] = (bytes[at] as number) ^ 0x55;
      expect(refusal(bytes)).toMatch(/^(?:cannot-be-read: |too-large: |it was read$)/);
    }
  });
});
