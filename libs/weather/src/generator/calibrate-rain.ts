import type { WorkableLimits } from '../monthly-from-hourly.ts';
import { chainFromShare, lagOneCorrelation } from '../two-state-chain.ts';
import type { GeneratorAssumptions, GeneratorMonth, RainParameters } from './generator-parameters.ts';
import { expectedWetHours } from './rain-of-day.ts';

const MONTH_DAYS = [31, 28.2425, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** Rain of a month that fits what is known, and how. */
export interface FittedRain {
  readonly rain: RainParameters;
  readonly assumed: readonly ('wetDayCorrelation' | 'rainMmPerWetDay' | 'meanWetHours')[];
  readonly notMet: readonly {
    readonly name: 'rainMmPerMonth' | 'meanWetHours';
    readonly wanted: number;
    readonly got: number;
  }[];
}

/**
 * Chain and amounts of a month (1 to 12), such that share of wet days, persistence and the month's rain are met in the long
 * run. Every wet hour has at least the limit's rain; where the rain does not suffice for so many hours they are made fewer,
 * and where not even for one, the month gets more rain than was said. Both are listed. Null when the share of wet days is
 * unknown.
 */
export function fitRain(
  figures: GeneratorMonth,
  month: number,
  limits: WorkableLimits,
  assumptions: GeneratorAssumptions,
): FittedRain | null {
  const wetShare = figures.wetDayShare;
  if (wetShare === null) return null;
  const gammaShape = assumptions.rainShape;
  if (wetShare === 0) {
    const rain = { wetShare, correlation: 0, meanWetHours: 1, gammaShape, gammaScaleMm: 0 };
    const rainMm = figures.rainMmPerMonth ?? 0;
    return {
      rain,
      assumed: [],
      notMet: rainMm === 0 ? [] : [{ name: 'rainMmPerMonth', wanted: rainMm, got: 0 }],
    };
  }
  const assumed: FittedRain['assumed'][number][] = [];
  const notMet: FittedRain['notMet'][number][] = [];
  const take = (value: number | null | undefined, name: FittedRain['assumed'][number]): number => {
    if (value === null || value === undefined) assumed.push(name);
    return value ?? assumptions[name];
  };
  const correlation =
    figures.wetAfterWet === null
      ? take(null, 'wetDayCorrelation')
      : lagOneCorrelation(chainFromShare(wetShare, figures.wetAfterWet));
  const wetDays = wetShare * (MONTH_DAYS[month - 1] as number);
  const rainMm = take(
    typeof figures.rainMmPerMonth === 'number' ? figures.rainMmPerMonth / wetDays : null,
    'rainMmPerWetDay',
  );
  const wantedHours = take(figures.meanWetHours, 'meanWetHours');
  const leastMm = (hours: number): number => limits.rainMmPerHour * expectedWetHours(hours);
  const meanWetHours =
    leastMm(wantedHours) < rainMm ? wantedHours : Math.max(1, rainMm / 2 / limits.rainMmPerHour);
  if (meanWetHours !== wantedHours)
    notMet.push({ name: 'meanWetHours', wanted: wantedHours, got: meanWetHours });
  const extraMm = rainMm - leastMm(meanWetHours);
  if (extraMm < 0) {
    const got = leastMm(meanWetHours) * wetDays;
    notMet.push({ name: 'rainMmPerMonth', wanted: rainMm * wetDays, got });
  }
  const gammaScaleMm = Math.max(0, extraMm) / gammaShape;
  return { rain: { wetShare, correlation, meanWetHours, gammaShape, gammaScaleMm }, assumed, notMet };
}
