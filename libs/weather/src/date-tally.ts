import { monthAndDay } from './day-grid.ts';
import { wilsonInterval } from './wilson.ts';
import type { WindowRow } from './window-row.ts';
import { YearMarks } from './year-marks.ts';

/** How the days around a date are counted. */
export interface TallyRules {
  readonly halfWidthDays: number;
  readonly mostLostDays: number;
  readonly monthWeightYears: number;
  /** Start of the shift on each of the 366 dates, minutes after midnight of the record's clock. */
  readonly shiftFromMin: ArrayLike<number>;
}

const DATES = 366;
const START_BIN_MIN = 15;
const START_BINS = 1440 / START_BIN_MIN;
const MONTH_OF = Uint8Array.from({ length: DATES }, (_, date) => monthAndDay(date).month - 1);
const DATES_OF_MONTH = Array.from({ length: 12 }, (_, month) =>
  [...MONTH_OF.keys()].filter((date) => MONTH_OF[date] === month),
);

/** Counts good days, lost days and latest starts of each date; a date is read together with the dates around it, and with its month. */
export class DateTally {
  readonly #rules: TallyRules;
  readonly #bins: number;
  readonly #known = new Uint32Array(DATES);
  readonly #good = new Uint32Array(DATES);
  readonly #lost: Uint16Array;
  readonly #starts = new Uint16Array(DATES * START_BINS);
  readonly #years = new YearMarks(DATES);

  constructor(rules: TallyRules) {
    this.#rules = rules;
    this.#bins = rules.mostLostDays + 1;
    this.#lost = new Uint16Array(DATES * this.#bins);
  }

  /**
   * A day of which it is known whether it was good; `latestStartMin` of a good one. A typical year has no `year`. Starts are counted from the start of
   * the shift, so that dates on either side of a change of clocks can be read together.
   */
  addDay(date: number, year: number | null, good: boolean, latestStartMin: number | null): void {
    this.#known[date] = (this.#known[date] as number) + 1;
    if (good) this.#good[date] = (this.#good[date] as number) + 1;
    this.#years.add(date, year);
    if (latestStartMin === null) return;
    const bin = Math.max(
      0,
      Math.min(START_BINS - 1, Math.floor((latestStartMin - this.#shiftFromMin(date)) / START_BIN_MIN)),
    );
    this.#starts[date * START_BINS + bin] = (this.#starts[date * START_BINS + bin] as number) + 1;
  }

  /** A visit that began on a date and lost this many days. */
  addVisit(date: number, lost: number): void {
    this.#lost[date * this.#bins + lost] = (this.#lost[date * this.#bins + lost] as number) + 1;
  }

  /** The odds of `count` dates from `first` on, round the end of the year. */
  rows(first = 0, count = DATES): WindowRow[] {
    const months = new Map<number, Sums>();
    const near = this.#sumsOf(this.#datesNear(first));
    const { halfWidthDays } = this.#rules;
    return Array.from({ length: count }, (_, at) => {
      const date = (first + at) % DATES;
      // From date to date one comes in at the front and one leaves at the back.
      if (at > 0) {
        this.#count(near, (date - 1 - halfWidthDays + DATES) % DATES, -1);
        this.#count(near, (date + halfWidthDays) % DATES, 1);
      }
      const month = MONTH_OF[date] as number;
      const ofMonth = months.get(month) ?? this.#sumsOfMonth(date);
      months.set(month, ofMonth);
      return this.#rowFrom(date, near, ofMonth);
    });
  }

  /** The odds of one date. */
  row(date: number): WindowRow {
    return this.#rowFrom(date, this.#sumsOf(this.#datesNear(date)), this.#sumsOfMonth(date));
  }

  /** Chances of 0, 1, 2 ... lost days after shrinkage; null where no visit is known. The last entry holds that many or more. */
  lostChances(date: number): Float64Array | null {
    const ownWeight = this.#ownWeight(this.#years.around(date, this.#rules.halfWidthDays));
    return chancesOf(this.#sumsOf(this.#datesNear(date)), this.#sumsOfMonth(date), ownWeight);
  }

  #rowFrom(date: number, near: Sums, month: Sums): WindowRow {
    const years = this.#years.around(date, this.#rules.halfWidthDays);
    const ownWeight = this.#ownWeight(years);
    const goodShare = share(near.good, near.known);
    const shrunk = blend(goodShare, share(month.good, month.known), ownWeight);
    const interval = shrunk === null ? { low: 0, high: 1 } : wilsonInterval(shrunk * years, years);
    return {
      date,
      ...monthAndDay(date),
      goodShare,
      shrunkGoodShare: shrunk,
      ownWeight,
      goodLow: interval.low,
      goodHigh: interval.high,
      knownDays: near.known,
      years,
      ...lostDays(chancesOf(near, month, ownWeight)),
      latestStartMin: startAfter(this.#shiftFromMin(date), startKeptBy(near.starts, 0.2)),
      middleLatestStartMin: startAfter(this.#shiftFromMin(date), startKeptBy(near.starts, 0.5)),
    };
  }

  #shiftFromMin(date: number): number {
    return this.#rules.shiftFromMin[date] as number;
  }

  #ownWeight(years: number): number {
    return years / (years + this.#rules.monthWeightYears);
  }

  #datesNear(date: number): number[] {
    const { halfWidthDays } = this.#rules;
    return Array.from(
      { length: 2 * halfWidthDays + 1 },
      (_, at) => (date - halfWidthDays + at + DATES) % DATES,
    );
  }

  #sumsOfMonth(date: number): Sums {
    return this.#sumsOf(DATES_OF_MONTH[MONTH_OF[date] as number] as number[]);
  }

  #sumsOf(dates: readonly number[]): Sums {
    const sums = {
      known: 0,
      good: 0,
      visits: 0,
      lost: new Int32Array(this.#bins),
      starts: new Int32Array(START_BINS),
    };
    for (const date of dates) this.#count(sums, date, 1);
    return sums;
  }

  #count(sums: Sums, date: number, sign: 1 | -1): void {
    sums.known += sign * (this.#known[date] as number);
    sums.good += sign * (this.#good[date] as number);
    const [bins, lost] = [this.#bins, date * this.#bins];
    for (let bin = 0; bin < bins; bin += 1) {
      const count = this.#lost[lost + bin] as number;
      if (count === 0) continue;
      sums.visits += sign * count;
      sums.lost[bin] = (sums.lost[bin] as number) + sign * count;
    }
    const starts = date * START_BINS;
    for (let bin = 0; bin < START_BINS; bin += 1) {
      const count = this.#starts[starts + bin] as number;
      if (count !== 0) sums.starts[bin] = (sums.starts[bin] as number) + sign * count;
    }
  }
}

/** Counts of several dates together. */
interface Sums {
  known: number;
  good: number;
  visits: number;
  readonly lost: Int32Array;
  readonly starts: Int32Array;
}

function chancesOf(near: Sums, month: Sums, ownWeight: number): Float64Array | null {
  if (near.visits + month.visits === 0) return null;
  const weight = near.visits === 0 ? 0 : month.visits === 0 ? 1 : ownWeight;
  const own = near.visits === 0 ? 0 : weight / near.visits;
  const ofMonth = month.visits === 0 ? 0 : (1 - weight) / month.visits;
  const chances = new Float64Array(near.lost.length);
  for (let lost = 0; lost < chances.length; lost += 1)
    chances[lost] = own * (near.lost[lost] as number) + ofMonth * (month.lost[lost] as number);
  return chances;
}

const startAfter = (fromMin: number, startMin: number | null): number | null =>
  startMin === null ? null : fromMin + startMin;

/** The latest start, in minutes of the shift, that this part of the days does not reach; null without a start. */
function startKeptBy(starts: Int32Array, part: number): number | null {
  let all = 0;
  for (let bin = 0; bin < START_BINS; bin += 1) all += starts[bin] as number;
  let seen = 0;
  for (let bin = 0; bin < START_BINS && all > 0; bin += 1) {
    seen += starts[bin] as number;
    if (seen > part * all) return bin * START_BIN_MIN;
  }
  return null;
}

function lostDays(chances: Float64Array | null) {
  if (chances === null)
    return { lostMean: null, lostP50: null, lostP80: null, lostP95: null, hopelessShare: null };
  let mean = 0;
  for (let lost = 1; lost < chances.length; lost += 1) mean += lost * (chances[lost] as number);
  return {
    lostMean: mean,
    lostP50: quantileDays(chances, 0.5),
    lostP80: quantileDays(chances, 0.8),
    lostP95: quantileDays(chances, 0.95),
    hopelessShare: chances[chances.length - 1] as number,
  };
}

/** The smallest whole number of days that at least this share of visits keeps to. */
export function quantileDays(chances: Float64Array, part: number): number {
  let within = 0;
  for (let lost = 0; lost < chances.length; lost += 1) {
    within += chances[lost] as number;
    if (within >= part - 1e-12) return lost;
  }
  return chances.length - 1;
}

const share = (yes: number, of: number): number | null => (of === 0 ? null : yes / of);

function blend(own: number | null, month: number | null, ownWeight: number): number | null {
  if (own === null) return month;
  return month === null ? own : ownWeight * own + (1 - ownWeight) * month;
}
