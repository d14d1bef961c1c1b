/** A whole season file from the sheets of a workbook or a folder of CSV files. */
import {
  type Fault,
  type SeasonFile,
  type SeasonTable,
  seasonFileFormat,
  seasonFileVersion,
  seasonHeadTable,
  seasonTable,
  seasonTableNames,
  validateSeasonFile,
} from '../../../contracts/src/season-file/index.ts';
import { readCsv } from '../csv/read-csv.ts';
import type { RawTable } from '../raw-table.ts';
import { type SheetFault, UnreadableSheet, wholeSheetFault } from '../sheet-fault.ts';
import { SHEET_LIMITS, type SheetLimits } from '../sheet-limits.ts';
import { readWorkbook } from '../xlsx/read-workbook.ts';
import { didYouMean } from './did-you-mean.ts';
import { READ_ME_SHEET } from './read-me-sheet.ts';
import { readTable, type TableReading } from './read-table.ts';

export type SeasonSheetsResult =
  | { readonly ok: true; readonly seasonFile: SeasonFile }
  | {
      readonly ok: false;
      readonly faults: readonly SheetFault[];
      /** The rows that were read, in the form of a season file, for checks of another kind; null when some are missing. */
      readonly rows: unknown;
    };

export interface CsvFile {
  /** Name of the file with or without folders; its last part without the ending names the table. */
  readonly name: string;
  readonly bytes: Uint8Array;
}

const head = seasonHeadTable as unknown as SeasonTable;
const ALL_TABLES: readonly SeasonTable[] = [head, ...seasonTableNames.map(seasonTable)];

/**
 * Reads the season in an .xlsx workbook, one sheet a table, named by the table's title or name. Formulas count with
 * their last value. Answers with the season, or with every fault at once, each with sheet, row and column as the
 * spreadsheet program shows them.
 */
export function readSeasonWorkbook(
  bytes: Uint8Array,
  limits: SheetLimits = SHEET_LIMITS,
): SeasonSheetsResult {
  try {
    return readSeason(readWorkbook(bytes, limits).filter((table) => !isReadMe(table.name)));
  } catch (error) {
    return refused(error);
  }
}

/**
 * Reads the season in CSV files, one a table, each named by its table (`jobs.csv`). A file that cannot be read is a
 * fault beside the faults of the others.
 */
export function readSeasonCsvFolder(
  files: readonly CsvFile[],
  limits: SheetLimits = SHEET_LIMITS,
): SeasonSheetsResult {
  const totalBytes = files.reduce((sum, file) => sum + file.bytes.length, 0);
  if (totalBytes > limits.fileBytes || files.length > limits.sheets) {
    const message = `There are ${files.length} files with ${totalBytes} bytes.`;
    const expected = `at most ${limits.sheets} files with ${limits.fileBytes} bytes together`;
    return refused(new UnreadableSheet('too-large', message, expected));
  }
  const tables: RawTable[] = [];
  const lost: SheetFault[] = [];
  for (const file of files) {
    if (isReadMe(fileStem(file.name))) continue;
    try {
      tables.push(readCsv(file.name, file.bytes, limits));
    } catch (error) {
      lost.push(faultOf(error));
    }
  }
  return readSeason(tables, lost);
}

function refused(error: unknown): SeasonSheetsResult {
  return { ok: false, faults: [faultOf(error)], rows: null };
}

function faultOf(error: unknown): SheetFault {
  if (error instanceof UnreadableSheet) return error.fault;
  throw error;
}

/** `lost` are the faults of files that could not be read: what would stand in them is no fault of its own. */
function readSeason(raws: readonly RawTable[], lost: readonly SheetFault[] = []): SeasonSheetsResult {
  const faults: SheetFault[] = [...lost];
  const readings = new Map<string, TableReading>();
  for (const raw of raws) {
    const table = tableNamed(raw);
    if (!table) faults.push(unknownSheet(raw));
    else if (readings.has(table.name)) {
      const other = readings.get(table.name)?.sheet;
      const message = `${raw.name} is the same table as ${other}.`;
      faults.push(wholeSheetFault(raw.name, 'duplicate-sheet', message, `one sheet for "${table.name}"`));
    } else readings.set(table.name, readTable(raw, table));
  }
  for (const reading of readings.values()) faults.push(...reading.faults);
  const seasonRows = readings.get(head.name)?.rows ?? [];
  if (seasonRows.length > 1) {
    const { sheet, sheetRows } = readings.get(head.name) as TableReading;
    const message = `${sheet} has ${seasonRows.length} rows about the season.`;
    faults.push(wholeSheetFault(sheet, 'not-a-season-file', message, 'one row', sheetRows[1]));
  }
  const file: Record<string, unknown> = {
    format: seasonFileFormat,
    formatVersion: seasonFileVersion,
    season: seasonRows[0],
  };
  for (const name of seasonTableNames) file[name] = readings.get(name)?.rows ?? [];
  const checked = validateSeasonFile(file);
  if (checked.ok && faults.length === 0) return { ok: true, seasonFile: checked.value };
  if (!checked.ok) {
    const told =
      lost.length === 0 ? checked.faults : checked.faults.filter((fault) => !mayFollowFrom(lost, fault));
    faults.push(...told.flatMap((fault) => placed(fault, readings, faults)));
  }
  const isWhole = !faults.some(({ table }) => table === '');
  return { ok: false, faults, rows: isWhole ? file : null };
}

/** A table that could not be read is empty here, so all that refers to it would dangle, and a season would be missing. */
function mayFollowFrom(lost: readonly SheetFault[], fault: Fault): boolean {
  if (fault.code === 'dangling-reference') return true;
  return lost.some(
    ({ sheet }) => fileStem(sheet).toLowerCase() === fault.table.toLowerCase() && fault.row === 0,
  );
}

/** A fault of the season file at its place in the sheets; none where the sheet's own fault says it already. */
function placed(
  fault: Fault,
  readings: ReadonlyMap<string, TableReading>,
  said: readonly SheetFault[],
): SheetFault[] {
  const reading = readings.get(fault.table);
  if (!reading) {
    const table = ALL_TABLES.find((candidate) => candidate.name === fault.table);
    const sheet = table?.sheet ?? '';
    const message = table === head ? `The sheet "${sheet}" with its one row is missing.` : fault.message;
    return [{ ...fault, message, sheet, sheetRow: 0, columnLetter: '' }];
  }
  if (reading.missingColumns.has(fault.column) && fault.code === 'missing-value') return [];
  if (fault.table === head.name && fault.row === 0 && reading.missingColumns.size > 0) return [];
  const isSaid = said.some(
    (other) =>
      other.table === fault.table &&
      other.row === fault.row &&
      other.row > 0 &&
      other.column === fault.column,
  );
  if (isSaid) return [];
  return [
    {
      ...fault,
      message: withSheetRows(fault, reading.sheetRows),
      sheet: reading.sheet,
      sheetRow: reading.sheetRows[fault.row - 1] ?? 0,
      columnLetter: reading.letters.get(fault.column) ?? '',
    },
  ];
}

/** Two kinds of faults name another row of the table in their words, by its number among the data rows. */
function withSheetRows(fault: Fault, sheetRows: readonly number[]): string {
  if (fault.code !== 'duplicate-key' && fault.code !== 'overlap') return fault.message;
  const inSheet = (number: string): string => String(sheetRows[Number(number) - 1] ?? number);
  return fault.message
    .replace(
      /\b(rows) (\d+) and (\d+)\b/g,
      (_, word: string, a: string, b: string) => `${word} ${inSheet(a)} and ${inSheet(b)}`,
    )
    .replace(/\b([Rr]ow) (\d+)\b/g, (_, word: string, number: string) => `${word} ${inSheet(number)}`);
}

function tableNamed(raw: RawTable): SeasonTable | undefined {
  const wanted = (raw.from === 'csv' ? fileStem(raw.name) : raw.name).trim().toLowerCase();
  return ALL_TABLES.find(
    (table) => table.sheet.toLowerCase() === wanted || table.name.toLowerCase() === wanted,
  );
}

function unknownSheet(raw: RawTable): SheetFault {
  const isCsv = raw.from === 'csv';
  const known = ALL_TABLES.map((table) => (isCsv ? table.name : table.sheet));
  const near = didYouMean(isCsv ? fileStem(raw.name) : raw.name, known);
  const shown = (name: string): string => (isCsv ? `${name}.csv` : `"${name}"`);
  const message = `${isCsv ? 'The file' : 'The sheet'} ${raw.name} is no table of a season. ${near ? `Did you mean ${shown(near)}?` : ''}`;
  const expected = near ? shown(near) : `one of ${known.map(shown).join(', ')}`;
  return wholeSheetFault(raw.name, 'unknown-sheet', message.trim(), expected);
}

function isReadMe(name: string): boolean {
  return (
    name
      .trim()
      .toLowerCase()
      .replace(/[\s_-]/g, '') === READ_ME_SHEET.toLowerCase().replace(' ', '')
  );
}

/** `folder/Jobs.csv` -> `Jobs`. */
function fileStem(name: string): string {
  return (name.split(/[/\\]/).at(-1) as string).replace(/\.(?:csv|tsv|txt)$/i, '');
}
