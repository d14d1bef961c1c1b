import { type Answer, cannotSay, type Day, DryspellError, known } from '../../kernel/src/index.ts';
import { betaPertCdf } from './three-point.ts';

/** One milestone of a chain, in the order in which they come. Unknown is null. */
export interface Milestone {
  readonly kind: string;
  /** Day that was announced or agreed. */
  readonly plannedDay: Day | null;
  /** Days after the milestone before; for the first of a chain, days after its planned day. */
  readonly lowDays: number | null;
  readonly likelyDays: number | null;
  readonly highDays: number | null;
  /** Day on which it happened. */
  readonly actualDay: Day | null;
}

/** The day on which a chain ends, as chances on a grid of quarter days. */
export interface DayDistribution {
  /** Quarter days since 1970-01-01 of the first entry. */
  readonly firstQuarter: number;
  readonly chances: Float64Array;
}

/** Why no day can be given. */
export type ChainReason = 'no-milestones' | 'no-start' | 'duration-unknown';

const QUARTERS = 4;

/**
 * When the last milestone of a chain happens. The last actual date ends all guessing about what came before. From there
 * (or from the planned day of the first milestone) each milestone adds its duration, a beta-PERT on quarter days, by exact
 * convolution; durations are taken as independent. A milestone with a planned day and no durations is taken at its word:
 * not before that day, and not before what comes before it. With `asOfDay`, the next milestone cannot have happened before that
 * day, so the days that have passed are struck out; when all have passed it is expected on that day.
 *
 * Cannot say when the chain is empty, has no place to count from, or lacks a duration; `missing` names the milestones.
 */
export function chainEnd(
  milestones: readonly Milestone[],
  asOfDay: Day | null = null,
): Answer<DayDistribution, ChainReason> {
  if (milestones.length === 0) return cannotSay('no-milestones');
  const lastActual = milestones.findLastIndex((milestone) => milestone.actualDay !== null);
  let reached: DayDistribution | null =
    lastActual < 0 ? null : certainly(milestones[lastActual]?.actualDay as Day);
  for (const [at, milestone] of milestones.entries()) {
    if (at <= lastActual) continue;
    const duration = durationOf(milestone);
    if (duration === 'partly-known') return cannotSay('duration-unknown', [milestone.kind]);
    if (reached === null) {
      if (milestone.plannedDay === null) return cannotSay('no-start', [milestone.kind]);
      reached = certainly(milestone.plannedDay);
      if (duration) reached = convolve(reached, duration);
    } else if (duration) reached = convolve(reached, duration);
    else if (milestone.plannedDay !== null) reached = notBefore(reached, milestone.plannedDay);
    else return cannotSay('duration-unknown', [milestone.kind]);
    if (at === lastActual + 1 && asOfDay !== null) reached = notYet(reached, asOfDay);
  }
  return known(reached as DayDistribution);
}

/** The first whole day by which it has happened with at least the given chance (above 0, below 1). */
export function dayAtConfidence(distribution: DayDistribution, confidence: number): Day {
  if (!(confidence > 0 && confidence < 1)) {
    throw new DryspellError('invalid-input', {
      field: 'confidence',
      value: confidence,
      expected: 'between 0 and 1',
    });
  }
  let sum = 0;
  let at = 0;
  while (at < distribution.chances.length - 1) {
    sum += distribution.chances[at] as number;
    if (sum >= confidence - 1e-12) break;
    at += 1;
  }
  return Math.ceil((distribution.firstQuarter + at) / QUARTERS) as Day;
}

/** Mean in days since 1970-01-01 (with a fraction) and standard deviation in days. */
export function distributionMoments({ firstQuarter, chances }: DayDistribution): {
  meanDay: number;
  sdDays: number;
} {
  let mean = 0;
  let square = 0;
  chances.forEach((chance, at) => {
    mean += chance * at;
    square += chance * at * at;
  });
  return {
    meanDay: (firstQuarter + mean) / QUARTERS,
    sdDays: Math.sqrt(Math.max(0, square - mean * mean)) / QUARTERS,
  };
}

/** Chance that it has happened by the end of a day. */
export function chanceBy({ firstQuarter, chances }: DayDistribution, day: number): number {
  const end = Math.min(chances.length, day * QUARTERS - firstQuarter + 1);
  let sum = 0;
  for (let at = 0; at < end; at += 1) sum += chances[at] as number;
  return sum;
}

/** The later of several that are taken as independent: goods in two containers are there when both are. Needs one or more. */
export function latestOf(distributions: readonly DayDistribution[]): DayDistribution {
  const first = Math.max(...distributions.map((one) => one.firstQuarter));
  const end = Math.max(...distributions.map((one) => one.firstQuarter + one.chances.length));
  const chances = new Float64Array(end - first);
  const sums = distributions.map(() => 0);
  const next = distributions.map(() => 0);
  let before = 0;
  for (let quarter = first; quarter < end; quarter += 1) {
    let all = 1;
    distributions.forEach((one, index) => {
      while (
        (next[index] as number) < one.chances.length &&
        one.firstQuarter + (next[index] as number) <= quarter
      ) {
        sums[index] = (sums[index] as number) + (one.chances[next[index] as number] as number);
        next[index] = (next[index] as number) + 1;
      }
      all *= sums[index] as number;
    });
    chances[quarter - first] = all - before;
    before = all;
  }
  return { firstQuarter: first, chances };
}

/** The goods day of one chain at a confidence, or why it cannot be said. */
export function goodsDayAtConfidence(
  milestones: readonly Milestone[],
  confidence: number,
  asOfDay: Day | null = null,
): Answer<Day, ChainReason> {
  const end = chainEnd(milestones, asOfDay);
  return end.known ? known(dayAtConfidence(end.value, confidence)) : end;
}

function certainly(day: Day): DayDistribution {
  return { firstQuarter: day * QUARTERS, chances: Float64Array.of(1) };
}

/** The duration as chances on quarter days, null where none is given. */
function durationOf({ lowDays, likelyDays, highDays }: Milestone): DayDistribution | null | 'partly-known' {
  if (lowDays === null && likelyDays === null && highDays === null) return null;
  if (lowDays === null || likelyDays === null || highDays === null) return 'partly-known';
  const estimate = { low: lowDays, likely: likelyDays, high: highDays };
  const first = Math.round(lowDays * QUARTERS);
  const last = Math.round(highDays * QUARTERS);
  const chances = new Float64Array(last - first + 1);
  let before = 0;
  for (let quarter = first; quarter <= last; quarter += 1) {
    const upTo = quarter === last ? 1 : betaPertCdf(estimate, (quarter + 0.5) / QUARTERS);
    chances[quarter - first] = upTo - before;
    before = upTo;
  }
  return { firstQuarter: first, chances };
}

function convolve(a: DayDistribution, b: DayDistribution): DayDistribution {
  const chances = new Float64Array(a.chances.length + b.chances.length - 1);
  a.chances.forEach((chanceA, i) => {
    if (chanceA === 0) return;
    b.chances.forEach((chanceB, j) => {
      chances[i + j] = (chances[i + j] as number) + chanceA * chanceB;
    });
  });
  return { firstQuarter: a.firstQuarter + b.firstQuarter, chances };
}

function notBefore(distribution: DayDistribution, day: Day): DayDistribution {
  return latestOf([distribution, certainly(day)]);
}

/** Strikes out the days before `day` and scales the rest up. */
function notYet(distribution: DayDistribution, day: Day): DayDistribution {
  const skip = day * QUARTERS - distribution.firstQuarter;
  if (skip <= 0) return distribution;
  const rest = distribution.chances.slice(skip);
  const total = rest.reduce((sum, chance) => sum + chance, 0);
  if (total <= 1e-12) return certainly(day);
  return { firstQuarter: day * QUARTERS, chances: rest.map((chance) => chance / total) };
}
