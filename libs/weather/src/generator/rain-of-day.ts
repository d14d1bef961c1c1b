import type { Rng } from '../../../kernel/src/index.ts';
import { drawGamma } from './gamma-distribution.ts';
import type { GeneratorParameters, RainParameters } from './generator-parameters.ts';

/** Float32 may round a wet hour's least rain below the limit; a millionth more keeps it wet. */
const KEEPS_WET = 1 + 1e-6;

/** Mean number of wet hours of a wet day: the geometric number with this mean, cut at 24. */
export function expectedWetHours(meanWetHours: number): number {
  const dry = 1 - 1 / meanWetHours;
  return meanWetHours * (1 - dry ** 24);
}

/**
 * Rain of one wet day, mm an hour, into 24 entries of `into` from `at`. The rule: one unbroken spell within the day, of a
 * geometric number of hours (cut at 24); its start equally likely at every hour that fits, of those that touch working hours
 * if the shares are of working hours. The day's rain falls evenly over it. Simple on purpose: monthly figures say nothing of
 * hours.
 */
export function drawRainOfDay(
  rng: Rng,
  rain: RainParameters,
  parameters: GeneratorParameters,
  into: Float32Array,
  at: number,
): void {
  const { limits, wetShareOf } = parameters;
  const lastsOn = 1 - 1 / rain.meanWetHours;
  const hours =
    lastsOn <= 0 ? 1 : Math.min(24, 1 + Math.floor(Math.log(1 - rng.uniform()) / Math.log(lastsOn)));
  const touches = wetShareOf === 'working-hours';
  const firstHour = Math.ceil(limits.workFromHour);
  const lastHour = Math.ceil(limits.workToHour) - 1;
  const earliest = touches ? Math.max(0, firstHour - hours + 1) : 0;
  const latest = touches ? Math.min(24 - hours, lastHour) : 24 - hours;
  const start = rng.integer(Math.min(earliest, latest), latest);
  const gamma = rain.gammaScaleMm === 0 ? 0 : rain.gammaScaleMm * drawGamma(rng, rain.gammaShape);
  into.fill(limits.rainMmPerHour * KEEPS_WET + gamma / hours, at + start, at + start + hours);
}
