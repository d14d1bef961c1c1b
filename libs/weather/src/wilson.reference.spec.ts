import { describe, expect, it } from '@jest/globals';
import { wilsonInterval } from './index.ts';

describe('the interval of a share', () => {
  // Rows with four printed decimals: Newcombe 1998, Statistics in Medicine 17, Table I, method 3. The others recomputed with another program.
  it.each([
    [81, 263, 0.25529, 0.36621],
    [15, 148, 0.06239, 0.16049],
    [0, 20, 0, 0.16113],
    [1, 29, 0.00611, 0.17176],
    [29, 29, 0.88303, 1],
    [23, 60, 0.27088, 0.50982],
    [50, 100, 0.40383, 0.59617],
    [950, 1000, 0.93469, 0.96187],
    [0, 1000, 0, 0.00383],
  ])('of %d in %d is the published one', (successes, trials, low, high) => {
    const interval = wilsonInterval(successes, trials);
    expect(interval.low).toBeCloseTo(low, 5);
    expect(interval.high).toBeCloseTo(high, 5);
  });

  it('takes fractions of cases, and says nothing without a case', () => {
    const between = wilsonInterval(1.5, 10.5);
    expect(between.low).toBeGreaterThan(wilsonInterval(1, 10.5).low);
    expect(between.high).toBeLessThan(wilsonInterval(2, 10.5).high);
    expect(wilsonInterval(0, 0)).toEqual({ low: 0, high: 1 });
  });

  it('shuts the interval exactly at none and at all', () => {
    expect(wilsonInterval(0, 7).low).toBe(0);
    expect(wilsonInterval(7, 7).high).toBe(1);
    expect(wilsonInterval(0.1 + 0.2, 0.3).high).toBe(1);
  });

  it('refuses more successes than trials', () => {
    for (const [successes, trials] of [
      [3, 2],
      [-1, 2],
      [Number.NaN, 2],
    ] as const) {
      expect(() => wilsonInterval(successes, trials)).toThrow(
        expect.objectContaining({ code: 'invalid-input' }),
      );
    }
  });
});
