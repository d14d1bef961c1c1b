import path from 'node:path';
import type { SeasonFile } from '../../../../libs/contracts/src/index.ts';
import { type PlanFile, toPlanFile } from '../../../../libs/contracts/src/plan-file.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import type { Organisation } from '../../../../libs/data/src/organisation.repository.ts';
import { getPlan, listPlans } from '../../../../libs/data/src/plan.repository.ts';
import { listSeasons, type SeasonInfo } from '../../../../libs/data/src/season.repository.ts';
import { exportSeason } from '../../../../libs/data/src/season-export.repository.ts';
import { buildSeasonProblem } from '../../../../libs/intake/src/index.ts';
import { PlainError } from '../program/plain-error.ts';
import { writeNewFile, writeSeason } from '../season-io/write-season.ts';
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

/** The newest draft of a season as a plan file, else its published plan. Throws PlainError when there is neither. */
async function planOf(db: Database, { id, head }: SeasonInfo, file: SeasonFile): Promise<PlanFile> {
  const plans = await listPlans(db, id);
  const info =
    plans.find((plan) => plan.status === 'draft') ?? plans.find((plan) => plan.status === 'published');
  if (info === undefined) throw new PlainError(`the season ${head.key} has no plan yet. Make one with plan.`);
  const { content } = await getPlan(db, id, info.id);
  const { problem } = buildSeasonProblem(file, { today: new Date().toISOString().slice(0, 10) });
  return toPlanFile(content, problem);
}

export const exportCommand: Command = {
  name: 'export',
  summary: 'Write a season of the database as a season file.',
  usage: '<season.json | season.xlsx | new folder for CSV>',
  help: [
    '  --season <key>        only needed when there are several',
    '  --plan <plan.json>    write its newest draft plan too, else the published one, as a plan file. Publishing writes',
    '                        dates into the season: a plan that was published is for reading, not for check.',
    ORGANISATION_HELP,
  ],
  options: { season: { type: 'string' }, plan: { type: 'string' }, ...ORGANISATION_OPTION },
  async run(input) {
    const target = onePositional(input, 'target');
    const planTarget = optionalText(input, 'plan');
    const { season, plan } = await withOrganisation(input, { create: false }, async (db, organisation) => {
      const info = await chooseSeason(db, organisation, optionalText(input, 'season'));
      const file = await exportSeason(db, organisation.id, info.head.key);
      return { season: file, plan: planTarget === undefined ? null : await planOf(db, info, file) };
    });
    const files = await writeSeason(season, target);
    if (planTarget !== undefined) {
      const full = path.resolve(planTarget);
      writeNewFile(full, `${JSON.stringify(plan, null, 2)}\n`);
      files.push(full);
    }
    return { facts: { season: season.season.key, files }, lines: files.map((file) => `wrote ${file}`) };
  },
};
