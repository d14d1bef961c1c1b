import fs from 'node:fs';
import path from 'node:path';
import { type PlanFile, toPlanFile } from '../../../../libs/contracts/src/index.ts';
import { checkPlan, type PlanOutcome, type SeasonPlan } from '../../../../libs/season/src/index.ts';
import { planBesideYardstick } from '../../../worker/src/threads/planner-pool.ts';
import { PLAN_CAUTION, planLines, refusedLines } from '../plan-words/plan-lines.ts';
import { ProgressLine } from '../plan-words/progress-line.ts';
import { warningLines } from '../plan-words/warning-lines.ts';
import { PlainError } from '../program/plain-error.ts';
import { badInputAnswer } from '../season-input/bad-input.ts';
import { type NamedSeason, openSeason, SEASON_HELP, SEASON_OPTIONS } from '../season-input/season-problem.ts';
import { readingLines } from '../season-input/weather-months.ts';
import { writeWholeFile } from '../season-input/write-whole-file.ts';
import {
  type Command,
  type CommandAnswer,
  type CommandInput,
  onePositional,
  optionalText,
  UsageError,
  wholeNumber,
} from './command.ts';

const DEFAULT_SECONDS = 20;
const MOST_SECONDS = 86_400;
const EXIT_FAULTS = 1;
const EXIT_REFUSED = 2;

export const planCommand: Command = {
  name: 'plan',
  summary: 'Plan a season file, without a database, and write the plan to a file.',
  usage: '<season.json | season.xlsx | folder of CSV files>',
  help: [
    '  --out <file>            where the plan goes; without it the plan is only shown',
    `  --seconds <n>           how long to search (default: ${DEFAULT_SECONDS}); Ctrl-C ends it and keeps the best plan so far`,
    '  --iterations <n>        search so many tries instead: the same season and seed then give the same plan anywhere',
    '  --seed <n>              seed of the search (default: 1)',
    '  --threads <n>           threads (default: cores less one; at most 4 are of use)',
    ...SEASON_HELP,
    '',
    '  Exit code: 0 planned, 1 the input has faults, 2 pins and frozen days clash (or wrong arguments).',
    '',
  ],
  options: {
    out: { type: 'string' },
    seconds: { type: 'string' },
    iterations: { type: 'string' },
    seed: { type: 'string' },
    threads: { type: 'string' },
    ...SEASON_OPTIONS,
  },
  async run(input) {
    const source = onePositional(input, 'season file');
    const search = searchOf(input);
    const out = optionalText(input, 'out');
    try {
      if (out !== undefined) requireTarget(out, source);
      const season = await openSeason(source, input);
      const { problem } = season;
      const planned = await search.run(season);
      if (planned.outcome.kind === 'refused') return refusedAnswer(season, planned.outcome);
      const { plan } = planned.outcome;
      requireValid(season, plan);
      const planFile = toPlanFile(plan, problem);
      if (out !== undefined) writeWholeFile(out, `${JSON.stringify(planFile, null, 2)}\n`);
      return plannedAnswer(season, plan, { planFile, out, ...planned });
    } catch (error) {
      return badInputAnswer(error, EXIT_FAULTS);
    }
  },
};

interface Planned {
  readonly outcome: PlanOutcome;
  readonly firstComeCents: number | null;
  readonly stoppedEarly: boolean;
}

function searchOf(input: CommandInput): { run(season: NamedSeason): Promise<Planned> } {
  const most = Number.MAX_SAFE_INTEGER;
  const seed = wholeNumber(input, 'seed', { min: -most, max: most, fallback: 1 });
  const threads = wholeNumber(input, 'threads', { min: 0, max: 64, fallback: 0 });
  const hasIterations = optionalText(input, 'iterations') !== undefined;
  if (hasIterations && optionalText(input, 'seconds') !== undefined)
    throw new UsageError(
      'give --seconds or --iterations, not both: only iterations alone can be repeated exactly',
    );
  const budget = hasIterations
    ? { iterations: wholeNumber(input, 'iterations', { min: 0, max: 1_000_000_000, fallback: 0 }) }
    : { seconds: wholeNumber(input, 'seconds', { min: 1, max: MOST_SECONDS, fallback: DEFAULT_SECONDS }) };
  return {
    async run({ problem }) {
      const stop = new AbortController();
      const onInterrupt = (): void => stop.abort();
      const progress = new ProgressLine(process.stderr, problem.currency);
      // Only the first Ctrl-C: a second one ends the process as usual.
      process.once('SIGINT', onInterrupt);
      try {
        const planned = await planBesideYardstick(problem, {
          seed,
          ...budget,
          ...(threads > 0 ? { threads } : {}),
          signal: stop.signal,
          onProgress: (state) => progress.show(state),
        });
        return { ...planned, stoppedEarly: stop.signal.aborted };
      } finally {
        progress.end();
        process.removeListener('SIGINT', onInterrupt);
      }
    },
  };
}

/** Everything that can be known before minutes of planning are lost on it. */
function requireTarget(out: string, source: string): void {
  const folder = path.dirname(path.resolve(out));
  const stats = fs.statSync(out, { throwIfNoEntry: false });
  if (stats?.isDirectory()) throw new PlainError(`--out ${out} is a folder; name a file in it.`);
  if (path.resolve(out) === path.resolve(source))
    throw new PlainError('--out names the season file itself; name another file.');
  try {
    fs.accessSync(folder, fs.constants.W_OK);
  } catch {
    throw new PlainError(
      `nothing can be written to ${folder}. Make the folder, or name another one with --out.`,
    );
  }
}

/** A plan leaves this command only if the independent check finds nothing. */
function requireValid({ problem }: NamedSeason, plan: SeasonPlan): void {
  const { valid, violations } = checkPlan(problem, plan);
  if (valid) return;
  throw new Error(
    `the planner made a plan that its own check refuses, which is a fault of the program; nothing was written. First: ${violations[0]?.message}`,
  );
}

function refusedAnswer(
  season: NamedSeason,
  outcome: Extract<PlanOutcome, { kind: 'refused' }>,
): CommandAnswer {
  return {
    exitCode: EXIT_REFUSED,
    facts: {
      outcome: 'refused',
      clashes: outcome.clashes,
      warnings: season.warnings,
      weather: season.weather,
    },
    lines: refusedLines(season.problem, outcome),
  };
}

function plannedAnswer(
  season: NamedSeason,
  plan: SeasonPlan,
  made: Planned & { readonly planFile: PlanFile; readonly out: string | undefined },
): CommandAnswer {
  const { problem, file, warnings, weather, todayTaken } = season;
  const { planFile, out, firstComeCents, stoppedEarly } = made;
  const written = out === undefined ? 'not written; --out names a file for it' : `written to ${out}`;
  return {
    facts: {
      outcome: 'plan',
      file: out ?? null,
      stoppedEarly,
      todayTaken,
      firstComeCents,
      warnings,
      weather,
      plan: planFile,
    },
    lines: [
      ...weather.flatMap(readingLines),
      ...warningLines(warnings),
      '',
      `${problem.name}: ${plan.visits.length} of ${problem.jobs.length} jobs planned${stoppedEarly ? ', stopped early' : ''}`,
      '',
      ...planLines(file, problem, plan, firstComeCents),
      '',
      `seed ${plan.made.seed}, ${plan.made.iterations} tries; checked against all rules; ${written}`,
      ...(todayTaken === null
        ? []
        : [
            `the file does not say from which day it is looked at; ${todayTaken} was taken (--as-of ${todayTaken} repeats it)`,
          ]),
      ...PLAN_CAUTION,
    ],
  };
}
