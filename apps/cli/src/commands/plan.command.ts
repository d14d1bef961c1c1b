import path from 'node:path';
import type { SeasonFile } from '../../../../libs/contracts/src/index.ts';
import { systemActor } from '../../../../libs/data/src/actor.ts';
import { createDraftPlan } from '../../../../libs/data/src/plan.repository.ts';
import { exportSeason } from '../../../../libs/data/src/season-export.repository.ts';
import { formatCents } from '../../../../libs/kernel/src/index.ts';
import { type PlannedSeason, planSeasonFile } from '../plan/plan-season-file.ts';
import { costTable, planTable } from '../plan/plan-table.ts';
import { readSoundSeason } from '../season-io/read-season.ts';
import { writeNewFile } from '../season-io/write-season.ts';
import { type Command, type CommandInput, optionalText, UsageError, wholeNumber } from './command.ts';
import { chooseSeason } from './export.command.ts';
import { ORGANISATION_HELP, ORGANISATION_OPTION, withOrganisation } from './with-organisation.ts';

const SAY_EVERY_MS = 2_000;

interface Budget {
  readonly seed: number;
  readonly iterations?: number;
  readonly seconds?: number;
  readonly today: string;
}

function readBudget(input: CommandInput): Budget {
  const iterations = wholeNumber(input, 'iterations', { min: 1, max: 1_000_000_000, fallback: 0 });
  const seconds = wholeNumber(input, 'seconds', { min: 1, max: 86_400, fallback: iterations === 0 ? 20 : 0 });
  const seed = wholeNumber(input, 'seed', { min: 0, max: Number.MAX_SAFE_INTEGER, fallback: 1 });
  const today = optionalText(input, 'today') ?? new Date().toISOString().slice(0, 10);
  if (!/^\d{4}-\d{2}-\d{2}$/.test(today))
    throw new UsageError(`--today is a date such as 2027-04-12; got "${today}"`);
  return { seed, today, ...(iterations === 0 ? {} : { iterations }), ...(seconds === 0 ? {} : { seconds }) };
}

async function plan(
  input: CommandInput,
  { today, ...budget }: Budget,
  file: SeasonFile,
): Promise<PlannedSeason> {
  const aborting = new AbortController();
  const stop = (): void => {
    input.say('stopping; the best plan so far is kept');
    aborting.abort();
  };
  process.once('SIGINT', stop);
  let saidAtMs = performance.now();
  try {
    return await planSeasonFile(file, today, {
      ...budget,
      signal: aborting.signal,
      onProgress: ({ fraction, bestCents }) => {
        if (performance.now() - saidAtMs < SAY_EVERY_MS) return;
        saidAtMs = performance.now();
        input.say(
          `${Math.round(fraction * 100)} %, best so far ${formatCents(bestCents, file.season.currency)}`,
        );
      },
    });
  } finally {
    process.removeListener('SIGINT', stop);
  }
}

async function planStored(input: CommandInput, budget: Budget): Promise<PlannedSeason> {
  return withOrganisation(input, { create: false }, async (db, organisation) => {
    const season = await chooseSeason(db, organisation, optionalText(input, 'season'));
    const planned = await plan(input, budget, await exportSeason(db, organisation.id, season.head.key));
    const draft = await createDraftPlan(db, {
      seasonId: season.id,
      plan: planned.plan,
      actor: systemActor('dryspell plan'),
    });
    input.say(`kept as draft ${draft.number} of ${season.head.key}`);
    return planned;
  });
}

export const planCommand: Command = {
  name: 'plan',
  summary: 'Plan a season file, or a season of the database as a new draft.',
  usage: '[season.json | season.xlsx | folder of CSV]',
  help: [
    '  Without a file, a season of the database is planned and the plan kept as a draft. Ctrl-C keeps the best so far.',
    '',
    '  --seconds <n>         time to search (default: 20 when --iterations is not given)',
    '  --iterations <n>      steps to search; the same seed and steps give the same plan',
    '  --seed <n>            start of the random numbers (default: 1)',
    '  --today <date>        the day that the plan is made on (default: today)',
    '  --out <plan.json>     write the plan file',
    '  --season <key>        without a file: which season',
    ORGANISATION_HELP,
  ],
  options: {
    seconds: { type: 'string' },
    iterations: { type: 'string' },
    seed: { type: 'string' },
    today: { type: 'string' },
    out: { type: 'string' },
    season: { type: 'string' },
    ...ORGANISATION_OPTION,
  },
  async run(input) {
    const [source, ...rest] = input.positionals;
    if (rest.length > 0) throw new UsageError('one season at a time');
    const budget = readBudget(input);
    const planned =
      source === undefined
        ? await planStored(input, budget)
        : await plan(input, budget, readSoundSeason(source));
    const { planFile, warnings, firstComeCents } = planned;
    const out = optionalText(input, 'out');
    if (out !== undefined) writeNewFile(path.resolve(out), `${JSON.stringify(planFile, null, 2)}\n`);
    const yardstick =
      firstComeCents === null
        ? []
        : [`first come, first served would cost ${formatCents(firstComeCents, planFile.currency)}`];
    return {
      facts: { plan: planFile, warnings, firstComeCents },
      lines: [
        ...planTable(planFile),
        '',
        ...costTable(planFile),
        ...yardstick,
        ...(warnings.length === 0
          ? []
          : ['', 'Odd or assumed:', ...warnings.map(({ message }) => `- ${message}`)]),
        ...(out === undefined ? [] : ['', `wrote ${path.resolve(out)}`]),
      ],
    };
  },
};
