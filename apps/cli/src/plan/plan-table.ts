import type { PlanFile } from '../../../../libs/contracts/src/plan-file.ts';
import { formatCents } from '../../../../libs/kernel/src/index.ts';
import { BINDING_WORDS, COST_WORDS } from './plan-words.ts';

const HEADINGS = ['start', 'days', 'reserve', 'job', 'crew', 'delivery', 'not sooner because of'];
const TITLE_WIDTH = 44;

function shortened(text: string, width: number): string {
  return text.length <= width ? text : `${text.slice(0, width - 1)}…`;
}

function aligned(rows: readonly (readonly string[])[]): string[] {
  const widths = HEADINGS.map((_, column) => Math.max(...rows.map((row) => (row[column] ?? '').length)));
  return rows.map((row) =>
    row
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join('  ')
      .trimEnd(),
  );
}

/** The visits of a plan, the earliest first, one line each, and the jobs without a date. */
export function planTable(plan: PlanFile): string[] {
  const visits = [...plan.visits].sort((a, b) =>
    `${a.days[0]}${a.crew}`.localeCompare(`${b.days[0]}${b.crew}`, 'en'),
  );
  const rows = visits.map((visit) => [
    visit.days[0] ?? '',
    String(visit.days.length),
    visit.reserve.length === 0 ? '-' : String(visit.reserve.length),
    shortened(visit.title, TITLE_WIDTH),
    visit.crewName,
    visit.deliveryDay ?? '-',
    visit.bindings
      .slice(0, 2)
      .map(({ kind }) => BINDING_WORDS[kind])
      .join(', '),
  ]);
  return [
    ...aligned([HEADINGS, ...rows]),
    ...plan.notPlanned.map(
      ({ title, bindings }) =>
        `no date: ${title} (${
          bindings
            .slice(0, 2)
            .map(({ kind }) => BINDING_WORDS[kind])
            .join(', ') || 'no room in the season'
        })`,
    ),
  ];
}

/** What the plan costs, the largest first, with the total and, when one was proved, the bound below it. */
export function costTable(plan: PlanFile): string[] {
  const sums = new Map<PlanFile['costLines'][number]['kind'], number>();
  for (const { kind, cents } of plan.costLines) sums.set(kind, (sums.get(kind) ?? 0) + cents);
  const lines = [...sums]
    .filter(([, cents]) => cents !== 0)
    .sort(([, a], [, b]) => b - a)
    .map(([kind, cents]) => [COST_WORDS[kind], formatCents(cents, plan.currency)] as const);
  const all = [...lines, ['total', formatCents(plan.totalCents, plan.currency)] as const];
  const words = Math.max(...all.map(([word]) => word.length));
  const amounts = Math.max(...all.map(([, amount]) => amount.length));
  const text = all.map(([word, amount]) => `${word.padEnd(words)}  ${amount.padStart(amounts)}`);
  if (plan.bound !== null) {
    text.push(
      `no plan of this season costs less than ${formatCents(plan.bound.cents, plan.currency)} (proved)`,
    );
  }
  return text;
}
