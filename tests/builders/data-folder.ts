import fs from 'node:fs';
import path from 'node:path';

/**
 * The folder of open data that some checks can use when it is there: `DRYSPELL_DATA`, else a `shared/data` folder beside one of the
 * folders above this file. Null when there is none; the caller must then say aloud that nothing was checked.
 */
export function dataFolder(): string | null {
  const named = process.env.DRYSPELL_DATA;
  if (named) return fs.existsSync(named) ? named : null;
  for (let folder = import.meta.dirname; path.dirname(folder) !== folder; folder = path.dirname(folder)) {
    const candidate = path.join(folder, 'shared', 'data');
    if (fs.existsSync(candidate)) return candidate;
  }
  return null;
}

/** The text of a file of the data folder, or null, saying aloud that the check is left out. */
export function dataFileText(...parts: string[]): string | null {
  const folder = dataFolder();
  const file = folder && path.join(folder, ...parts);
  if (file && fs.existsSync(file)) return fs.readFileSync(file, 'utf8');
  process.stderr.write(
    `not checked: ${path.join(...parts)} is not here (set DRYSPELL_DATA to the folder of open data)\n`,
  );
  return null;
}
