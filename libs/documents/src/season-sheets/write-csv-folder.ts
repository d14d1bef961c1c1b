import { stringify } from 'csv-stringify/sync';
import {
  columnsOf,
  type NamedColumn,
  type SeasonFile,
  type SeasonTable,
  seasonHeadTable,
  seasonTable,
  seasonTableNames,
} from '../../../contracts/src/season-file/index.ts';
import { guardFormula } from '../csv/formula-guard.ts';
import type { CsvFile } from './read-season.ts';

/**
 * The season as CSV files (RFC 4180, UTF-8 with a byte order mark), one a table, named by it. A text that a spreadsheet
 * program would take for a formula gets an apostrophe in front; `readSeasonCsvFolder` takes it off and gives the same
 * season back.
 */
export function writeSeasonCsvFolder(seasonFile: SeasonFile): CsvFile[] {
  return [
    csvOf(seasonHeadTable as unknown as SeasonTable, [seasonFile.season]),
    ...seasonTableNames.map((name) => csvOf(seasonTable(name), seasonFile[name])),
  ];
}

function csvOf(table: SeasonTable, rows: readonly object[]): CsvFile {
  const columns = columnsOf(table);
  const records = rows.map((row) =>
    columns.map((column) => cellOf((row as Record<string, unknown>)[column.name], column)),
  );
  const text = stringify([columns.map((column) => column.name), ...records], {
    bom: true,
    record_delimiter: '\r\n',
    quoted_match: /[\r\n;\t]|^\s|\s$/,
  });
  return { name: `${table.name}.csv`, bytes: new TextEncoder().encode(text) };
}

function cellOf(value: unknown, column: NamedColumn): string {
  if (value === null || value === undefined) return '';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'number') return String(value);
  return column.kind === 'text' ? guardFormula(String(value)) : String(value);
}
