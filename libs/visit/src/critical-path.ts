import { DryspellError, ok, type Result, refused } from '../../kernel/src/index.ts';
import { durationWithHands, type StepOrder, type VisitStep } from './step.ts';

/** Times of one step, minutes after the start of the visit. */
export interface StepTimes {
  readonly key: string;
  readonly durationMin: number;
  readonly earliestStartMin: number;
  readonly earliestFinishMin: number;
  readonly latestStartMin: number;
  readonly latestFinishMin: number;
  /** How much later it may start without moving the end of the visit. */
  readonly slackMin: number;
  readonly critical: boolean;
}

/** The critical path of a visit: no step can be later without the whole being later. */
export interface CriticalPath {
  readonly finishMin: number;
  readonly steps: readonly StepTimes[];
  /** One longest chain of steps, in order, from a first step to a last. */
  readonly chain: readonly string[];
}

/** Why no times can be given. */
export type CriticalPathProblem =
  | { readonly kind: 'too-few-hands'; readonly steps: readonly string[] }
  /** The order of these steps, with its lags, contradicts itself. */
  | { readonly kind: 'order-impossible'; readonly steps: readonly string[] };

interface Arc {
  readonly from: number;
  readonly to: number;
  /** start(to) >= start(from) + gapMin; negative for a most lag, read backwards. */
  readonly gapMin: number;
}

/**
 * Earliest and latest times of the steps of a visit (critical path method, Kelley and Walker 1959), with least and most lags.
 * `hands` people are there all the time; each step gets as many as help it, so hands shared between steps at one time are not
 * counted: the finish is a lower bound on the real one. Without `hands` every step has the most that help.
 * Refused when a step needs more hands, or when the order contradicts itself. Throws `invalid-input` for a doubled or unknown key.
 */
export function criticalPath(
  steps: readonly VisitStep[],
  orders: readonly StepOrder[],
  hands = Number.POSITIVE_INFINITY,
): Result<CriticalPath, CriticalPathProblem> {
  const index = new Map(steps.map((step, at) => [step.key, at]));
  if (index.size !== steps.length)
    throw new DryspellError('invalid-input', { field: 'steps', expected: 'each key once' });
  const durations = steps.map((step) => durationWithHands(step, hands));
  const tooFew = steps.filter((_, at) => durations[at] === undefined).map((step) => step.key);
  if (tooFew.length > 0) return refused({ kind: 'too-few-hands', steps: tooFew });

  const duration = durations as number[];
  const arcs = orders.flatMap((order) => arcsOf(order, index, duration));
  const forward = longestStarts(steps.length, arcs);
  if ('cycle' in forward)
    return refused({ kind: 'order-impossible', steps: forward.cycle.map((at) => steps[at]?.key as string) });
  const start = forward.starts;
  const finishMin = Math.max(0, ...start.map((begin, at) => begin + (duration[at] as number)));

  // Backwards the same problem with time turned round: the longest way from a start to the end of the visit.
  const turned = arcs.map(({ from, to, gapMin }) => ({ from: to, to: from, gapMin }));
  const backward = longestStarts(steps.length, turned, duration);
  if ('cycle' in backward)
    return refused({ kind: 'order-impossible', steps: backward.cycle.map((at) => steps[at]?.key as string) });
  const times = steps.map((step, at): StepTimes => {
    const [begin, length] = [start[at] as number, duration[at] as number];
    const latestStartMin = finishMin - (backward.starts[at] as number);
    const slackMin = latestStartMin - begin;
    return {
      key: step.key,
      durationMin: length,
      earliestStartMin: begin,
      earliestFinishMin: begin + length,
      latestStartMin,
      latestFinishMin: latestStartMin + length,
      slackMin,
      critical: Math.abs(slackMin) < 1e-9,
    };
  });
  return ok({ finishMin, steps: times, chain: chainTo(times, finishMin, arcs) });
}

function arcsOf(order: StepOrder, index: ReadonlyMap<string, number>, duration: readonly number[]): Arc[] {
  const [from, to] = [index.get(order.before), index.get(order.after)];
  if (from === undefined || to === undefined) {
    throw new DryspellError('invalid-input', {
      field: 'orders',
      value: from === undefined ? order.before : order.after,
      expected: 'the key of a step',
    });
  }
  const length = duration[from] as number;
  const least: Arc = { from, to, gapMin: length + order.minLagMin };
  return order.maxLagMin === null
    ? [least]
    : [least, { from: to, to: from, gapMin: -(length + order.maxLagMin) }];
}

/** Longest ways over the arcs, each step from `base` on (Bellman and Ford); or the steps of a ring that grows for ever. */
function longestStarts(
  count: number,
  arcs: readonly Arc[],
  base: readonly number[] = [],
): { starts: number[] } | { cycle: number[] } {
  const starts = Array.from({ length: count }, (_, at) => base[at] ?? 0);
  const cameBy = new Array<number>(count).fill(-1);
  for (let round = 0; ; round += 1) {
    let moved = -1;
    for (const { from, to, gapMin } of arcs) {
      const start = (starts[from] as number) + gapMin;
      if (start > (starts[to] as number) + 1e-9) {
        starts[to] = start;
        cameBy[to] = from;
        moved = to;
      }
    }
    if (moved < 0) return { starts };
    if (round >= count) return { cycle: ringThrough(moved, cameBy, count) };
  }
}

function ringThrough(moved: number, cameBy: readonly number[], count: number): number[] {
  let at = moved;
  for (let step = 0; step < count; step += 1) at = cameBy[at] as number;
  const ring = [at];
  for (let before = cameBy[at] as number; before !== at; before = cameBy[before] as number)
    ring.unshift(before);
  return ring;
}

/** Walks back from a step that ends last to one that nothing holds back, over tight arcs between critical steps. */
function chainTo(times: readonly StepTimes[], finishMin: number, arcs: readonly Arc[]): string[] {
  let at = times.findIndex((time) => time.critical && Math.abs(time.earliestFinishMin - finishMin) < 1e-9);
  const chain: string[] = [];
  const seen = new Set<number>();
  while (at >= 0 && !seen.has(at)) {
    seen.add(at);
    chain.unshift(times[at]?.key as string);
    const here = at;
    const tight = arcs.find(
      ({ from, to, gapMin }) =>
        to === here &&
        gapMin >= 0 &&
        !seen.has(from) &&
        times[from]?.critical &&
        Math.abs(
          (times[from]?.earliestStartMin as number) + gapMin - (times[here]?.earliestStartMin as number),
        ) < 1e-9,
    );
    at = tight ? tight.from : -1;
  }
  return chain;
}
