import type { HourlyRecord } from '../hourly-record.ts';
import type { ReadingWarning } from './reading.ts';

/**
 * Common practice, not a standard: hourly means at 10 m average 2 to 9 m/s at nearly all stations. The windiest known place at sea level,
 * Cape Denison, has 19 m/s (from memory); a mean of 12 or more is a mountain top, or another unit.
 */
const MEAN_TOO_HIGH_MPS = 12;
/** One hour in a hundred above this (force 11 and up, from 28.5 m/s) is likewise hardly met where tents are built; common practice. */
const P99_TOO_HIGH_MPS = 28.5;
/** The middle ratio of gust to mean wind lies around 1.3 to 1.8 (gust factors of 3-second gusts); common practice, with much room. */
const RATIO_TOO_HIGH = 2.6;

/**
 * Knots in other units: anemometers of airfields report whole knots, and a file that converts them keeps their steps. Steps of 0.514 m/s
 * are as they should be; steps of 1.852 are km/h, steps of 1.151 are miles an hour.
 */
const STEPS: readonly (readonly [step: number, unit: string])[] = [
  [1.852, 'km/h'],
  [1.15078, 'miles an hour'],
];
const STEP_TOLERANCE = 0.06;
const STEP_SHARE = 0.95;
const ENOUGH_HOURS = 200;

/** Whether winds that are said to be in m/s look like another unit; null when nothing speaks against them. */
export function windUnitWarning({ windMps, gustMps }: HourlyRecord): ReadingWarning | null {
  const sorted = windMps.filter((wind) => !Number.isNaN(wind)).sort();
  if (sorted.length < ENOUGH_HOURS) return null;
  const mean = sorted.reduce((sum, wind) => sum + wind, 0) / sorted.length;
  const p99 = sorted[Math.floor(sorted.length * 0.99)] as number;
  const warning = (words: string): ReadingWarning => ({
    code: 'wind-unit',
    words: `${words} Check the unit of the wind in the source, and name it when the file is read.`,
  });
  for (const [step, unit] of STEPS) {
    if (onSteps(sorted, step))
      return warning(`The winds, read as m/s, are all whole knots turned into ${unit}.`);
  }
  if (mean > MEAN_TOO_HIGH_MPS || p99 > P99_TOO_HIGH_MPS)
    return warning(
      `The wind, read as m/s, has a mean of ${mean.toFixed(1)} and passes ${p99.toFixed(1)} in one hour of a hundred: that fits km/h or knots better.`,
    );
  if (mean > 7 && sorted.every((wind) => Number.isInteger(wind)))
    return warning(
      `The winds, read as m/s, are all whole numbers with a mean of ${mean.toFixed(1)}, as knots are.`,
    );
  const ratio = middleRatio(windMps, gustMps);
  if (ratio !== null && ratio > RATIO_TOO_HIGH)
    return warning(
      `Half of the gusts are more than ${ratio.toFixed(1)} times the mean wind: are they in another unit?`,
    );
  return null;
}

function onSteps(sorted: Float32Array, step: number): boolean {
  let above = 0;
  let on = 0;
  for (const wind of sorted) {
    if (wind < 3 * step) continue;
    above += 1;
    if (Math.abs(wind - Math.round(wind / step) * step) < STEP_TOLERANCE) on += 1;
  }
  return above >= ENOUGH_HOURS / 2 && on >= above * STEP_SHARE;
}

/** The middle of gust by mean wind, over hours with at least 3 m/s of wind; null from too few of them. */
function middleRatio(windMps: Float32Array, gustMps: Float32Array): number | null {
  const ratios: number[] = [];
  windMps.forEach((wind, at) => {
    const gust = gustMps[at] as number;
    if (wind >= 3 && gust > 0) ratios.push(gust / wind);
  });
  if (ratios.length < ENOUGH_HOURS / 2) return null;
  ratios.sort((a, b) => a - b);
  return ratios[ratios.length >> 1] as number;
}
