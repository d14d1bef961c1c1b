import { monthAndDay } from './day-grid.ts';
import { wilsonInterval } from './wilson.ts';
import type { WindowRow } from './window-row.ts';

/** How the days around a date are counted. */
export interface TallyRules {
  readonly halfWidthDays: number;
  readonly mostLostDays: number;
  readonly monthWeightYears: number;
}

const DATES = 366;
const START_BIN_MIN = 15;
const START_BINS = 1440 / START_BIN_MIN;
const MONTH_OF = Uint8Array.from({ length: DATES }, (_, date) => monthAndDay(date).month - 1);

/** Counts good days, lost days and latest starts for each date with the dates around it, and for each month; grows day by day. */
export class DateTally {
  readonly #rules: TallyRules;
  readonly #bins: number;
  readonly #known = new Uint32Array(DATES);
  readonly #good = new Uint32Array(DATES);
  readonly #monthKnown = new Uint32Array(12);
  readonly #monthGood = new Uint32Array(12);
  readonly #lost: Uint16Array;
  readonly #monthLost: Uint32Array;
  readonly #starts = new Uint16Array(DATES * START_BINS);
  readonly #years = new Uint16Array(DATES);
  readonly #lastYear = new Int32Array(DATES).fill(-1);

  constructor(rules: TallyRules) {
    this.#rules = rules;
    this.#bins = rules.mostLostDays + 1;
    this.#lost = new Uint16Array(DATES * this.#bins);
    this.#monthLost = new Uint32Array(12 * this.#bins);
  }

  /** A day of which it is known whether it was good; `latestStartMin` of a good one. Days come in order; a typical year has no `year`. */
  addDay(date: number, year: number | null, good: boolean, latestStartMin: number | null): void {
    const { halfWidthDays } = this.#rules;
    const month = MONTH_OF[date] as number;
    this.#monthKnown[month] = (this.#monthKnown[month] as number) + 1;
    if (good) this.#monthGood[month] = (this.#monthGood[month] as number) + 1;
    const bin =
      latestStartMin === null
        ? -1
        : Math.max(0, Math.min(START_BINS - 1, Math.floor(latestStartMin / START_BIN_MIN)));
    for (let off = -halfWidthDays; off <= halfWidthDays; off += 1) {
      const raw = date + off;
      const at = raw < 0 ? raw + DATES : raw >= DATES ? raw - DATES : raw;
      this.#known[at] = (this.#known[at] as number) + 1;
      if (good) this.#good[at] = (this.#good[at] as number) + 1;
      if (bin >= 0) this.#starts[at * START_BINS + bin] = (this.#starts[at * START_BINS + bin] as number) + 1;
      // Early January and late December stand together around a new year, and count as one year.
      const yearOf = year === null ? 0 : raw < 0 ? year - 1 : raw >= DATES ? year + 1 : year;
      if (yearOf !== this.#lastYear[at]) {
        this.#lastYear[at] = yearOf;
        this.#years[at] = (this.#years[at] as number) + 1;
      }
    }
  }

  /** A visit that began on a date and lost this many days. */
  addVisit(date: number, lost: number): void {
    const { halfWidthDays } = this.#rules;
    const month = (MONTH_OF[date] as number) * this.#bins + lost;
    this.#monthLost[month] = (this.#monthLost[month] as number) + 1;
    for (let off = -halfWidthDays; off <= halfWidthDays; off += 1) {
      const raw = date + off;
      const at = (raw < 0 ? raw + DATES : raw >= DATES ? raw - DATES : raw) * this.#bins + lost;
      this.#lost[at] = (this.#lost[at] as number) + 1;
    }
  }

  /** The odds of a date. */
  row(date: number): WindowRow {
    const month = MONTH_OF[date] as number;
    const years = this.#years[date] as number;
    const ownWeight = years / (years + this.#rules.monthWeightYears);
    const goodShare = share(this.#good[date] as number, this.#known[date] as number);
    const monthShare = share(this.#monthGood[month] as number, this.#monthKnown[month] as number);
    const shrunk = blend(goodShare, monthShare, ownWeight);
    const interval = shrunk === null ? { low: 0, high: 1 } : wilsonInterval(shrunk * years, years);
    return {
      date,
      ...monthAndDay(date),
      goodShare,
      shrunkGoodShare: shrunk,
      ownWeight,
      goodLow: interval.low,
      goodHigh: interval.high,
      knownDays: this.#known[date] as number,
      years,
      ...this.#lostDays(date, month, ownWeight),
      ...this.#latestStarts(date),
    };
  }

  /** Chances of 0, 1, 2 ... lost days after shrinkage; null where no visit is known. The last entry holds that many or more. */
  lostChances(date: number): Float64Array | null {
    const years = this.#years[date] as number;
    return this.#chances(date, MONTH_OF[date] as number, years / (years + this.#rules.monthWeightYears));
  }

  #chances(date: number, month: number, ownWeight: number): Float64Array | null {
    const bins = this.#bins;
    let own = 0;
    let ofMonth = 0;
    for (let lost = 0; lost < bins; lost += 1) {
      own += this.#lost[date * bins + lost] as number;
      ofMonth += this.#monthLost[month * bins + lost] as number;
    }
    if (own + ofMonth === 0) return null;
    const weight = own === 0 ? 0 : ofMonth === 0 ? 1 : ownWeight;
    const chances = new Float64Array(bins);
    for (let lost = 0; lost < bins; lost += 1)
      chances[lost] =
        (own === 0 ? 0 : (weight * (this.#lost[date * bins + lost] as number)) / own) +
        (ofMonth === 0 ? 0 : ((1 - weight) * (this.#monthLost[month * bins + lost] as number)) / ofMonth);
    return chances;
  }

  #lostDays(date: number, month: number, ownWeight: number) {
    const chances = this.#chances(date, month, ownWeight);
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

  #latestStarts(date: number) {
    const bins = this.#starts.subarray(date * START_BINS, (date + 1) * START_BINS);
    let total = 0;
    for (const count of bins) total += count;
    const at = (part: number): number | null => {
      let seen = 0;
      for (let bin = 0; bin < START_BINS && total > 0; bin += 1) {
        seen += bins[bin] as number;
        if (seen > part * total) return bin * START_BIN_MIN;
      }
      return null;
    };
    return { latestStartMin: at(0.2), middleLatestStartMin: at(0.5) };
  }
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
