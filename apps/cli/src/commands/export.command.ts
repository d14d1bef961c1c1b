import type { Database } from '../../../../libs/data/src/database.ts';
import type { Organisation } from '../../../../libs/data/src/organisation.repository.ts';
import { listSeasons, type SeasonInfo } from '../../../../libs/data/src/season.repository.ts';
import { exportSeason } from '../../../../libs/data/src/season-export.repository.ts';
import { PlainError } from '../program/plain-error.ts';
import { writeSeason } from '../season-io/write-season.ts';
import { type Command, onePositional, optionalText } from './command.ts';
import { ORGANISATION_HELP, ORGANISATION_OPTION, withOrganisation } from './with-organisation.ts';

/** The season with the key, or the only one. Throws PlainError naming those there are. */
export async function chooseSeason(
  db: Database,
  { id }: Organisation,
  key: string | undefined,
): Promise<SeasonInfo> {
  const seasons = await listSeasons(db, id);
  const known = seasons.map(({ head }) => head.key).join(', ');
  if (seasons.length === 0) throw new PlainError('there is no season yet. Read one in with import.');
  if (key === undefined && seasons.length > 1)
    throw new PlainError(`there are several seasons. Pass --season with one of: ${known}`);
  const found = seasons.find(({ head }) => key === undefined || head.key === key);
  if (found === undefined) throw new PlainError(`there is no season "${key}". Known: ${known}`);
  return found;
}

export const exportCommand: Command = {
  name: 'export',
  summary: 'Write a season of the database as a season file.',
  usage: '<season.json | season.xlsx | new folder for CSV>',
  help: ['  --season <key>        only needed when there are several', ORGANISATION_HELP],
  options: { season: { type: 'string' }, ...ORGANISATION_OPTION },
  async run(input) {
    const target = onePositional(input, 'target');
    const season = await withOrganisation(input, { create: false }, async (db, organisation) => {
      const { head } = await chooseSeason(db, organisation, optionalText(input, 'season'));
      return exportSeason(db, organisation.id, head.key);
    });
    const files = await writeSeason(season, target);
    return { facts: { season: season.season.key, files }, lines: files.map((file) => `wrote ${file}`) };
  },
};
