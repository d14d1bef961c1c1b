import { fromPlanFile, type PlanFileSource, planFileSchema } from '../../../../libs/contracts/src/index.ts';
import { formatCents, toLocalDate } from '../../../../libs/kernel/src/index.ts';
import { type CheckResult, checkPlan, type SeasonPlan } from '../../../../libs/season/src/index.ts';
import { namesOf } from '../plan-words/binding-words.ts';
import { COST_WORDS, PLAN_CAUTION, sumsByKind } from '../plan-words/plan-lines.ts';
import { textTable } from '../plan-words/text-table.ts';
import { BadInput, badInputAnswer } from '../season-input/bad-input.ts';
import { readNamedJson } from '../season-input/read-named-file.ts';
import { type NamedSeason, openSeason, SEASON_HELP, SEASON_OPTIONS } from '../season-input/season-problem.ts';
import { readingLines } from '../season-input/weather-months.ts';
import { type Command, type CommandInput, UsageError } from './command.ts';

const MOST_PLAN_BYTES = 100_000_000;
const EXIT_NOT_VALID = 1;
const EXIT_BAD_INPUT = 2;

export const checkCommand: Command = {
  name: 'check',
  summary: 'Hold a plan file against its season file: every rule and every cent again.',
  usage: '<season.json | season.xlsx | folder of CSV files> <plan.json>',
  help: [
    ...SEASON_HELP,
    '',
    '  The check shares no code with the planner. Give the same --weather, limits and --as-of as when the plan was made.',
    '  Exit code: 0 valid, 1 not valid, 2 the input cannot be used (or wrong arguments).',
    '',
  ],
  options: SEASON_OPTIONS,
  async run(input) {
    const { source, planPath } = twoFiles(input);
    try {
      const season = await openSeason(source, input);
      const plan = readPlan(planPath);
      const result = checkPlan(season.problem, plan as SeasonPlan);
      return {
        exitCode: result.valid ? 0 : EXIT_NOT_VALID,
        facts: {
          outcome: result.valid ? 'valid' : 'not-valid',
          violations: result.violations.map(({ day, ...violation }) => ({
            ...violation,
            day: day === null ? null : toLocalDate(day),
          })),
          own: { totalCents: result.totalCents, costLines: result.costLines },
          stated: { totalCents: plan.totalCents, costLines: plan.costLines },
          todayTaken: season.todayTaken,
          weather: season.weather,
        },
        lines: answerLines(season, plan, result),
      };
    } catch (error) {
      return badInputAnswer(error, EXIT_BAD_INPUT);
    }
  },
};

function twoFiles({ positionals }: CommandInput): { source: string; planPath: string } {
  const [source, planPath, ...rest] = positionals;
  if (!source || !planPath) throw new UsageError('name the season file and then the plan file');
  if (rest.length > 0)
    throw new UsageError(`one season file and one plan file; got ${positionals.length} files`);
  return { source, planPath };
}

function readPlan(planPath: string): PlanFileSource {
  const value = readNamedJson(planPath, 'plan file', MOST_PLAN_BYTES);
  if ((value as { format?: unknown } | null)?.format === 'dryspell-season')
    throw new BadInput(`${planPath} is a season file, not a plan file. Name the plan second.`);
  const read = planFileSchema.safeParse(value);
  if (read.success) return fromPlanFile(read.data);
  const faults = read.error.issues.map(
    ({ path, message }) => `\n  ${path.join('.') || 'the file'}: ${message}`,
  );
  throw new BadInput(
    `${planPath} is not a plan file that can be read (${faults.length} faults):${faults.slice(0, 30).join('')}${faults.length > 30 ? '\n  ...' : ''}`,
  );
}

function answerLines(season: NamedSeason, plan: PlanFileSource, result: CheckResult): string[] {
  const { problem, todayTaken, weather } = season;
  const names = namesOf(problem);
  const count = result.violations.length;
  const lines = weather.flatMap(readingLines);
  lines.push(
    result.valid
      ? `valid: ${plan.visits.length} visits of ${problem.jobs.length} jobs keep all rules, and every cost line agrees`
      : `not valid: ${count} ${count === 1 ? 'breach' : 'breaches'}`,
  );
  for (const { rule, job, day, message } of result.violations) {
    const where = [job === null ? '' : `${names.job(job)} [${job}]`, day === null ? '' : toLocalDate(day)];
    const place = where.filter((part) => part !== '').join(', ');
    lines.push(`  rule ${rule}${place === '' ? '' : `, ${place}`}: ${message}`);
  }
  lines.push('', ...costTable(problem.currency, plan, result));
  if (todayTaken !== null)
    lines.push(
      '',
      `the season file does not say from which day it is looked at; ${todayTaken} was taken. A plan made on another day needs --as-of with that day.`,
    );
  return [...lines, '', ...PLAN_CAUTION];
}

function costTable(currency: string, plan: PlanFileSource, result: CheckResult): string[] {
  const money = (cents: number): string => formatCents(cents, currency);
  const [own, stated] = [sumsByKind(result.costLines), sumsByKind(plan.costLines)];
  const difference = (a: number, b: number): string => (a === b ? '' : money(b - a));
  const rows = (Object.keys(COST_WORDS) as (keyof typeof COST_WORDS)[])
    .filter((kind) => own.has(kind) || stated.has(kind))
    .map((kind) => {
      const [a, b] = [own.get(kind) ?? 0, stated.get(kind) ?? 0];
      return [COST_WORDS[kind], money(a), money(b), difference(a, b)];
    });
  const total = [
    'total',
    money(result.totalCents),
    money(plan.totalCents),
    difference(result.totalCents, plan.totalCents),
  ];
  return textTable([['cost', 'worked out again', 'in the plan', 'difference'], ...rows, total], [1, 2, 3]);
}
