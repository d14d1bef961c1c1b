import { type DayGrid, joinDays, someDays } from './day-grid.ts';
import {
  DEFAULT_GUST_FACTOR,
  type HourRules,
  type HoursOfDay,
  type LimitTable,
  limitTable,
  markHours,
} from './hour-marks.ts';
import { clockOf, type SiteClock } from './site-clock.ts';
import type { DayClock } from './site-day.ts';
import type { VisitWork } from './site-day-work.ts';
import { VisitTally } from './visit-tally.ts';
import type { WindowRow } from './window-row.ts';

/** How windows are counted. */
export interface WindowRules extends HourRules {
  /** Dates on either side that are counted with a date; default 7. */
  readonly halfWidthDays?: number;
  /** Lost days are counted up to this many; default 60. */
  readonly mostLostDays?: number;
  /** Whether outside days that follow each other must be good in a row; default false: a bad day puts the rest off. */
  readonly inARow?: boolean;
  /** With this many years of its own a date weighs as much as its month; default 3. */
  readonly monthWeightYears?: number;
}

/** What the windows of a site stand on. */
export interface WindowBasis {
  readonly days: number;
  /** Hours that the work may reach: those of the shift and the dry-after times that follow it. */
  readonly hours: number;
  readonly typicalYear: boolean;
  /** Hours whose gust was estimated as mean wind x `gustFactor`. */
  readonly gustEstimatedHours: number;
  readonly gustFactor: number;
  /** Hours of which it is known whether it thundered; where there is none, thunder is not in the odds. */
  readonly thunderKnownHours: number;
}

/** A day that is judged looks back no further than this; the last of them still waits for the day after it. */
const TAIL_DAYS = 2;

/**
 * The dry windows of one site for several visits at once, grown by days: a first call takes a whole record, later ones only the new days. A day is
 * judged once the day after it is there: work may stop for the night, and sealant must stay dry into the evening.
 */
export class SiteWindows {
  readonly #visits: readonly VisitTally[];
  readonly #table: LimitTable;
  readonly #clocks: readonly DayClock[];
  readonly #rules: HourRules & { readonly gustFactor: number };
  readonly #mostLostDays: number;
  readonly #hoursOfDay: HoursOfDay;
  #tail: DayGrid | null = null;
  #nextDay: number | null = null;
  #days = 0;
  #hours = 0;
  #typicalYear = false;
  #gustEstimatedHours = 0;
  #thunderKnownHours = 0;

  constructor(visits: readonly VisitWork[], clock: SiteClock, rules: WindowRules = {}) {
    const { halfWidthDays = 7, mostLostDays = 60, inARow = false, monthWeightYears = 3 } = rules;
    this.#rules = { ...rules, gustFactor: rules.gustFactor ?? DEFAULT_GUST_FACTOR };
    this.#mostLostDays = mostLostDays;
    this.#table = limitTable(visits, rules);
    this.#clocks = Array.from({ length: 366 }, (_, date) => clockOf(clock, date));
    this.#hoursOfDay = hoursAskedFor(this.#clocks, visits);
    const { gustFactor } = this.#rules;
    const { shiftFromMin } = clock;
    const tallyRules = { halfWidthDays, mostLostDays, inARow, monthWeightYears, gustFactor, shiftFromMin };
    this.#visits = visits.map((work) => new VisitTally(work, tallyRules));
  }

  /** Takes days in, which must begin right after the last one taken. A typical year is taken whole and alone, its end followed by its start. */
  append(grid: DayGrid): void {
    if (this.#nextDay !== null && (grid.firstDay !== this.#nextDay || grid.typicalYear || this.#typicalYear))
      throw new RangeError('days must begin right after the last one taken; a typical year stands alone');
    const seen = this.#tail?.dayCount ?? 0;
    const strip = grid.typicalYear
      ? followedByItsStart(grid, this.#mostLostDays)
      : joinDays(this.#tail, grid);
    const marks = markHours(strip, this.#table, this.#rules, this.#hoursOfDay, seen);
    const end = strip.dayCount - 1;
    const judged = { first: Math.max(0, seen - 1), before: grid.typicalYear ? grid.dayCount : end, end };
    for (const visit of this.#visits) visit.take(strip, marks, this.#table, this.#clocks, judged);
    this.#days += grid.dayCount;
    this.#nextDay = grid.firstDay + grid.dayCount;
    this.#typicalYear = grid.typicalYear;
    this.#tail = grid.typicalYear
      ? null
      : someDays(strip, Math.max(0, strip.dayCount - TAIL_DAYS), strip.dayCount);
    const hoursADay = this.#hoursOfDay.to - this.#hoursOfDay.from;
    const hours = grid.dayCount * hoursADay;
    this.#hours += hours;
    // The start of a typical year is marked twice.
    this.#gustEstimatedHours += Math.min(marks.gustEstimatedHours, hours);
    this.#thunderKnownHours += Math.min(marks.thunderKnownHours, hours);
  }

  /** The odds of all 366 dates for the n-th visit, or of `count` dates from `first` on, round the end of the year. */
  rowsOf(visit: number, first = 0, count = 366): WindowRow[] {
    return this.#at(visit).tally.rows(first, count);
  }

  /** The odds of one date for the n-th visit. */
  rowOf(visit: number, date: number): WindowRow {
    return this.#at(visit).tally.row(date);
  }

  /** Chances of 0, 1, 2 ... lost days for a visit that begins on a date; null where nothing is known. */
  lostChancesOf(visit: number, date: number): Float64Array | null {
    return this.#at(visit).tally.lostChances(date);
  }

  /** What each judged day was good for on the visit's first outside day, in order of days; see `DAY`. */
  statesOf(visit: number): Uint8Array {
    return this.#at(visit).states();
  }

  /** Latest start of each judged day, minutes after midnight of the record's clock; -1 where the day was not good. */
  latestStartsOf(visit: number): Int16Array {
    return this.#at(visit).latestStarts();
  }

  basis(): WindowBasis {
    return {
      days: this.#days,
      hours: this.#hours,
      typicalYear: this.#typicalYear,
      gustEstimatedHours: this.#gustEstimatedHours,
      gustFactor: this.#rules.gustFactor,
      thunderKnownHours: this.#thunderKnownHours,
    };
  }

  #at(visit: number): VisitTally {
    const found = this.#visits[visit];
    if (!found) throw new RangeError(`there are ${this.#visits.length} visits`);
    return found;
  }
}

/** A typical year goes round: visits that begin in its last days end in its first. */
function followedByItsStart(grid: DayGrid, mostLostDays: number): DayGrid {
  return joinDays(grid, someDays(grid, 0, Math.min(grid.dayCount, mostLostDays + 32)));
}

/** The hours of the day that the work may reach; the whole day where a shift or a dry-after time reaches over midnight. */
function hoursAskedFor(clocks: readonly DayClock[], visits: readonly VisitWork[]): HoursOfDay {
  const dryAfterMin = Math.max(
    0,
    ...visits.flat().flatMap((day) => (day?.steps ?? []).map((step) => step.dryAfterMin)),
  );
  const from = Math.floor(Math.min(...clocks.map((clock) => clock.shiftFromMin)) / 60);
  const to = Math.ceil((Math.max(...clocks.map((clock) => clock.shiftToMin)) + dryAfterMin) / 60);
  return from < 0 || to > 24 ? { from: 0, to: 24 } : { from, to };
}
