import { type Answer, cannotSay, DryspellError, known, monthOf } from '../../kernel/src/index.ts';
import {
  badDayChain,
  type MonthlyTable,
  NO_ASSUMPTIONS,
  UNKNOWN_MONTH,
  type WeatherAssumptions,
} from './monthly-table.ts';
import { type DayBefore, firstDayBadChance, type TwoStateChain } from './two-state-chain.ts';

/** How the lost days of a visit are counted. */
export interface LostDaysOptions {
  /** The share of stays whose lost days fit in the reserve; default 0.8 (the P80 of lost days). */
  readonly reserveConfidence?: number;
  /**
   * Whether outside days that follow each other must be good in a row, so that a bad day throws a started block back
   * to its first day (default, and the cautious reading), or whether a bad day only puts the rest off.
   */
  readonly inARow?: boolean;
  /** What is known of the day before the start; default unknown. */
  readonly before?: DayBefore;
  /** Lost days are not counted beyond this many; default 60. */
  readonly maxLostDays?: number;
  /** What to put where the table does not say; default nothing. */
  readonly assumptions?: WeatherAssumptions;
}

/** The chances of 0, 1, 2 ... lost days for a stay that begins on one day. */
export interface LostDays {
  readonly chances: Float64Array;
  /** Chance that more than `maxLostDays` are lost; those stays are counted with `maxLostDays` in the mean. */
  readonly beyondChance: number;
  readonly expectedLostDays: number;
  readonly reserveDays: number;
}

/**
 * The exact distribution of lost days of a visit: an absorbing Markov chain over (site days done, yesterday good or
 * bad), stepped day by day so that each day has the weather of its own month.
 * `pattern` says for each site day whether it is outside; an inside day is never lost. `chainOf` gives the weather of
 * the n-th day of the stay, n from 0. Days are taken one after another without the crew's weekends: a stay over a weekend sees
 * a little more change of weather than is counted here.
 */
export function lostDaysOfStay(
  pattern: readonly boolean[],
  chainOf: (nth: number) => TwoStateChain,
  options: LostDaysOptions = {},
): LostDays {
  const { reserveConfidence = 0.8, inARow = true, before = 'unknown', maxLostDays = 60 } = options;
  if (!(reserveConfidence > 0 && reserveConfidence < 1)) {
    throw new DryspellError('invalid-input', {
      field: 'reserveConfidence',
      value: reserveConfidence,
      expected: 'between 0 and 1',
    });
  }
  const siteDays = pattern.length;
  const blockStart = pattern.map((outside, k) => (outside && inARow ? firstOfBlock(pattern, k) : k));
  const chances = new Float64Array(maxLostDays + 1);
  let afterGood = new Float64Array(siteDays + 1);
  let afterBad = new Float64Array(siteDays + 1);
  // The first day is drawn by itself; after it both vectors hold what yesterday was.
  const firstBad = firstDayBadChance(chainOf(0), before);
  if (siteDays === 0) chances[0] = 1;
  else advance(0, 1, firstBad);
  let left = settle(0);
  for (let day = 1; day < siteDays + maxLostDays && left > 1e-13; day += 1) {
    const chain = chainOf(day);
    const [good, bad] = [afterGood, afterBad];
    afterGood = new Float64Array(siteDays + 1);
    afterBad = new Float64Array(siteDays + 1);
    for (let k = 0; k < siteDays; k += 1) {
      advance(k, good[k] as number, chain.badAfterGood);
      advance(k, bad[k] as number, chain.badAfterBad);
    }
    left = settle(day);
  }

  function advance(done: number, weight: number, badChance: number): void {
    if (weight === 0) return;
    const onBad = pattern[done] ? (blockStart[done] as number) : done + 1;
    afterGood[done + 1] = (afterGood[done + 1] as number) + weight * (1 - badChance);
    afterBad[onBad] = (afterBad[onBad] as number) + weight * badChance;
  }

  /** Moves finished stays into the distribution and says how much is still under way. */
  function settle(day: number): number {
    const lost = day + 1 - siteDays;
    if (lost >= 0) {
      chances[lost] =
        (chances[lost] as number) + (afterGood[siteDays] as number) + (afterBad[siteDays] as number);
    }
    let underWay = 0;
    for (let k = 0; k < siteDays; k += 1) underWay += (afterGood[k] as number) + (afterBad[k] as number);
    return underWay;
  }

  let mean = 0;
  let within = 0;
  let reserveDays = maxLostDays;
  for (let lost = maxLostDays; lost >= 0; lost -= 1) mean += lost * (chances[lost] as number);
  for (let lost = 0; lost <= maxLostDays; lost += 1) {
    within += chances[lost] as number;
    if (within >= reserveConfidence - 1e-12) {
      reserveDays = lost;
      break;
    }
  }
  return {
    chances,
    beyondChance: left > 1e-13 ? left : 0,
    expectedLostDays: mean + maxLostDays * left,
    reserveDays,
  };
}

/** One entry a day, for outside work that starts on that day. */
export interface LostDaysTable {
  readonly expectedLostDays: readonly number[];
  readonly reserveDays: readonly number[];
  /** Highest chance of any start day that more days are lost than were counted. */
  readonly worstBeyondChance: number;
  /** What had to be assumed, by month 1..12; empty when nothing. */
  readonly assumed: readonly { readonly month: number; readonly names: readonly string[] }[];
}

/**
 * Expected lost days (rounded to 4 decimals) and reserve days for each start day of `firstDay`..`lastDay` (days since
 * 1970-01-01). Cannot say when a month that a stay may reach is unknown and nothing is assumed; `missing` then names
 * month and field, such as `3.windyDayShare`.
 */
export function lostDaysTable(
  table: MonthlyTable,
  pattern: readonly boolean[],
  days: { readonly firstDay: number; readonly lastDay: number },
  options: LostDaysOptions = {},
): Answer<LostDaysTable, 'weather-unknown'> {
  const { maxLostDays = 60, assumptions = NO_ASSUMPTIONS } = options;
  const span = pattern.length + maxLostDays;
  const reached = new Set<number>();
  for (let day = days.firstDay; day <= days.lastDay + span && reached.size < 12; day += 1)
    reached.add(monthOf(day));
  const chains = new Map<number, TwoStateChain>();
  const missing: string[] = [];
  const assumed: { month: number; names: readonly string[] }[] = [];
  for (const month of [...reached].sort((a, b) => a - b)) {
    const answer = badDayChain(table[month - 1] ?? UNKNOWN_MONTH, assumptions);
    if (!answer.known) missing.push(...answer.missing.map((name) => `${month}.${name}`));
    else {
      chains.set(month, answer.value.chain);
      if (answer.value.assumed.length > 0) assumed.push({ month, names: answer.value.assumed });
    }
  }
  if (missing.length > 0) return cannotSay('weather-unknown', missing);

  const byDay: TwoStateChain[] = [];
  for (let day = days.firstDay; day <= days.lastDay + span; day += 1)
    byDay.push(chains.get(monthOf(day)) as TwoStateChain);
  const expectedLostDays: number[] = [];
  const reserveDays: number[] = [];
  let worstBeyondChance = 0;
  for (let start = 0; start <= days.lastDay - days.firstDay; start += 1) {
    const stay = lostDaysOfStay(pattern, (nth) => byDay[start + nth] as TwoStateChain, options);
    expectedLostDays.push(Math.round(stay.expectedLostDays * 10_000) / 10_000);
    reserveDays.push(stay.reserveDays);
    worstBeyondChance = Math.max(worstBeyondChance, stay.beyondChance);
  }
  return known({ expectedLostDays, reserveDays, worstBeyondChance, assumed });
}

function firstOfBlock(pattern: readonly boolean[], k: number): number {
  let first = k;
  while (first > 0 && pattern[first - 1]) first -= 1;
  return first;
}
