import type { WorkableLimits } from '../monthly-from-hourly.ts';
import { dailySwing, type GeneratorAssumptions, type WindParameters } from './generator-parameters.ts';
import { normalFromWeibull, weibullUnitMean } from './weibull-distribution.ts';
import { chanceOfPassing } from './windy-day-share.ts';

/** Weibull shapes that hourly wind may have; those of real stations lie well inside. */
const SHAPES = { lowest: 1.1, highest: 6, step: 0.49 } as const;
/** A share this near to the wanted one counts as met. */
const SHARE_TOLERANCE = 0.005;
const SWING_STEP = 0.1;
const MOST_SWING = 0.9;

/** Wind of a month that fits what is known, and how. */
export interface FittedWind {
  readonly wind: WindParameters;
  readonly meanWindMps: number;
  /** Share of days with a gust above the limit in working hours that this wind has. */
  readonly windyDayShare: number;
  /** What was assumed or, of the daily swing, made larger than assumed. */
  readonly assumed: readonly ('windShape' | 'meanWindMps' | 'windDailySwing')[];
  /** Whether the known share of windy days is met; true where none is known. */
  readonly met: boolean;
}

/** Share of days with at least one gust above the limit in working hours: gust = factor x hourly mean wind. */
export function windyDayShareOf(
  wind: WindParameters,
  limits: WorkableLimits,
  assumptions: GeneratorAssumptions,
): number {
  const scores: number[] = [];
  for (let hour = 0; hour < 24; hour += 1) {
    if (hour < limits.workFromHour || hour >= limits.workToHour) continue;
    const swing = 1 + wind.dailySwing * dailySwing(hour, assumptions.peakHour);
    scores.push(normalFromWeibull(limits.gustMps / limits.gustFactor / (wind.scaleMps * swing), wind.shape));
  }
  return chanceOfPassing(scores, assumptions.windAutocorrelation);
}

/**
 * Weibull shape, scale and daily swing from mean wind and share of windy days. Both known: the scale follows from the mean,
 * and the shape (1.1 to 6) is the one nearest to the assumed shape with that share. Where every shape gives too few windy
 * days the wind is let swing more over the day, up to 0.9 of its mean, as breezes of valleys and coasts do. Where nothing has
 * the share, the nearest, `met` false. Only the mean known: the assumed shape. Only the share known: the assumed shape, and
 * the scale that has the share (a share of 0 or 1 as 0.002 or 0.998). Null if neither is known.
 */
export function fitWind(
  known: { readonly meanWindMps: number | null; readonly windyDayShare: number | null },
  limits: WorkableLimits,
  assumptions: GeneratorAssumptions,
): FittedWind | null {
  const { meanWindMps, windyDayShare: wanted } = known;
  const { windShape, windDailySwing } = assumptions;
  const windOf = (mean: number, shape: number, swing: number): WindParameters => ({
    shape,
    scaleMps: mean / weibullUnitMean(shape),
    dailySwing: swing,
  });
  const shareOf = (wind: WindParameters): number => windyDayShareOf(wind, limits, assumptions);

  if (meanWindMps !== null && wanted === null) {
    const wind = windOf(meanWindMps, windShape, windDailySwing);
    return { wind, meanWindMps, windyDayShare: shareOf(wind), assumed: ['windShape'], met: true };
  }
  if (meanWindMps !== null && wanted !== null) {
    let swing = windDailySwing;
    for (;;) {
      const shape = nearestShape((at) => shareOf(windOf(meanWindMps, at, swing)) - wanted, windShape);
      const wind = windOf(meanWindMps, shape, swing);
      const windyDayShare = shareOf(wind);
      const met = Math.abs(windyDayShare - wanted) <= SHARE_TOLERANCE;
      if (met || windyDayShare > wanted || swing >= MOST_SWING) {
        const assumed = swing === windDailySwing ? [] : (['windDailySwing'] as const);
        return { wind, meanWindMps, windyDayShare, assumed, met };
      }
      swing = Math.min(MOST_SWING, swing + SWING_STEP);
    }
  }
  if (wanted === null) return null;
  const target = Math.min(0.998, Math.max(0.002, wanted));
  const limitMps = limits.gustMps / limits.gustFactor;
  const mean = rootBetween(
    (at) => shareOf(windOf(at, windShape, windDailySwing)) - target,
    limitMps / 50,
    limitMps * 50,
  );
  const wind = windOf(mean, windShape, windDailySwing);
  return {
    wind,
    meanWindMps: mean,
    windyDayShare: shareOf(wind),
    assumed: ['windShape', 'meanWindMps'],
    met: true,
  };
}

/** The root nearest to `near` among shapes, or the shape where `off` is smallest. The share need not rise or fall all the way. */
function nearestShape(off: (shape: number) => number, near: number): number {
  const shapes: number[] = [];
  for (let shape: number = SHAPES.lowest; shape < SHAPES.highest; shape += SHAPES.step) shapes.push(shape);
  const values = shapes.map(off);
  const roots: number[] = [];
  shapes.slice(1).forEach((to, index) => {
    const [low, high] = [values[index] as number, values[index + 1] as number];
    if (low * high <= 0) roots.push(rootBetween(off, shapes[index] as number, to));
  });
  const nearest = (candidates: readonly number[], distance: (at: number) => number): number =>
    candidates.reduce((best, at) => (distance(at) < distance(best) ? at : best));
  if (roots.length > 0) return nearest(roots, (root) => Math.abs(root - near));
  const least = values.reduce(
    (best, value, at) => (Math.abs(value) < Math.abs(values[best] as number) ? at : best),
    0,
  );
  return shapes[least] as number;
}

/** Where a function that changes sign between two numbers is 0, by halving, to a millionth of the interval or better. */
function rootBetween(of: (at: number) => number, from: number, to: number): number {
  let [low, high] = [from, to];
  const below = of(low) < 0;
  for (let step = 0; step < 26; step += 1) {
    const middle = (low + high) / 2;
    if (of(middle) < 0 === below) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
