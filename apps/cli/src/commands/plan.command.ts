import path from 'node:path';
import { systemActor } from '../../../../libs/data/src/actor.ts';
import { createDraftPlan } from '../../../../libs/data/src/plan.repository.ts';
import { exportSeason } from '../../../../libs/data/src/season-export.repository.ts';
import { seasonWindows } from '../../../../libs/data/src/weather/season-windows.ts';
import {
  computeWindow,
  WINDOW_KIND,
  windowNeeds,
  windowTablesOf,
} from '../../../../libs/intake/src/index.ts';
import { instantFromMs } from '../../../../libs/kernel/src/index.ts';
import { plannedAnswer, refusedAnswer } from '../plan/plan-answer.ts';
import { type Planned, searchOf } from '../plan/search-plan.ts';
import { badInputAnswer } from '../season-input/bad-input.ts';
import { requirePlanTarget, writeWholeFile } from '../season-input/plan-target.ts';
import {
  buildSeason,
  type NamedSeason,
  openSeason,
  SEASON_HELP,
  SEASON_OPTIONS,
} from '../season-input/season-problem.ts';
import { type Command, type CommandInput, optionalText, UsageError } from './command.ts';
import { chooseSeason } from './export.command.ts';
import { ORGANISATION_HELP, ORGANISATION_OPTION, withOrganisation } from './with-organisation.ts';

const EXIT_BAD_INPUT = 1;
const EXIT_REFUSED = 2;

export const planCommand: Command = {
  name: 'plan',
  summary: 'Plan a season file, without a database; or a season of the database as a new draft.',
  usage: '[season.json | season.xlsx | folder of CSV]',
  help: [
    '  Without a file, a season of the database is planned and the plan kept as a draft.',
    '',
    '  --out <plan.json>     write the plan file; a plan file of that name is replaced',
    '  --seconds <n>         time to search (default: 20); Ctrl-C ends it sooner and keeps the best plan so far',
    '  --iterations <n>      tries instead of time: the same season, seed and tries give the same plan anywhere',
    '  --seed <n>            start of the random numbers (default: 1)',
    '  --threads <n>         threads (default: the cores less one; more than 4 do nothing)',
    ...SEASON_HELP,
    '  --season <key>        without a file: which season',
    ORGANISATION_HELP,
    '',
    '  Exit code: 0 planned, 1 the input cannot be used, 2 pins and frozen days clash (or wrong arguments).',
    '',
  ],
  options: {
    out: { type: 'string' },
    seconds: { type: 'string' },
    iterations: { type: 'string' },
    seed: { type: 'string' },
    threads: { type: 'string' },
    season: { type: 'string' },
    ...SEASON_OPTIONS,
    ...ORGANISATION_OPTION,
  },
  async run(input) {
    const [source, ...rest] = input.positionals;
    if (rest.length > 0) throw new UsageError('one season at a time');
    const out = optionalText(input, 'out');
    const search = searchOf(input);
    try {
      if (out !== undefined) requirePlanTarget(out);
      const { season, planned } =
        source === undefined ? await planStored(input, search) : await planFile(source, input, search);
      if (planned.outcome.kind === 'refused') return refusedAnswer(season, planned.outcome, EXIT_REFUSED);
      const answer = plannedAnswer(season, planned.outcome.plan, { ...planned, out: out ?? null });
      if (out !== undefined) writeWholeFile(out, `${JSON.stringify(answer.facts.plan, null, 2)}\n`);
      return answer;
    } catch (error) {
      return badInputAnswer(error, EXIT_BAD_INPUT);
    }
  },
};

type Search = ReturnType<typeof searchOf>;
interface PlannedSeason {
  readonly season: NamedSeason;
  readonly planned: Planned;
}

async function planFile(source: string, input: CommandInput, search: Search): Promise<PlannedSeason> {
  const season = await openSeason(path.resolve(source), input);
  return { season, planned: await search(season.problem) };
}

async function planStored(input: CommandInput, search: Search): Promise<PlannedSeason> {
  if (Array.isArray(input.values['weather']) && input.values['weather'].length > 0) {
    throw new UsageError(
      '--weather goes with a season file; for a season of the database put the months into it (weather-months) and import',
    );
  }
  if (Array.isArray(input.values['record']) && input.values['record'].length > 0) {
    throw new UsageError(
      '--record goes with a season file; for a season of the database read the file in with "weather import"',
    );
  }
  return withOrganisation(input, { create: false }, async (db, organisation) => {
    const { id, head } = await chooseSeason(db, organisation, optionalText(input, 'season'));
    const file = await exportSeason(db, organisation.id, head.key);
    const windows = await seasonWindows(db, {
      organisationId: organisation.id,
      seasonId: id,
      kind: WINDOW_KIND,
      needsOf: (recordOfSite) => windowNeeds(file, { recordOfSite }),
      compute: ({ content }, record) => computeWindow(content, record),
      now: instantFromMs(Date.now()),
      onCompute: (left) => input.say(`counting dry windows from hourly records: ${left} left`),
    });
    const season = buildSeason(file, head.key, input, windowTablesOf(windows));
    const planned = await search(season.problem);
    if (planned.outcome.kind === 'plan') {
      const { plan } = planned.outcome;
      const draft = await createDraftPlan(db, { seasonId: id, plan, actor: systemActor('dryspell plan') });
      input.say(`kept as draft ${draft.number} of ${head.key}`);
    }
    return { season, planned };
  });
}
