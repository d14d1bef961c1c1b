// Counting lost days over long series of good and bad days against the closed forms of the two-state chain. Chains: Gabriel and Neumann,
// Q. J. R. Meteorol. Soc. 88 (1962), Tel Aviv (.250, .662, as restated in Poole, Linear Algebra, ch. 3); .1, .4 of a public statistics quiz;
// waiting times recomputed from the recursion of Ross, Introduction to Probability Models.
import { describe, expect, it } from '@jest/globals';
import { rngFromSeed } from '../../kernel/src/index.ts';
import { LostDayCounter } from './lost-day-counter.ts';
import { lostDaysOfStay } from './lost-days.ts';
import { DAY } from './site-day.ts';

const DAYS = 120_000;

function series(badAfterGood: number, badAfterBad: number, seed: number): Uint8Array {
  const rng = rngFromSeed(seed);
  const days = new Uint8Array(DAYS);
  let bad = false;
  for (let day = 0; day < DAYS; day += 1) {
    bad = rng.uniform() < (bad ? badAfterBad : badAfterGood);
    days[day] = bad ? DAY.BAD : DAY.GOOD;
  }
  return days;
}

function lostOf(days: Uint8Array, pattern: readonly boolean[], inARow: boolean): number[] {
  const lost: number[] = [];
  const counter = new LostDayCounter(pattern, inARow, 60, (_, count) => {
    if (count !== null) lost.push(count);
  });
  const states = new Uint8Array(pattern.length);
  for (const day of days) counter.step(states.fill(day));
  return lost;
}

/** Standard error of a mean of neighbouring starts, which hang together: by batches of 200 days. */
function meanAndError(values: readonly number[]): { mean: number; error: number } {
  const batches: number[] = [];
  for (let from = 0; from + 200 <= values.length; from += 200)
    batches.push(values.slice(from, from + 200).reduce((sum, value) => sum + value, 0) / 200);
  const mean = batches.reduce((sum, value) => sum + value, 0) / batches.length;
  const spread = batches.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (batches.length - 1);
  return { mean, error: Math.sqrt(spread / batches.length) };
}

describe('lost days counted from a series', () => {
  it.each([
    ['one outside day', [true], false],
    ['two outside days, in a row', [true, true], true],
    ['two outside days, one after another', [true, true], false],
    ['outside, inside, outside', [true, false, true], true],
    ['three outside days in a row', [true, true, true], true],
  ])('agree with the exact distribution: %s', (_, pattern, inARow) => {
    for (const [badAfterGood, badAfterBad] of [
      [0.25, 0.662],
      [0.1, 0.4],
    ] as const) {
      const exact = lostDaysOfStay(pattern, () => ({ badAfterGood, badAfterBad }), { inARow });
      const lost = lostOf(series(badAfterGood, badAfterBad, 7), pattern, inARow);
      const { mean, error } = meanAndError(lost);
      expect(Math.abs(mean - exact.expectedLostDays)).toBeLessThan(4 * error);
      const none = lost.map((count) => (count === 0 ? 1 : 0));
      const share = meanAndError(none);
      expect(Math.abs(share.mean - (exact.chances[0] as number))).toBeLessThan(4 * share.error);
    }
  });

  it('agree with the waiting time for three good days in a row after a bad one: 8.37081 further days (.25, .662)', () => {
    const days = series(0.25, 0.662, 11);
    const lost: number[] = [];
    const counter = new LostDayCounter([true, true, true], true, 60, (start, count) => {
      if (count !== null && start > 0 && days[start - 1] === DAY.BAD) lost.push(count + 3);
    });
    for (const day of days) counter.step(new Uint8Array(3).fill(day));
    const { mean, error } = meanAndError(lost);
    expect(Math.abs(mean - 8.37081)).toBeLessThan(4 * error);
  });
});

describe('lost days day by day', () => {
  const G = DAY.GOOD;
  const B = DAY.BAD;
  const U = DAY.UNKNOWN;
  const S = DAY.SPLIT;
  const resolved = (days: readonly number[], pattern: readonly boolean[], inARow = false, most = 5) => {
    const found = new Map<number, number | null>();
    const counter = new LostDayCounter(pattern, inARow, most, (start, lost) => {
      found.set(start, lost);
    });
    for (const day of days) counter.step(new Uint8Array(pattern.length).fill(day));
    return [...found].sort(([a], [b]) => a - b);
  };

  it('an inside day is never lost, and a bad day puts off only what is outside', () => {
    expect(resolved([B, B, G, B, B], [true, false])).toEqual([
      [0, 2],
      [1, 1],
      [2, 0],
    ]);
  });

  it('a bad second day throws a block back when it must be in a row, and only waits when it need not', () => {
    expect(resolved([G, B, G, G], [true, true], true)[0]).toEqual([0, 2]);
    expect(resolved([G, B, G, G], [true, true], false)[0]).toEqual([0, 1]);
  });

  it('work that stops for the night takes the next day too, whatever that day is called by itself', () => {
    expect(resolved([S, B, G], [true], false)[0]).toEqual([0, 1]);
    expect(resolved([S, B, G], [true, true], false)[0]).toEqual([0, 1]);
  });

  it('a visit that meets an unknown day says nothing', () => {
    expect(resolved([B, U, G], [true])).toEqual([
      [0, null],
      [1, null],
      [2, 0],
    ]);
  });

  it('a visit that is given up leaves those behind it in their order', () => {
    const lost = resolved([B, B, B, B, B, B, G, G, B, G], [true, true], true, 3);
    expect(lost).toEqual([
      [0, 3],
      [1, 3],
      [2, 3],
      [3, 3],
      [4, 2],
      [5, 1],
      [6, 0],
    ]);
  });

  it('a visit that loses more days than are counted is counted with the most', () => {
    expect(resolved([B, B, B, B, B, B, B, B], [true], false, 3)[0]).toEqual([0, 3]);
  });
});
