import type { DayGrid } from './day-grid.ts';
import { type HourMarks, type LimitTable, type StepNeed, UNKNOWN } from './hour-marks.ts';
import type { OutsideStep, SiteDayWork } from './site-day-work.ts';

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
const ALL_UNKNOWN = UNKNOWN.gust | UNKNOWN.wind | UNKNOWN.rain | UNKNOWN.temp | UNKNOWN.dew;

/**
 * Holds one site day's outside work against the marks of a grid. Steps are done in order, each as early as it can be: one that may be paused
 * uses every workable hour, one that may not waits for hours enough in a row. After a step with a dry-after time the hours must stay dry, or the
 * step is done later, so that it ends when the wet is over. Where a step would begin later than its open time allows, the step before is put off.
 */
export class SiteDayTimer {
  readonly #steps: readonly OutsideStep[];
  readonly #needs: readonly StepNeed[];
  readonly #makeSafeGustMps: number | null;
  readonly #grid: DayGrid;
  readonly #marks: HourMarks;
  readonly #gustFactor: number;
  readonly #limitBits: number;
  readonly #workMin: number;
  readonly #allInDaylight: boolean;
  readonly #start: Int32Array;
  readonly #end: Int32Array;

  constructor(work: SiteDayWork, grid: DayGrid, table: LimitTable, marks: HourMarks, gustFactor: number) {
    this.#steps = work.steps;
    this.#needs = work.steps.map((step) => table.needs.get(step) as StepNeed);
    this.#makeSafeGustMps = work.makeSafeGustMps;
    this.#grid = grid;
    this.#marks = marks;
    this.#gustFactor = gustFactor;
    this.#limitBits = this.#needs.reduce((bits, need) => bits | need.limitBits | need.dryBits, 0);
    this.#workMin = work.steps.reduce(
      (sum, step, at) => sum + step.durationMin + (at > 0 ? step.lagMin : 0),
      0,
    );
    this.#allInDaylight = work.steps.every((step) => step.limits.needsDaylight);
    this.#start = new Int32Array(work.steps.length);
    this.#end = new Int32Array(work.steps.length);
  }

  /** What day `day` of the grid is good for; `next` is the clock of the day after it, for work that stops for the night. */
  stateOf(day: number, clock: DayClock, next: DayClock): number {
    if (this.#workMin > clock.shiftToMin - clock.shiftFromMin && !this.#maySplit()) return DAY.BAD;
    if (this.#plainlyGood(day, clock)) return DAY.GOOD;
    if (this.#run(day, clock, clock.shiftFromMin, 0, true) === this.#steps.length) return DAY.GOOD;
    if (this.#splits(day, clock, next, true)) return DAY.SPLIT;
    if (!this.#anyUnknown(day, clock)) return DAY.BAD;
    const hopeful =
      this.#run(day, clock, clock.shiftFromMin, 0, false) === this.#steps.length ||
      this.#splits(day, clock, next, false);
    return hopeful ? DAY.UNKNOWN : DAY.BAD;
  }

  /** The latest minute at which a good day's work may begin and still be closed that day; to the minute. Null on other days. */
  latestStart(day: number, clock: DayClock): number | null {
    const steps = this.#steps.length;
    const closes = (from: number): boolean => this.#run(day, clock, from, 0, true) === steps;
    if (this.#plainlyGood(day, clock)) {
      const end = this.#allInDaylight ? Math.min(clock.shiftToMin, clock.lightToMin) : clock.shiftToMin;
      return end - this.#workMin;
    }
    if (!closes(clock.shiftFromMin)) return null;
    let works = clock.shiftFromMin;
    let fails = clock.shiftToMin - this.#workMin + 1;
    while (fails - works > 1) {
      const middle = (works + fails) >> 1;
      if (closes(middle)) works = middle;
      else fails = middle;
    }
    return works;
  }

  /** When each step is done, as far as the day carries it; unknown hours count as not workable. */
  place(day: number, clock: DayClock, fromMin = clock.shiftFromMin): PlacedStep[] {
    const done = this.#run(day, clock, fromMin, 0, true);
    return this.#steps
      .slice(0, done)
      .map(({ key }, at) => ({ key, startMin: this.#start[at] as number, endMin: this.#end[at] as number }));
  }

  /** Every hour from the start of the shift to the last dry-after hour keeps every limit, and it is light: nothing to search. */
  #plainlyGood(day: number, clock: DayClock): boolean {
    const light = clock.lightFromMin <= clock.shiftFromMin && clock.lightToMin >= clock.shiftToMin;
    const lightEnough = this.#allInDaylight
      ? clock.lightFromMin <= clock.shiftFromMin &&
        Math.min(clock.lightToMin, clock.shiftToMin) - clock.shiftFromMin >= this.#workMin
      : light && clock.shiftToMin - clock.shiftFromMin >= this.#workMin;
    if (!lightEnough) return false;
    const { broken, unknown } = this.#marks;
    const first = this.#hourOf(day, clock.shiftFromMin);
    const last = this.#hourOf(day, clock.shiftToMin + this.#longestDryAfter() - 1);
    if (first < 0 || last >= broken.length) return false;
    for (let hour = first; hour <= last; hour += 1)
      if (((broken[hour] as number) & this.#limitBits) !== 0 || unknown[hour] !== 0) return false;
    return true;
  }

  #longestDryAfter(): number {
    let longest = 0;
    for (const step of this.#steps) if (step.dryAfterMin > longest) longest = step.dryAfterMin;
    return longest;
  }

  #maySplit(): boolean {
    return this.#makeSafeGustMps !== null && this.#steps.some((step) => step.mayStopAfter);
  }

  #splits(day: number, clock: DayClock, next: DayClock, unknownFails: boolean): boolean {
    if (this.#makeSafeGustMps === null) return false;
    const done = this.#run(day, clock, clock.shiftFromMin, 0, unknownFails);
    let stop = done - 1;
    while (stop >= 0 && !(this.#steps[stop] as OutsideStep).mayStopAfter) stop -= 1;
    if (stop < 0 || stop === this.#steps.length - 1) return false;
    const from = this.#hourOf(day, this.#end[stop] as number);
    const to = this.#hourOf(day + 1, next.shiftFromMin - 1);
    for (let hour = from; hour <= to; hour += 1) {
      const gust = this.#gustAt(hour);
      if (Number.isNaN(gust) ? unknownFails : gust > this.#makeSafeGustMps) return false;
    }
    return this.#run(day + 1, next, next.shiftFromMin, stop + 1, unknownFails) === this.#steps.length;
  }

  #gustAt(hour: number): number {
    const gust = this.#grid.gustMps[hour] ?? Number.NaN;
    return Number.isNaN(gust) ? (this.#grid.windMps[hour] ?? Number.NaN) * this.#gustFactor : gust;
  }

  #anyUnknown(day: number, clock: DayClock): boolean {
    const last = this.#hourOf(day + (this.#maySplit() ? 1 : 0), clock.shiftToMin + this.#longestDryAfter());
    for (let hour = this.#hourOf(day, clock.shiftFromMin); hour <= last; hour += 1)
      if ((this.#marks.unknown[hour] ?? ALL_UNKNOWN) !== 0) return true;
    return false;
  }

  #hourOf(day: number, minute: number): number {
    return day * 24 + Math.floor(minute / 60);
  }

  /** Places the steps from `first` on; how many of all steps are done when the day ends. */
  #run(day: number, clock: DayClock, fromMin: number, first: number, unknownFails: boolean): number {
    let at = first;
    let notBefore = fromMin;
    // Each time a step is put off it moves by at least a minute, so this ends; the count only guards against a mistake.
    for (let turns = 0; at < this.#steps.length && turns < 10_000; turns += 1) {
      const step = this.#steps[at] as OutsideStep;
      if (!this.#placeStep(at, day, clock, notBefore, unknownFails)) return at;
      const start = this.#start[at] as number;
      const late =
        step.maxLagMin === null || at === first ? 0 : start - (this.#end[at - 1] as number) - step.maxLagMin;
      if (late > 0) {
        const before = this.#steps[at - 1] as OutsideStep;
        const later = (this.#start[at - 1] as number) + 1;
        notBefore = before.interruptible
          ? later
          : Math.max(later, start - (step.maxLagMin as number) - before.durationMin);
        at -= 1;
        continue;
      }
      at += 1;
      if (at < this.#steps.length)
        notBefore = (this.#end[at - 1] as number) + (this.#steps[at] as OutsideStep).lagMin;
    }
    return at;
  }

  #placeStep(at: number, day: number, clock: DayClock, notBefore: number, unknownFails: boolean): boolean {
    const step = this.#steps[at] as OutsideStep;
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
    const { durationMin } = this.#steps[at] as OutsideStep;
    let start = from;
    let minute = from;
    while (minute < start + durationMin) {
      if (start + durationMin > to) return NEVER;
      const hourEnd = (Math.floor(minute / 60) + 1) * 60;
      if (!this.#workable(at, this.#hourOf(day, minute), unknownFails)) start = hourEnd;
      minute = hourEnd;
    }
    this.#start[at] = start;
    return start + durationMin;
  }

  #endInPieces(at: number, day: number, from: number, to: number, unknownFails: boolean): number {
    let left = (this.#steps[at] as OutsideStep).durationMin;
    let start = left === 0 ? from : NEVER;
    let minute = from;
    while (left > 0 && minute < to) {
      const pieceEnd = Math.min((Math.floor(minute / 60) + 1) * 60, to);
      if (this.#workable(at, this.#hourOf(day, minute), unknownFails)) {
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
    const { dryAfterMin } = this.#steps[at] as OutsideStep;
    if (dryAfterMin === 0) return NEVER;
    const { dryBits } = this.#needs[at] as StepNeed;
    for (let minute = end + dryAfterMin - 1; minute >= end; minute = Math.floor(minute / 60) * 60 - 1) {
      const hour = this.#hourOf(day, minute);
      const wet = ((this.#marks.broken[hour] ?? 0) & dryBits) !== 0;
      const notKnown = ((this.#marks.unknown[hour] ?? ALL_UNKNOWN) & UNKNOWN.rain) !== 0;
      if (wet || (unknownFails && notKnown)) return (Math.floor(minute / 60) + 1) * 60;
    }
    return NEVER;
  }

  #workable(at: number, hour: number, unknownFails: boolean): boolean {
    const need = this.#needs[at] as StepNeed;
    if (((this.#marks.broken[hour] ?? 0) & need.limitBits) !== 0) return false;
    return !unknownFails || ((this.#marks.unknown[hour] ?? ALL_UNKNOWN) & need.fieldBits) === 0;
  }
}
