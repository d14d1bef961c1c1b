import fs from 'node:fs';
import path from 'node:path';
import type { SeasonFile } from '../../../../libs/contracts/src/index.ts';
import {
  readSeasonCsvFolder,
  readSeasonWorkbook,
} from '../../../../libs/documents/src/season-sheets/read-season.ts';
import type { SheetFault } from '../../../../libs/documents/src/sheet-fault.ts';
import { checkSeasonFile, faultsBetweenRows, readSeasonFile } from '../../../../libs/intake/src/index.ts';
import { PlainError } from '../program/plain-error.ts';

/** One thing that is wrong, with the place where its author sees it. */
export interface ReadFault {
  readonly place: string;
  /** Table, number of the data row (from 1; 0: not about a row), column and value, as a program wants them. */
  readonly table: string;
  readonly row: number;
  readonly column: string;
  readonly value: unknown;
  readonly message: string;
  readonly expected: string;
}

export type SeasonReading =
  | { readonly ok: true; readonly file: SeasonFile }
  | { readonly ok: false; readonly faults: readonly ReadFault[] };

interface FaultFacts {
  readonly table: string;
  readonly row: number;
  readonly column: string;
  readonly value: unknown;
  readonly message: string;
  readonly expected: string;
}

/** The fault in the words of a JSON file: table, number of the row, column. */
export function faultInTables({ table, row, column, value, message, expected }: FaultFacts): ReadFault {
  const parts = [table, row > 0 ? `row ${row}` : '', column].filter((part) => part !== '');
  return { place: parts.join(', ') || 'the file', table, row, column, value, message, expected };
}

function faultInSheets(fault: SheetFault): ReadFault {
  const cell = fault.sheetRow > 0 ? `${fault.columnLetter}${fault.sheetRow}` : fault.columnLetter;
  const parts = [fault.sheet, cell].filter((part) => part !== '');
  const { table, row, column, value, message, expected } = fault;
  return { place: parts.join(' ') || 'the file', table, row, column, value, message, expected };
}

const WHOLE_FILE = { table: '', row: 0, column: '', value: null };

function readJson(file: string): SeasonReading {
  let content: unknown;
  try {
    content = JSON.parse(fs.readFileSync(file, 'utf8'));
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    const message = `This is not JSON: ${error.message}.`;
    return {
      ok: false,
      faults: [{ place: path.basename(file), ...WHOLE_FILE, message, expected: 'a season file' }],
    };
  }
  const result = readSeasonFile(content);
  return result.ok
    ? { ok: true, file: result.value }
    : { ok: false, faults: result.faults.map(faultInTables) };
}

function readFolder(folder: string): SeasonReading {
  const files = fs
    .readdirSync(folder)
    .filter((name) => name.toLowerCase().endsWith('.csv'))
    .map((name) => ({ name, bytes: fs.readFileSync(path.join(folder, name)) }));
  if (files.length === 0) throw new PlainError(`${folder} holds no CSV file`);
  return fromSheets(readSeasonCsvFolder(files));
}

function fromSheets(result: ReturnType<typeof readSeasonWorkbook>): SeasonReading {
  if (!result.ok) {
    const between = faultsBetweenRows(result.rows, result.faults).map(faultInTables);
    return { ok: false, faults: [...result.faults.map(faultInSheets), ...between] };
  }
  const faults = checkSeasonFile(result.seasonFile);
  return faults.length === 0
    ? { ok: true, file: result.seasonFile }
    : { ok: false, faults: faults.map(faultInTables) };
}

function readAny(source: string): SeasonReading {
  const stat = fs.statSync(source, { throwIfNoEntry: false });
  if (stat === undefined) throw new PlainError(`there is no file or folder ${source}`);
  if (stat.isDirectory()) return readFolder(source);
  if (/\.xlsx$/i.test(source)) return fromSheets(readSeasonWorkbook(fs.readFileSync(source)));
  if (/\.json$/i.test(source)) return readJson(source);
  throw new PlainError(`${source}: a season is a .json file, an .xlsx workbook or a folder of CSV files`);
}

/**
 * Reads a season from a .json file, an .xlsx workbook or a folder of CSV files and checks it: cells, references, and what
 * only shows between rows. Throws PlainError when there is nothing to read.
 */
export function readSeason(source: string): SeasonReading {
  return readAny(path.resolve(source));
}

/** The lines that tell faults to a person, the first `most` of them. */
export function faultLines(faults: readonly ReadFault[], most = 50): string[] {
  const lines = faults
    .slice(0, most)
    .map(({ place, message, expected }) => `${place}: ${message} Should be ${expected}.`);
  const more = faults.length - lines.length;
  return more > 0 ? [...lines, `and ${more} more`] : lines;
}

/** As `readSeason`, for commands that cannot go on with faults. */
export function readSoundSeason(source: string): SeasonFile {
  const reading = readSeason(source);
  if (reading.ok) return reading.file;
  const count = reading.faults.length === 1 ? 'one fault' : `${reading.faults.length} faults`;
  throw new PlainError(
    [
      `${source} has ${count}; mend ${count === 'one fault' ? 'it' : 'them'} and try again`,
      ...faultLines(reading.faults),
    ].join('\n'),
  );
}
