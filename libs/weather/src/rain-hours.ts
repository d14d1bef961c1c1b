import type { HourlyRecord } from './hourly-record.ts';
import type { WorkableLimits } from './monthly-from-hourly.ts';
import { hourOfDay } from './record-clock.ts';

/** At which hours of the day a record has rain. */
export interface RainHours {
  /** Hours with at least the limit's rain, and how many of them lie in working hours. */
  readonly wetHours: number;
  readonly wetWorkHours: number;
  /** The different hours of the day, 0 to 23, in which any of them lies. */
  readonly hoursOfDay: readonly number[];
  /** Chance that so few would lie in working hours if rain fell at any hour of the day alike; 1 for a record without rain. */
  readonly chanceOfSoFew: number;
}

/**
 * Looks whether a record's rain can be read hour by hour. Some stations note totals of many hours at fixed times; where these lie outside
 * working hours the record shows no wet working hour although it rained by day. `chanceOfSoFew` is the lower tail of a binomial with
 * the share of the day that is working hours; rain hours of one shower hang together, so only very small values mean something.
 */
export function rainHours(record: HourlyRecord, limits: WorkableLimits): RainHours {
  const seen = new Set<number>();
  let wetHours = 0;
  let wetWorkHours = 0;
  record.rainMm.forEach((rain, at) => {
    if (Number.isNaN(rain) || rain < limits.rainMmPerHour) return;
    const hour = hourOfDay(record.hourIndex[at] as number);
    seen.add(hour);
    wetHours += 1;
    if (hour >= limits.workFromHour && hour < limits.workToHour) wetWorkHours += 1;
  });
  const workShare = (limits.workToHour - limits.workFromHour) / 24;
  return {
    wetHours,
    wetWorkHours,
    hoursOfDay: [...seen].sort((a, b) => a - b),
    chanceOfSoFew: lowerTail(wetHours, wetWorkHours, workShare),
  };
}

/** Chance of at most k of n under a binomial share, summed by logarithms so that thousands of hours do not underflow. */
function lowerTail(n: number, k: number, share: number): number {
  if (k >= n || share <= 0) return 1;
  if (share >= 1) return 0;
  let logTerm = n * Math.log1p(-share);
  let sum = Math.exp(logTerm);
  for (let i = 1; i <= k; i += 1) {
    logTerm += Math.log((n - i + 1) / i) + Math.log(share) - Math.log1p(-share);
    sum += Math.exp(logTerm);
  }
  return Math.min(1, sum);
}
