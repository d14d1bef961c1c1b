import { DAY } from './site-day.ts';

/** A start day (counted from the first day seen) and the days that its visit lost; `lost` is null where a day in it is unknown. */
export type OnResolved = (start: number, lost: number | null) => void;

/**
 * Walks forward through days and follows the visits that begin on each of them, until they are done. Visits at the same place of the pattern go on
 * together, so a day costs a few steps however many visits are under way.
 */
export class LostDayCounter {
  readonly #pattern: readonly boolean[];
  readonly #inARow: boolean;
  readonly #mostLostDays: number;
  readonly #onResolved: OnResolved;
  /** Starts of the visits whose next site day is the n-th; `#skips` those that use up one more day before. */
  #waiting: number[][];
  #skips: number[][];
  #day = 0;

  /** `pattern` says for each site day whether it is outside; `inARow` as in `LostDaysOptions`. */
  constructor(pattern: readonly boolean[], inARow: boolean, mostLostDays: number, onResolved: OnResolved) {
    this.#pattern = pattern;
    this.#inARow = inARow;
    this.#mostLostDays = mostLostDays;
    this.#onResolved = onResolved;
    this.#waiting = pattern.map(() => []);
    this.#skips = pattern.map(() => []);
  }

  /** One day: `stateOf(n)` is what the day is for the n-th site day. `begin`: whether visits begin on it too. */
  step(stateOf: (siteDay: number) => number, begin = true): void {
    const today = this.#day;
    const next: number[][] = this.#pattern.map(() => []);
    const skipsNext: number[][] = this.#pattern.map(() => []);
    if (begin) (this.#waiting[0] as number[]).push(today);
    this.#waiting.forEach((starts, at) => {
      if (starts.length === 0) return;
      const state = this.#pattern[at] ? stateOf(at) : DAY.GOOD;
      if (state === DAY.UNKNOWN) for (const start of starts) this.#onResolved(start, null);
      else if (state === DAY.BAD) this.#moveTo(next, this.#backTo(at), starts);
      else if (state === DAY.GOOD) this.#forward(next, at + 1, starts, today + 1);
      else if (at + 1 === this.#pattern.length) this.#resolve(starts, today + 2);
      else this.#moveTo(skipsNext, at + 1, starts);
    });
    this.#skips.forEach((starts, at) => {
      this.#moveTo(next, at, starts);
    });
    this.#skips = skipsNext;
    this.#waiting = next;
    this.#day = today + 1;
    this.#giveUp();
  }

  #forward(next: number[][], at: number, starts: number[], endDay: number): void {
    if (at === this.#pattern.length) this.#resolve(starts, endDay);
    else this.#moveTo(next, at, starts);
  }

  #moveTo(lists: number[][], at: number, starts: readonly number[]): void {
    const list = lists[at] as number[];
    if (list.length === 0) lists[at] = starts as number[];
    else for (const start of starts) list.push(start);
  }

  #resolve(starts: readonly number[], endDay: number): void {
    for (const start of starts)
      this.#onResolved(start, Math.min(this.#mostLostDays, endDay - start - this.#pattern.length));
  }

  #backTo(at: number): number {
    if (!this.#inARow) return at;
    let first = at;
    while (first > 0 && this.#pattern[first - 1]) first -= 1;
    return first;
  }

  /** Visits that have already lost all the days that are counted. */
  #giveUp(): void {
    const oldest = this.#day - this.#mostLostDays - this.#pattern.length;
    for (const lists of [this.#waiting, this.#skips])
      lists.forEach((starts, at) => {
        if (!starts.some((start) => start < oldest)) return;
        for (const start of starts) if (start < oldest) this.#onResolved(start, this.#mostLostDays);
        lists[at] = starts.filter((start) => start >= oldest);
      });
  }
}
