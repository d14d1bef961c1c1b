import type { DayGrid } from './day-grid.ts';
import { type HourMarks, type LimitTable, type StepNeed, UNKNOWN } from './hour-marks.ts';
import type { OutsideStep } from './site-day-work.ts';

const ALL_UNKNOWN = UNKNOWN.gust | UNKNOWN.wind | UNKNOWN.rain | UNKNOWN.temp | UNKNOWN.dew;

/** Which hours of a grid each step of a day's work can use. Hours that the grid does not have are unknown. */
export class StepHours {
  readonly steps: readonly OutsideStep[];
  /** Minutes of work and pauses in all, and the longest dry-after time. */
  readonly workMin: number;
  readonly longestDryAfterMin: number;
  readonly #limitBits: Int32Array;
  readonly #fieldBits: Int32Array;
  readonly #dryBits: Int32Array;
  readonly #anyLimitBits: number;
  readonly #grid: DayGrid;
  readonly #marks: HourMarks;
  readonly #gustFactor: number;

  constructor(
    steps: readonly OutsideStep[],
    grid: DayGrid,
    table: LimitTable,
    marks: HourMarks,
    gustFactor: number,
  ) {
    const needs = steps.map((step) => table.needs.get(step) as StepNeed);
    this.steps = steps;
    this.workMin = steps.reduce((sum, step, at) => sum + step.durationMin + (at > 0 ? step.lagMin : 0), 0);
    this.longestDryAfterMin = steps.reduce((most, step) => Math.max(most, step.dryAfterMin), 0);
    this.#limitBits = Int32Array.from(needs, (need) => need.limitBits);
    this.#fieldBits = Int32Array.from(needs, (need) => need.fieldBits);
    this.#dryBits = Int32Array.from(needs, (need) => need.dryBits);
    this.#anyLimitBits = needs.reduce((bits, need) => bits | need.limitBits | need.dryBits, 0);
    this.#grid = grid;
    this.#marks = marks;
    this.#gustFactor = gustFactor;
  }

  /** Whether a step can be done in an hour. `unknownFails`: whether an unknown hour counts as one in which it cannot. */
  workable(step: number, hour: number, unknownFails: boolean): boolean {
    if (((this.#marks.broken[hour] ?? 0) & (this.#limitBits[step] as number)) !== 0) return false;
    return (
      !unknownFails || ((this.#marks.unknown[hour] ?? ALL_UNKNOWN) & (this.#fieldBits[step] as number)) === 0
    );
  }

  /** Whether an hour is dry enough after a step. */
  dry(step: number, hour: number, unknownFails: boolean): boolean {
    if (((this.#marks.broken[hour] ?? 0) & (this.#dryBits[step] as number)) !== 0) return false;
    return !unknownFails || ((this.#marks.unknown[hour] ?? ALL_UNKNOWN) & UNKNOWN.rain) === 0;
  }

  /** Whether every hour from one to another, both included, is there and keeps every limit of every step. */
  keepsAll(from: number, to: number): boolean {
    const { broken, unknown } = this.#marks;
    if (from < 0 || to >= broken.length) return false;
    for (let hour = from; hour <= to; hour += 1)
      if (((broken[hour] as number) & this.#anyLimitBits) !== 0 || unknown[hour] !== 0) return false;
    return true;
  }

  /** Whether a day, the one before or the one after has an unknown hour; also at either end of the grid. */
  unknownNear(day: number): boolean {
    const { dayUnknown } = this.#marks;
    return (dayUnknown[day - 1] ?? 1) !== 0 || dayUnknown[day] !== 0 || (dayUnknown[day + 1] ?? 1) !== 0;
  }

  /** The gust of an hour, estimated where the record has none; NaN where that is unknown too. */
  gustAt(hour: number): number {
    const gust = this.#grid.gustMps[hour] ?? Number.NaN;
    return Number.isNaN(gust) ? (this.#grid.windMps[hour] ?? Number.NaN) * this.#gustFactor : gust;
  }
}
