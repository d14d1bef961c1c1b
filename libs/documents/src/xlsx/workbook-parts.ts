/** Where the sheets of a workbook are, and which days its dates are counted from. */
import { UnreadableSheet } from '../sheet-fault.ts';
import { readXml } from './read-xml.ts';
import { decodeXlsxText } from './xlsx-text.ts';
import type { ZipPackage } from './zip-package.ts';

export interface WorkbookParts {
  readonly sheets: readonly { readonly name: string; readonly part: string }[];
  readonly sharedStrings: string | null;
  readonly styles: string | null;
  /** Days of the 1900 system that a date of this workbook is behind: 0, or 1462 in the 1904 system. */
  readonly epochShiftDays: number;
}

interface Relation {
  readonly id: string;
  /** Last word of the relation's type, the same in the transitional and the strict form of ECMA-376. */
  readonly type: string;
  readonly part: string;
}

const DAYS_1904 = 1462;

export function workbookParts(zip: ZipPackage): WorkbookParts {
  const main =
    relationsOf(zip, '').find((relation) => relation.type === 'officeDocument')?.part ?? 'xl/workbook.xml';
  const relations = relationsOf(zip, main);
  const sheets: { name: string; part: string }[] = [];
  let epochShiftDays = 0;
  readXml(partBytes(zip, main), main, {
    open: (name, attribute) => {
      if (name === 'workbookPr' && /^(?:1|true|on)$/.test(attribute('date1904') ?? ''))
        epochShiftDays = DAYS_1904;
      if (name !== 'sheet') return;
      const relation = relations.find((candidate) => candidate.id === attribute('id'));
      // Sheets of another kind, such as a chart alone, hold no cells.
      if (relation?.type === 'worksheet')
        sheets.push({ name: decodeXlsxText(attribute('name') ?? ''), part: relation.part });
    },
  });
  const partOf = (type: string): string | null =>
    relations.find((relation) => relation.type === type)?.part ?? null;
  return { sheets, sharedStrings: partOf('sharedStrings'), styles: partOf('styles'), epochShiftDays };
}

/** The bytes of a part that must be there. */
export function partBytes(zip: ZipPackage, part: string): Uint8Array {
  const bytes = zip.read(part);
  if (bytes) return bytes;
  const message = `The file is no workbook: its part ${part} is missing.`;
  throw new UnreadableSheet('cannot-be-read', message, 'an .xlsx workbook');
}

function relationsOf(zip: ZipPackage, part: string): Relation[] {
  const slash = part.lastIndexOf('/');
  const folder = part.slice(0, slash + 1);
  const file = `${folder}_rels/${part.slice(slash + 1)}.rels`;
  const bytes = zip.read(file);
  const relations: Relation[] = [];
  if (!bytes) return relations;
  readXml(bytes, file, {
    open: (name, attribute) => {
      if (name !== 'Relationship') return;
      relations.push({
        id: attribute('Id') ?? '',
        type: (attribute('Type') ?? '').split('/').at(-1) ?? '',
        part: resolve(folder, attribute('Target') ?? ''),
      });
    },
  });
  return relations;
}

function resolve(folder: string, target: string): string {
  const segments: string[] = [];
  for (const segment of (target.startsWith('/') ? target : folder + target).split('/')) {
    if (segment === '..') segments.pop();
    else if (segment !== '.' && segment !== '') segments.push(segment);
  }
  return segments.join('/');
}
