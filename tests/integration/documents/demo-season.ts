import fs from 'node:fs';
import { type SeasonFile, validateSeasonFile } from '../../../libs/contracts/src/season-file/index.ts';

/** The invented demo seasons that come with the program. */
export function demoSeasons(): SeasonFile[] {
  const folder = new URL('../../../prisma/demo/', import.meta.url);
  const names = fs.readdirSync(folder).filter((name) => name.endsWith('.json'));
  return names.sort().map((name) => {
    const result = validateSeasonFile(JSON.parse(fs.readFileSync(new URL(name, folder), 'utf8')));
    if (!result.ok) throw new Error(`${name}: ${result.faults[0]?.message}`);
    return result.value;
  });
}
