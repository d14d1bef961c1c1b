import type { SeasonFile } from '../../../../libs/contracts/src/index.ts';
import { formatCents, toLocalDate } from '../../../../libs/kernel/src/index.ts';
import type {
  CostKind,
  CostLine,
  PlanOutcome,
  SeasonPlan,
  SeasonProblem,
} from '../../../../libs/season/src/index.ts';
import { bindingSentence, namesOf } from './binding-sentences.ts';
import { COST_WORDS } from './plan-words.ts';
import { textTable } from './text-table.ts';

/** The words that go with every plan. */
export const PLAN_CAUTION = [
  'A planning aid. Wind, lifting, electricity, height, driving hours and rest: the manufacturer, the site, local law and a',
  'licensed or competent person decide. Not planned here: driving and rest limits of a day, wind on the day itself.',
];

/** The sum of each kind of cost that there is, in the order of `COST_WORDS`. */
export function sumsByKind(lines: readonly CostLine[]): Map<CostKind, number> {
  const sums = new Map<CostKind, number>();
  for (const kind of Object.keys(COST_WORDS) as CostKind[]) {
    const ofKind = lines.filter((line) => line.kind === kind);
    if (ofKind.length > 0)
      sums.set(
        kind,
        ofKind.reduce((sum, line) => sum + line.cents, 0),
      );
  }
  return sums;
}

/** The plan for people: one line a visit, the costs, the bound, and what is not planned with why. */
export function planLines(
  file: SeasonFile,
  problem: SeasonProblem,
  plan: SeasonPlan,
  firstComeCents: number | null,
): string[] {
  const names = namesOf(problem);
  const money = (cents: number): string => formatCents(cents, problem.currency);
  const lines = [...visitTable(file, problem, plan), ''];
  lines.push(
    ...textTable(
      [
        ...[...sumsByKind(plan.costLines)].map(([kind, cents]) => [COST_WORDS[kind], money(cents)]),
        ['total', money(plan.totalCents)],
      ],
      [1],
    ),
    '',
    ...boundLines(plan, money),
  );
  if (firstComeCents !== null)
    lines.push(
      `first come, first served would cost ${money(firstComeCents)}${comparison(plan.totalCents, firstComeCents)}`,
    );
  if (plan.notPlanned.length > 0) {
    lines.push('', `not planned (${plan.notPlanned.length}):`);
    for (const { job, bindings } of plan.notPlanned) {
      lines.push(`  ${names.job(job)} [${job}]`);
      for (const binding of bindings) lines.push(`    ${bindingSentence(binding, names)}`);
    }
  }
  return lines;
}

/** What clashes when pins and frozen days cannot be kept together. */
export function refusedLines(
  problem: SeasonProblem,
  { clashes }: Extract<PlanOutcome, { kind: 'refused' }>,
): string[] {
  const names = namesOf(problem);
  const lines = ['No plan: pins and frozen days cannot all be kept. Change one of these and plan again.'];
  for (const { jobs, bindings } of clashes) {
    lines.push('', `${jobs.map((job) => `${names.job(job)} [${job}]`).join('  and  ')}:`);
    for (const binding of bindings) lines.push(`  ${bindingSentence(binding, names)}`);
  }
  return lines;
}

function visitTable(file: SeasonFile, problem: SeasonProblem, plan: SeasonPlan): string[] {
  const names = namesOf(problem);
  const siteOf = new Map(file.jobs.map((job) => [job.key, job.site]));
  const siteNames = new Map(file.sites.map((site) => [site.key, site.name]));
  const lifts = new Map(problem.lifts.map((lift) => [lift.id, lift.name]));
  const costOf = (job: string): number =>
    plan.costLines.reduce((sum, line) => (line.job === job ? sum + line.cents : sum), 0);
  const rows = [...plan.visits]
    .sort((a, b) => (a.days[0] as number) - (b.days[0] as number) || (a.crew < b.crew ? -1 : 1))
    .map((visit) => [
      names.job(visit.job),
      siteNames.get(siteOf.get(visit.job) ?? '') ?? '',
      visit.days.map((day, at) => (at === 0 ? toLocalDate(day) : toLocalDate(day).slice(5))).join(', '),
      visit.reserve.map((day) => toLocalDate(day).slice(5)).join(', ') || '-',
      names.crew(visit.crew),
      visit.liftUnit === null ? '-' : (lifts.get(visit.liftUnit) ?? visit.liftUnit),
      formatCents(costOf(visit.job), problem.currency),
    ]);
  return textTable([['job', 'site', 'days', 'held back', 'crew', 'lift', 'own cost'], ...rows], [6]);
}

function boundLines(plan: SeasonPlan, money: (cents: number) => string): string[] {
  if (!plan.bound) return ['no lower bound was proved'];
  const { cents } = plan.bound;
  const gap = plan.totalCents - cents;
  const share = plan.totalCents > 0 ? ` (${((100 * gap) / plan.totalCents).toFixed(1)} % of the total)` : '';
  return [
    `no valid plan can cost less than ${money(cents)}; this one is at most ${money(gap)}${share} above the best there is`,
  ];
}

function comparison(cents: number, yardstick: number): string {
  if (yardstick === cents) return ', as much';
  return yardstick > 0 ? ` (this plan: ${((100 * cents) / yardstick).toFixed(1)} % of it)` : '';
}
