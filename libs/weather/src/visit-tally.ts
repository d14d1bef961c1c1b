import { DateTally, type TallyRules } from './date-tally.ts';
import type { DayGrid } from './day-grid.ts';
import type { HourMarks, LimitTable } from './hour-marks.ts';
import { LostDayCounter } from './lost-day-counter.ts';
import { DAY, type DayClock, SiteDayTimer } from './site-day.ts';
import type { VisitWork } from './site-day-work.ts';

/** Which days of a strip are judged: from `first` to before `before` as days of their own, on to before `end` only for visits under way. */
export interface JudgedDays {
  readonly first: number;
  readonly before: number;
  readonly end: number;
}

/** Judges the days of one visit and counts what they mean for visits that begin on them. */
export class VisitTally {
  readonly tally: DateTally;
  readonly #work: VisitWork;
  readonly #gustFactor: number;
  readonly #counter: LostDayCounter;
  readonly #firstOutside: number;
  /** Dates of the days on which visits under way began, from the first day that was ever judged. */
  #dates = new GrowingInt16();
  #states = new GrowingUint8();
  #latest = new GrowingInt16();

  constructor(
    work: VisitWork,
    rules: TallyRules & { readonly inARow: boolean; readonly gustFactor: number },
  ) {
    this.tally = new DateTally(rules);
    this.#work = work;
    this.#gustFactor = rules.gustFactor;
    this.#firstOutside = work.findIndex((day) => day !== null);
    const lastOutside = work.findLastIndex((day) => day !== null);
    const pattern = work.slice(0, lastOutside + 1).map((day) => day !== null);
    this.#counter = new LostDayCounter(pattern, rules.inARow, rules.mostLostDays, (start, lost) => {
      if (lost !== null) this.tally.addVisit(this.#dates.at(start), lost);
    });
  }

  take(
    strip: DayGrid,
    marks: HourMarks,
    table: LimitTable,
    clocks: readonly DayClock[],
    { first, before, end }: JudgedDays,
  ): void {
    if (this.#firstOutside < 0) return;
    const timers = this.#work.map((day) =>
      day === null ? null : new SiteDayTimer(day, strip, table, marks, this.#gustFactor),
    );
    const clockAt = (day: number): DayClock => clocks[strip.dateOfYear[day] as number] as DayClock;
    const judged = new Uint8Array(timers.length).fill(DAY.GOOD);
    for (let day = first; day < end; day += 1) {
      const clock = clockAt(day);
      const next = day + 1 < strip.dayCount ? clockAt(day + 1) : clock;
      for (let at = 0; at < timers.length; at += 1) {
        const timer = timers[at] as SiteDayTimer | null;
        if (timer !== null) judged[at] = timer.stateOf(day, clock, next);
      }
      if (day < before) this.#own(strip, day, judged[this.#firstOutside] as number, timers, clock);
      this.#counter.step(judged, day < before);
    }
  }

  states(): Uint8Array {
    return this.#states.view();
  }

  latestStarts(): Int16Array {
    return this.#latest.view();
  }

  #own(
    strip: DayGrid,
    day: number,
    state: number,
    timers: readonly (SiteDayTimer | null)[],
    clock: DayClock,
  ): void {
    const date = strip.dateOfYear[day] as number;
    this.#dates.push(date);
    this.#states.push(state);
    const latest =
      state === DAY.GOOD ? (timers[this.#firstOutside] as SiteDayTimer).latestStart(day, clock) : null;
    this.#latest.push(latest ?? -1);
    if (state !== DAY.UNKNOWN)
      this.tally.addDay(
        date,
        strip.typicalYear ? null : (strip.year[day] as number),
        state === DAY.GOOD,
        latest,
      );
  }
}

class GrowingInt16 {
  #values = new Int16Array(512);
  #length = 0;
  push(value: number): void {
    if (this.#length === this.#values.length) {
      const wider = new Int16Array(this.#length * 2);
      wider.set(this.#values);
      this.#values = wider;
    }
    this.#values[this.#length] = value;
    this.#length += 1;
  }
  at(index: number): number {
    return this.#values[index] as number;
  }
  view(): Int16Array {
    return this.#values.subarray(0, this.#length);
  }
}

class GrowingUint8 {
  #values = new Uint8Array(512);
  #length = 0;
  push(value: number): void {
    if (this.#length === this.#values.length) {
      const wider = new Uint8Array(this.#length * 2);
      wider.set(this.#values);
      this.#values = wider;
    }
    this.#values[this.#length] = value;
    this.#length += 1;
  }
  view(): Uint8Array {
    return this.#values.subarray(0, this.#length);
  }
}
