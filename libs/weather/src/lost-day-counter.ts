import { DAY } from './site-day.ts';

/** A start day (counted from the first day seen) and the days that its visit lost; `lost` is null where a day in it is unknown. */
export type OnResolved = (start: number, lost: number | null) => void;

const NONE = -1;

/**
 * Walks forward through days and follows the visits that begin on each of them, until they are done. Visits at the same place of the pattern go on
 * together as one chain, so a day costs a few steps however many visits are under way.
 */
export class LostDayCounter {
  readonly #pattern: readonly boolean[];
  readonly #backTo: Int32Array;
  readonly #mostLostDays: number;
  readonly #onResolved: OnResolved;
  /** Chains of visits whose next site day is the n-th: the first and the last start of each. */
  #head: Int32Array;
  #tail: Int32Array;
  #headNext: Int32Array;
  #tailNext: Int32Array;
  /** Chains that use up one more day before they wait for the n-th site day. */
  #headSkip: Int32Array;
  #tailSkip: Int32Array;
  /** The start after a start in its chain, and whether it is still under way; by start, as many as can be under way at once. */
  readonly #link: Int32Array;
  readonly #underWay: Uint8Array;
  readonly #mask: number;
  #day = 0;

  /** `pattern` says for each site day whether it is outside; `inARow` as in `LostDaysOptions`. */
  constructor(pattern: readonly boolean[], inARow: boolean, mostLostDays: number, onResolved: OnResolved) {
    this.#pattern = pattern;
    this.#mostLostDays = mostLostDays;
    this.#onResolved = onResolved;
    this.#backTo = Int32Array.from(pattern, (_, at) => {
      let first = at;
      while (inARow && first > 0 && pattern[first - 1]) first -= 1;
      return first;
    });
    const chains = (): Int32Array => new Int32Array(pattern.length).fill(NONE);
    [this.#head, this.#tail, this.#headNext, this.#tailNext] = [chains(), chains(), chains(), chains()];
    [this.#headSkip, this.#tailSkip] = [chains(), chains()];
    let room = 1;
    while (room < mostLostDays + pattern.length + 4) room *= 2;
    this.#mask = room - 1;
    this.#link = new Int32Array(room).fill(NONE);
    this.#underWay = new Uint8Array(room);
  }

  /** One day: `states` holds what the day is for each site day. `begin`: whether a visit begins on it too. */
  step(states: Uint8Array, begin = true): void {
    const today = this.#day;
    const last = this.#pattern.length;
    if (begin) {
      this.#underWay[today & this.#mask] = 1;
      this.#link[today & this.#mask] = NONE;
      this.#join(this.#head, this.#tail, 0, today, today);
    }
    this.#headNext.set(this.#headSkip);
    this.#tailNext.set(this.#tailSkip);
    this.#headSkip.fill(NONE);
    for (let at = 0; at < last; at += 1) {
      const head = this.#head[at] as number;
      if (head === NONE) continue;
      const tail = this.#tail[at] as number;
      const state = this.#pattern[at] ? states[at] : DAY.GOOD;
      if (state === DAY.UNKNOWN) this.#resolve(head, NONE);
      else if (state === DAY.BAD)
        this.#join(this.#headNext, this.#tailNext, this.#backTo[at] as number, head, tail);
      else if (at + 1 === last) this.#resolve(head, state === DAY.GOOD ? today + 1 : today + 2);
      else if (state === DAY.GOOD) this.#join(this.#headNext, this.#tailNext, at + 1, head, tail);
      else this.#join(this.#headSkip, this.#tailSkip, at + 1, head, tail);
    }
    [this.#head, this.#headNext] = [this.#headNext, this.#head];
    [this.#tail, this.#tailNext] = [this.#tailNext, this.#tail];
    this.#day = today + 1;
    // A visit that has already lost all the days that are counted.
    const hopeless = this.#day - this.#mostLostDays - last - 1;
    if (hopeless >= 0 && this.#underWay[hopeless & this.#mask] === 1) {
      this.#underWay[hopeless & this.#mask] = 0;
      this.#onResolved(hopeless, this.#mostLostDays);
      this.#unchain(hopeless);
    }
  }

  #join(heads: Int32Array, tails: Int32Array, at: number, head: number, tail: number): void {
    if (heads[at] === NONE) heads[at] = head;
    else this.#link[(tails[at] as number) & this.#mask] = head;
    tails[at] = tail;
  }

  #resolve(head: number, endDay: number): void {
    for (let start = head; start !== NONE; start = this.#link[start & this.#mask] as number) {
      if (this.#underWay[start & this.#mask] === 0) continue;
      this.#underWay[start & this.#mask] = 0;
      const lost = endDay - start - this.#pattern.length;
      this.#onResolved(start, endDay === NONE ? null : Math.min(this.#mostLostDays, lost));
    }
  }

  /** Takes a start out of the chain that it is in, so that its place can be used again. */
  #unchain(start: number): void {
    for (const [heads, tails] of [
      [this.#head, this.#tail],
      [this.#headSkip, this.#tailSkip],
    ] as const)
      for (let at = 0; at < heads.length; at += 1) {
        let before = NONE;
        let now = heads[at] as number;
        while (now !== NONE && now !== start) {
          before = now;
          now = this.#link[now & this.#mask] as number;
        }
        if (now === NONE) continue;
        const after = this.#link[now & this.#mask] as number;
        if (before === NONE) heads[at] = after;
        else this.#link[before & this.#mask] = after;
        if (tails[at] === start) tails[at] = before;
        return;
      }
  }
}
