import type { SeasonFile, SeasonRow } from '../../../contracts/src/index.ts';
import { type IntakeWarning, warning } from '../warning.ts';

type Step = SeasonRow<'steps'>;
type Order = SeasonRow<'stepPrecedence'>;

/** The steps of a site day one after the other: in the order of the file, but never before a step that must come first. */
export function stepsInOrder(file: SeasonFile, day: SeasonRow<'templateDays'>): Step[] {
  const left = file.steps.filter(
    (step) => step.template === day.template && step.dayNumber === day.dayNumber,
  );
  const orders = ordersOf(file, day.template);
  const sorted: Step[] = [];
  while (left.length > 0) {
    const free = left.findIndex(
      (step) =>
        !orders.some(({ before, after }) => after === step.key && left.some(({ key }) => key === before)),
    );
    // A ring is a fault of the file; then the file's own order stands.
    sorted.push(...left.splice(Math.max(0, free), 1));
  }
  return sorted;
}

/**
 * Least and most minutes between the end of the outside step before and the start of this one. Steps that are done inside between the two
 * count with their durations and lags.
 */
export function lagBefore(
  file: SeasonFile,
  day: readonly Step[],
  before: Step | undefined,
  step: Step,
): { readonly lagMin: number; readonly maxLagMin: number | null } {
  if (!before) return { lagMin: 0, maxLagMin: null };
  const orders = ordersOf(file, step.template);
  const direct = orders.find((row) => row.before === before.key && row.after === step.key);
  const inside = day.slice(day.indexOf(before) + 1, day.indexOf(step));
  return {
    lagMin: longestWay(orders, before.key, step.key, inside) ?? 0,
    maxLagMin: direct?.maxLagMin ?? null,
  };
}

/** Minutes of the longest way from one step to another through inside steps; null where none leads there. */
function longestWay(
  orders: readonly Order[],
  from: string,
  to: string,
  inside: readonly Step[],
): number | null {
  let longest: number | null = null;
  for (const { before, after, minLagMin } of orders) {
    if (before !== from) continue;
    const at = inside.findIndex(({ key }) => key === after);
    const rest = after === to ? 0 : at < 0 ? null : longestWay(orders, after, to, inside.slice(at + 1));
    if (rest === null) continue;
    const way = minLagMin + rest + (at < 0 ? 0 : (inside[at] as Step).durationMin);
    if (longest === null || way > longest) longest = way;
  }
  return longest;
}

/** Times between outside steps that do not follow each other directly: a search step by step does not look at them. */
export function lagsNotCounted(file: SeasonFile, template: string): IntakeWarning[] {
  const days = file.templateDays.filter((day) => day.template === template);
  const inOrder = days.flatMap((day) => stepsInOrder(file, day)).filter((step) => step.outside);
  const warnings: IntakeWarning[] = [];
  for (const { before, after, minLagMin, maxLagMin } of ordersOf(file, template)) {
    const [from, to] = [before, after].map((key) => inOrder.findIndex((step) => step.key === key)) as [
      number,
      number,
    ];
    if (from < 0 || to <= from) continue;
    const between = inOrder.slice(from + 1, to);
    const sameDay = inOrder[from]?.dayNumber === inOrder[to]?.dayNumber;
    if (sameDay && between.length === 0) continue;
    const filled = between.reduce((sum, step) => sum + step.durationMin, 0);
    if (maxLagMin == null && minLagMin <= filled) continue;
    warnings.push(
      warning(
        'step-lag-not-counted',
        'stepPrecedence',
        `${template}/${before}/${after}`,
        `The time from ${before} to ${after} of ${template} (${minLagMin} to ${maxLagMin ?? 'any number of'} minutes) is not looked at in weather odds, because other steps or a night lie between; check it by hand.`,
      ),
    );
  }
  return warnings;
}

function ordersOf(file: SeasonFile, template: string): Order[] {
  return file.stepPrecedence.filter((row) => row.template === template);
}
