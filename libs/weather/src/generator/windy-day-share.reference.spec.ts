import { describe, expect, it } from '@jest/globals';
import { rngFromSeed } from '../../../kernel/src/index.ts';
import { drawNormal, normalAbove } from './normal-distribution.ts';
import { chanceOfPassing } from './windy-day-share.ts';

const limits = [1.8, 1.6, 1.5, 1.4, 1.35, 1.4, 1.5, 1.7];

describe('the chance that a row of correlated numbers passes its limits', () => {
  it('without correlation is one minus the product of the single chances', () => {
    const exact = 1 - limits.reduce((product, limit) => product * (1 - normalAbove(limit)), 1);
    expect(chanceOfPassing(limits, 0)).toBeCloseTo(exact, 8);
    expect(chanceOfPassing([1.3], 0.95)).toBeCloseTo(normalAbove(1.3), 8);
  });

  it('of two numbers at 0 is 1 minus the quadrant chance 1/4 + asin(r) / 2 pi', () => {
    // Quadrant chance of the bivariate normal distribution, Sheppard 1899.
    for (const r of [0.1, 0.5, 0.9, 0.95, 0.99])
      expect(chanceOfPassing([0, 0], r)).toBeCloseTo(1 - (0.25 + Math.asin(r) / (2 * Math.PI)), 7);
  });

  it('of three numbers at 0 is 1 minus the orthant chance of three', () => {
    // Orthant chance of three: 1/8 + (asin r12 + asin r13 + asin r23) / 4 pi, with r13 = r^2 in a first-order series.
    for (const r of [0.3, 0.95]) {
      const orthant = 0.125 + (2 * Math.asin(r) + Math.asin(r * r)) / (4 * Math.PI);
      expect(chanceOfPassing([0, 0, 0], r)).toBeCloseTo(1 - orthant, 7);
    }
  });

  it('is that of a simulated row', () => {
    const [rows, r] = [20_000, 0.95];
    const rng = rngFromSeed(3);
    let passed = 0;
    for (let row = 0; row < rows; row += 1) {
      let score = drawNormal(rng);
      let passes = false;
      for (const limit of limits) {
        passes ||= score > limit;
        score = r * score + Math.sqrt(1 - r * r) * drawNormal(rng);
      }
      if (passes) passed += 1;
    }
    const exact = chanceOfPassing(limits, r);
    expect(Math.abs(passed / rows - exact)).toBeLessThan(4 * Math.sqrt((exact * (1 - exact)) / rows));
  });

  it('is 0 without limits that can be passed and 1 with one that always is', () => {
    expect(chanceOfPassing([], 0.9)).toBe(0);
    expect(chanceOfPassing([Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY], 0.9)).toBeCloseTo(0, 8);
    expect(chanceOfPassing([3, Number.NEGATIVE_INFINITY], 0.9)).toBe(1);
  });
});
