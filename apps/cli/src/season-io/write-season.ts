import fs from 'node:fs';
import path from 'node:path';
import type { SeasonFile } from '../../../../libs/contracts/src/index.ts';
import { writeSeasonCsvFolder } from '../../../../libs/documents/src/season-sheets/write-csv-folder.ts';
import { writeSeasonWorkbook } from '../../../../libs/documents/src/season-sheets/write-workbook.ts';
import { PlainError } from '../program/plain-error.ts';

/** Writes a file under its name only when it is complete; refuses a name that is taken. */
export function writeNewFile(target: string, content: string | Uint8Array): void {
  if (fs.existsSync(target)) throw new PlainError(`${target} exists already; choose another name`);
  const half = `${target}.part`;
  fs.writeFileSync(half, content);
  fs.renameSync(half, target);
}

/** Writes a season as .json, as .xlsx, or, for a name without an ending, as a new folder of CSV files. */
export async function writeSeason(season: SeasonFile, target: string): Promise<string[]> {
  const full = path.resolve(target);
  if (/\.json$/i.test(full)) {
    writeNewFile(full, `${JSON.stringify(season, null, 2)}\n`);
    return [full];
  }
  if (/\.xlsx$/i.test(full)) {
    writeNewFile(full, await writeSeasonWorkbook(season));
    return [full];
  }
  if (path.extname(full) !== '')
    throw new PlainError(`${target}: write a .json file, an .xlsx workbook or a folder of CSV files`);
  if (fs.existsSync(full)) throw new PlainError(`${full} exists already; choose another name`);
  const half = `${full}.part`;
  fs.rmSync(half, { recursive: true, force: true });
  fs.mkdirSync(half, { recursive: true });
  const files = writeSeasonCsvFolder(season);
  for (const { name, bytes } of files) fs.writeFileSync(path.join(half, name), bytes);
  fs.renameSync(half, full);
  return files.map(({ name }) => path.join(full, name));
}
