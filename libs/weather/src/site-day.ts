import type { DayGrid } from './day-grid.ts';
import type { HourMarks, LimitTable } from './hour-marks.ts';
import { LatestClose, NEVER_CLOSES } from './latest-close.ts';
import type { OutsideStep, SiteDayWork } from './site-day-work.ts';
import { StepHours } from './step-hours.ts';

/** What a day is good for. `SPLIT`: the work stops for the night in a safe state and is closed on the next day. */
export const DAY = { BAD: 0, GOOD: 1, SPLIT: 2, UNKNOWN: 3 } as const;

/** Between when work is possible on a day, in minutes after midnight of the grid's clock; may reach over either midnight. */
export interface DayClock {
  readonly shiftFromMin: number;
  readonly shiftToMin: number;
  readonly lightFromMin: number;
  readonly lightToMin: number;
}

/** When each step is done on a day; minutes after midnight of the grid's clock. */
export interface PlacedStep {
  readonly key: string;
  readonly startMin: number;
  readonly endMin: number;
}

const NEVER = -1;

/**
 * Holds one site day's outside work against the marks of a grid. Steps are done in order: one that may be paused uses every workable hour, one that
 * may not waits for hours enough in a row. After a step with a dry-after time the hours must stay dry, or the step is done later, so that it ends
 * when the wet is over. Where a step would begin later than its open time allows, the step before is put off.
 */
export class SiteDayTimer {
  readonly #hours: StepHours;
  readonly #latest: LatestClose;
  readonly #makeSafeGustMps: number | null;
  readonly #mayStop: boolean;
  readonly #allInDaylight: boolean;
  readonly #start: Int32Array;
  readonly #end: Int32Array;

  constructor(work: SiteDayWork, grid: DayGrid, table: LimitTable, marks: HourMarks, gustFactor: number) {
    const { steps, makeSafeGustMps } = work;
    this.#hours = new StepHours(steps, grid, table, marks, gustFactor);
    this.#latest = new LatestClose(this.#hours);
    this.#makeSafeGustMps = makeSafeGustMps;
    this.#mayStop = makeSafeGustMps !== null && steps.some((step) => step.mayStopAfter);
    this.#allInDaylight = steps.every((step) => step.limits.needsDaylight);
    this.#start = new Int32Array(steps.length);
    this.#end = new Int32Array(steps.length);
  }

  /** What day `day` of the grid is good for; `next` is the clock of the day after it, for work that stops for the night. */
  stateOf(day: number, clock: DayClock, next: DayClock): number {
    if (this.latestStart(day, clock) !== null) return DAY.GOOD;
    if (this.#mayStop && this.#splits(day, clock, next, true)) return DAY.SPLIT;
    if (!this.#hours.unknownNear(day)) return DAY.BAD;
    const hopeful =
      this.#run(day, clock, clock.shiftFromMin, 0, false) === this.#hours.steps.length ||
      (this.#mayStop && this.#splits(day, clock, next, false));
    return hopeful ? DAY.UNKNOWN : DAY.BAD;
  }

  /** The latest minute at which a good day's work may begin and still be closed that day. Null on other days. */
  latestStart(day: number, clock: DayClock): number | null {
    if (this.#plainlyGood(day, clock)) {
      const end = this.#allInDaylight ? Math.min(clock.shiftToMin, clock.lightToMin) : clock.shiftToMin;
      return end - this.#hours.workMin;
    }
    const latest = this.#latest.startOf(day, clock);
    if (latest !== null) return latest === NEVER_CLOSES ? null : latest;
    return this.#searchedStart(day, clock);
  }

  /** When each step is done if each is done as early as it can be, as far as the day carries it; unknown hours are not workable. */
  place(day: number, clock: DayClock, fromMin = clock.shiftFromMin): PlacedStep[] {
    const done = this.#run(day, clock, fromMin, 0, true);
    return this.#hours.steps
      .slice(0, done)
      .map(({ key }, at) => ({ key, startMin: this.#start[at] as number, endMin: this.#end[at] as number }));
  }

  /** Every hour from the start of the shift to the last dry-after hour keeps every limit, and it is light: nothing to search. */
  #plainlyGood(day: number, clock: DayClock): boolean {
    if (clock.lightFromMin > clock.shiftFromMin) return false;
    if (!this.#allInDaylight && clock.lightToMin < clock.shiftToMin) return false;
    const end = Math.min(clock.lightToMin, clock.shiftToMin);
    if (end - clock.shiftFromMin < this.#hours.workMin) return false;
    const last = clock.shiftToMin + this.#hours.longestDryAfterMin - 1;
    return this.#hours.keepsAll(hourOf(day, clock.shiftFromMin), hourOf(day, last));
  }

  /** Where open times matter: the earlier the work begins the better, so the last minute that works is halved in. */
  #searchedStart(day: number, clock: DayClock): number | null {
    const closes = (from: number): boolean =>
      this.#run(day, clock, from, 0, true) === this.#hours.steps.length;
    if (!closes(clock.shiftFromMin)) return null;
    let works = clock.shiftFromMin;
    let fails = clock.shiftToMin - this.#hours.workMin + 1;
    while (fails - works > 1) {
      const middle = (works + fails) >> 1;
      if (closes(middle)) works = middle;
      else fails = middle;
    }
    return works;
  }

  #splits(day: number, clock: DayClock, next: DayClock, unknownFails: boolean): boolean {
    const { steps } = this.#hours;
    let stop = this.#run(day, clock, clock.shiftFromMin, 0, unknownFails) - 1;
    const nightFrom = (at: number): number => next.shiftFromMin + 1440 - (this.#end[at] as number);
    const mayStop = (at: number): boolean =>
      (steps[at] as OutsideStep).mayStopAfter &&
      nightFrom(at) <= (steps[at + 1]?.maxLagMin ?? Number.POSITIVE_INFINITY);
    while (stop >= 0 && !mayStop(stop)) stop -= 1;
    const following = steps[stop + 1];
    if (stop < 0 || following === undefined) return false;
    const stoppedMin = this.#end[stop] as number;
    const to = hourOf(day + 1, next.shiftFromMin - 1);
    for (let hour = hourOf(day, stoppedMin); hour <= to; hour += 1) {
      const gust = this.#hours.gustAt(hour);
      if (Number.isNaN(gust) ? unknownFails : gust > (this.#makeSafeGustMps as number)) return false;
    }
    // The night counts as time between the two steps: what must cure goes on, what must stay open may not.
    const notBefore = Math.max(next.shiftFromMin, stoppedMin + following.lagMin - 1440);
    if (this.#run(day + 1, next, notBefore, stop + 1, unknownFails) !== steps.length) return false;
    const openMin = (this.#start[stop + 1] as number) + 1440 - stoppedMin;
    return openMin <= (following.maxLagMin ?? Number.POSITIVE_INFINITY);
  }

  /** Places the steps from `first` on, each as early as it can be; how many of all steps are done when the day ends. */
  #run(day: number, clock: DayClock, fromMin: number, first: number, unknownFails: boolean): number {
    const { steps } = this.#hours;
    let at = first;
    let notBefore = fromMin;
    // Each time a step is put off it moves by at least a minute, so this ends; the count only guards against a mistake.
    for (let turns = 0; at < steps.length && turns < 10_000; turns += 1) {
      const step = steps[at] as OutsideStep;
      if (!this.#placeStep(at, day, clock, notBefore, unknownFails)) return at;
      const start = this.#start[at] as number;
      if (step.maxLagMin !== null && at > first && start - (this.#end[at - 1] as number) > step.maxLagMin) {
        const before = steps[at - 1] as OutsideStep;
        const later = (this.#start[at - 1] as number) + 1;
        notBefore = before.interruptible
          ? later
          : Math.max(later, start - step.maxLagMin - before.durationMin);
        at -= 1;
        continue;
      }
      at += 1;
      if (at < steps.length) notBefore = (this.#end[at - 1] as number) + (steps[at] as OutsideStep).lagMin;
    }
    return at;
  }

  #placeStep(at: number, day: number, clock: DayClock, notBefore: number, unknownFails: boolean): boolean {
    const step = this.#hours.steps[at] as OutsideStep;
    const daylight = step.limits.needsDaylight;
    const to = daylight ? Math.min(clock.shiftToMin, clock.lightToMin) : clock.shiftToMin;
    let from = daylight ? Math.max(notBefore, clock.lightFromMin) : notBefore;
    while (from + step.durationMin <= to) {
      const end = step.interruptible
        ? this.#endInPieces(at, day, from, to, unknownFails)
        : this.#endInOneGo(at, day, from, to, unknownFails);
      if (end === NEVER) return false;
      const wetUntil = this.#wetAfter(at, day, end, unknownFails);
      if (wetUntil === NEVER) {
        this.#end[at] = end;
        return true;
      }
      // Ending in the dry is enough. In one go the end follows the start; in pieces it may jump over hours, so each minute is tried.
      const later = (this.#start[at] as number) + 1;
      from = step.interruptible ? later : Math.max(later, wetUntil - step.durationMin);
    }
    return false;
  }

  #endInOneGo(at: number, day: number, from: number, to: number, unknownFails: boolean): number {
    const { durationMin } = this.#hours.steps[at] as OutsideStep;
    let start = from;
    let minute = from;
    while (minute < start + durationMin) {
      if (start + durationMin > to) return NEVER;
      const hourEnd = (Math.floor(minute / 60) + 1) * 60;
      if (!this.#hours.workable(at, hourOf(day, minute), unknownFails)) start = hourEnd;
      minute = hourEnd;
    }
    this.#start[at] = start;
    return start + durationMin;
  }

  #endInPieces(at: number, day: number, from: number, to: number, unknownFails: boolean): number {
    let left = (this.#hours.steps[at] as OutsideStep).durationMin;
    let start = left === 0 ? from : NEVER;
    let minute = from;
    while (left > 0 && minute < to) {
      const pieceEnd = Math.min((Math.floor(minute / 60) + 1) * 60, to);
      if (this.#hours.workable(at, hourOf(day, minute), unknownFails)) {
        if (start === NEVER) start = minute;
        const piece = Math.min(left, pieceEnd - minute);
        left -= piece;
        minute += piece;
      } else minute = pieceEnd;
    }
    if (left > 0) return NEVER;
    this.#start[at] = start;
    return minute;
  }

  /** The end of the last wet hour within the dry-after time; NEVER where all of it stays dry. */
  #wetAfter(at: number, day: number, end: number, unknownFails: boolean): number {
    const { dryAfterMin } = this.#hours.steps[at] as OutsideStep;
    for (let minute = end + dryAfterMin - 1; minute >= end; minute = Math.floor(minute / 60) * 60 - 1)
      if (!this.#hours.dry(at, hourOf(day, minute), unknownFails)) return (Math.floor(minute / 60) + 1) * 60;
    return NEVER;
  }
}

function hourOf(day: number, minute: number): number {
  return day * 24 + Math.floor(minute / 60);
}
