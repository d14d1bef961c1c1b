import fs from 'node:fs';
import path from 'node:path';
import { type SeasonFile, validateSeasonFile } from '../../../../libs/contracts/src/index.ts';
import { BadInput, type InputFault } from './bad-input.ts';
import { readNamedBytes, readNamedJson, statNamed } from './read-named-file.ts';

const MOST_BYTES = 100_000_000;

/**
 * Reads a season from a season file (JSON), a workbook (.xlsx) or a folder of CSV files. Throws BadInput with every fault in cells,
 * keys and references, PlainError when there is nothing to read.
 */
export async function readSeason(source: string): Promise<SeasonFile> {
  const stats = statNamed(source, 'season file');
  if (stats.isDirectory()) return readFolder(source);
  if (/\.xlsx$/i.test(source)) return readWorkbook(source);
  const value = readNamedJson(source, 'season file', MOST_BYTES);
  if ((value as { format?: unknown } | null)?.format === 'dryspell-plan')
    throw new BadInput(`${source} is a plan file, not a season file. Name the season first.`);
  const result = validateSeasonFile(value);
  if (!result.ok) throw faultsOf(source, result.faults);
  return result.value;
}

/** A season file with faults, counted and named. */
export function faultsOf(source: string, faults: readonly InputFault[]): BadInput {
  const count = faults.length === 1 ? 'one fault' : `${faults.length} faults`;
  return new BadInput(`${source} has ${count}; nothing was planned. Mend the rows and run it again.`, faults);
}

async function readWorkbook(source: string): Promise<SeasonFile> {
  const { readSeasonWorkbook } = await import('../../../../libs/documents/src/season-sheets/read-season.ts');
  const result = readSeasonWorkbook(readNamedBytes(source, 'workbook', MOST_BYTES));
  if (!result.ok) throw faultsOf(source, result.faults);
  return result.seasonFile;
}

async function readFolder(source: string): Promise<SeasonFile> {
  const names = fs.readdirSync(source).filter((name) => /\.csv$/i.test(name));
  if (names.length === 0)
    throw new BadInput(
      `${source} is a folder without CSV files. Name a season file, or the folder of its tables.`,
    );
  const { readSeasonCsvFolder } = await import('../../../../libs/documents/src/season-sheets/read-season.ts');
  const files = names
    .sort()
    .map((name) => ({ name, bytes: readNamedBytes(path.join(source, name), 'table', MOST_BYTES) }));
  const result = readSeasonCsvFolder(files);
  if (!result.ok) throw faultsOf(source, result.faults);
  return result.seasonFile;
}
