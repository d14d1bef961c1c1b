/** The first sheet of a season workbook: what it is, how to fill it in, and what each column means. Readers skip it. */
import {
  columnsOf,
  type NamedColumn,
  type SeasonTable,
  seasonHeadTable,
  seasonTable,
  seasonTableNames,
} from '../../../contracts/src/season-file/index.ts';

export const READ_ME_SHEET = 'Read me';

const DEMO_NOTICE = 'All firms, people and sites in this workbook are invented.';

const HOW_TO: readonly string[] = [
  'This workbook holds one season: one sheet a table. This sheet is not read.',
  'Row 1 of each sheet holds the names of the columns. Keep them; the order of columns and rows does not matter.',
  'Each row has a short key of your choice. Other sheets refer to it by that key, written the same way.',
  'Leave a cell empty when there is nothing to say. Columns marked "needed" must be filled in each row.',
  'Dates: a date cell, or year-month-day such as 2026-05-04. Times: 08:00. Amounts: whole cents.',
  'Yes or no: yes, no, true, false, 1 or 0. Codes with leading zeros: format the cells as text first.',
  'Do not merge cells. Formulas count with the value that they show when the workbook is saved.',
  'Its figures are planning aids. Lifting, wind, electricity, work at height and driving hours are decided by licensed or competent people under local law.',
];

export interface ReadMeRow {
  readonly cells: readonly string[];
  readonly isHeading: boolean;
}

/** The rows of the sheet; the notice that all is invented stands first where the season says so. */
export function readMeRows(isDemo: boolean): ReadMeRow[] {
  const plain = (...cells: string[]): ReadMeRow => ({ cells, isHeading: false });
  const heading = (...cells: string[]): ReadMeRow => ({ cells, isHeading: true });
  const rows = isDemo ? [heading(DEMO_NOTICE), plain()] : [];
  rows.push(heading('How to fill in'), ...HOW_TO.map((line) => plain(line)), plain());
  rows.push(heading('Sheet', 'Column', 'Needed', 'Meaning', 'What is right'));
  for (const table of [seasonHeadTable as unknown as SeasonTable, ...seasonTableNames.map(seasonTable)]) {
    rows.push(plain(table.sheet, '', '', table.about, ''));
    for (const column of columnsOf(table))
      rows.push(plain(table.sheet, column.name, needed(column), column.description, column.expected));
  }
  return rows;
}

function needed(column: NamedColumn): string {
  return column.required ? 'needed' : '';
}
