import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { rngFromSeed, rngFromState } from './index.ts';
import { splitMix64 } from './rng.ts';

const take = <Value>(count: number, draw: () => Value): Value[] => Array.from({ length: count }, draw);

describe('the random numbers', () => {
  it('are those of the reference xoshiro128** for the state 1, 2, 3, 4', () => {
    // Source: the reference C program of Blackman and Vigna; the same ten are in the tests of the rand_xoshiro crate.
    const rng = rngFromState([1, 2, 3, 4]);
    expect(take(10, rng.nextUint32)).toEqual([
      11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804,
    ]);
  });

  it('are seeded by the reference SplitMix64', () => {
    // Source: splitmix64.c of Vigna for the state 1234567; the same five are on the Rosetta Code page "Pseudo-random
    // numbers/Splitmix64".
    let state = 1234567n;
    const outputs = take(5, () => {
      const step = splitMix64(state);
      state = step.state;
      return step.output;
    });
    expect(outputs).toEqual([
      6457827717110365317n,
      3203168211198807973n,
      9817491932198370423n,
      4593380528125082431n,
      16408922859458223821n,
    ]);
  });

  it('come again for the same seed and go on from a stored state', () => {
    fc.assert(
      fc.property(fc.maxSafeInteger(), (seed) => {
        const rng = rngFromSeed(seed);
        expect(take(5, rng.nextUint32)).toEqual(take(5, rngFromSeed(seed).nextUint32));
        const restored = rngFromState(rng.state());
        expect(take(5, rng.uniform)).toEqual(take(5, restored.uniform));
      }),
    );
  });

  it('may be stepped before or after a jump with the same end', () => {
    const before = rngFromSeed(7);
    before.nextUint32();
    before.jump();
    const after = rngFromSeed(7);
    after.jump();
    after.nextUint32();
    expect(before.state()).toEqual(after.state());
  });

  it('of derived streams differ from each other and leave the parent where it was', () => {
    const rng = rngFromSeed(1);
    const state = rng.state();
    const firsts = take(200, () => 0).map((_, stream) => rng.derive(stream).nextUint32());
    expect(new Set(firsts).size).toBe(200);
    expect(rng.state()).toEqual(state);
    expect(rng.derive('weather').state()).toEqual(rng.derive('weather').state());
  });

  it('stay in range, and each value of a range comes about equally often', () => {
    const rng = rngFromSeed(42);
    const counts = new Array<number>(6).fill(0);
    for (let draw = 0; draw < 60_000; draw++) counts[rng.integer(1, 6) - 1]!++;
    // Chi-square with 5 degrees of freedom: 20.5 is the 0.1 % point (standard table).
    const chiSquare = counts.reduce((sum, count) => sum + (count - 10_000) ** 2 / 10_000, 0);
    expect(chiSquare).toBeLessThan(20.5);
    const mean = take(20_000, rng.uniform).reduce((sum, value) => sum + value, 0) / 20_000;
    // Four standard errors of the mean of a uniform number: 4 / sqrt(12 * 20000).
    expect(Math.abs(mean - 0.5)).toBeLessThan(0.0082);
  });

  it('shuffle without losing anything, and pick what is there', () => {
    fc.assert(
      fc.property(fc.array(fc.integer(), { minLength: 1 }), fc.integer(), (items, seed) => {
        const rng = rngFromSeed(seed);
        expect(rng.shuffle([...items]).sort()).toEqual([...items].sort());
        expect(items).toContain(rng.pick(items));
      }),
    );
  });
});
