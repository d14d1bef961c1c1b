import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { type Day, rngFromSeed } from '../../kernel/src/index.ts';
import {
  betaPertCdf,
  betaPertQuantile,
  chainEnd,
  chanceBy,
  type DayDistribution,
  dayAtConfidence,
  distributionMoments,
  latestOf,
  type Milestone,
} from './index.ts';

const estimate = fc
  .tuple(fc.integer({ min: 0, max: 80 }), fc.integer({ min: 0, max: 80 }), fc.integer({ min: 0, max: 80 }))
  .map((parts) => parts.map((part) => part / 4).sort((a, b) => a - b) as [number, number, number]);
const chain = fc.array(estimate, { minLength: 1, maxLength: 4 }).map((parts): Milestone[] => [
  {
    kind: 'start',
    plannedDay: null,
    lowDays: null,
    likelyDays: null,
    highDays: null,
    actualDay: 20_000 as Day,
  },
  ...parts.map(([lowDays, likelyDays, highDays], at) => ({
    kind: `stage ${at}`,
    plannedDay: null,
    lowDays,
    likelyDays,
    highDays,
    actualDay: null,
  })),
]);
const confidence = fc.double({ min: 0.01, max: 0.99, noNaN: true });

function endOf(milestones: readonly Milestone[], asOf: Day | null = null): DayDistribution {
  const end = chainEnd(milestones, asOf);
  if (!end.known) throw new Error('every duration is given');
  return end.value;
}

describe('a milestone chain, whatever its durations', () => {
  it('ends for certain within its least and most days', () => {
    fc.assert(
      fc.property(chain, (milestones) => {
        const end = endOf(milestones);
        const sum = (name: 'lowDays' | 'highDays') =>
          milestones.reduce((total, each) => total + (each[name] ?? 0), 20_000);
        expect(end.chances.reduce((total, chance) => total + chance, 0)).toBeCloseTo(1, 9);
        expect(end.chances.every((chance) => chance >= 0)).toBe(true);
        expect(end.firstQuarter).toBe(sum('lowDays') * 4);
        expect(end.firstQuarter + end.chances.length - 1).toBe(sum('highDays') * 4);
      }),
    );
  });

  it('gives a day by which it has happened with the asked chance, and not a day earlier', () => {
    fc.assert(
      fc.property(chain, confidence, (milestones, wanted) => {
        const end = endOf(milestones);
        const day = dayAtConfidence(end, wanted);
        expect(chanceBy(end, day)).toBeGreaterThanOrEqual(wanted - 1e-9);
        expect(chanceBy(end, day - 1)).toBeLessThan(wanted + 1e-9);
      }),
    );
  });

  it('never ends earlier for a higher confidence, for a later look or with something to wait for', () => {
    fc.assert(
      fc.property(
        chain,
        chain,
        confidence,
        confidence,
        fc.integer({ min: 0, max: 40 }),
        (one, other, a, b, waited) => {
          const end = endOf(one);
          const [low, high] = [Math.min(a, b), Math.max(a, b)];
          expect(dayAtConfidence(end, high)).toBeGreaterThanOrEqual(dayAtConfidence(end, low));
          expect(dayAtConfidence(endOf(one, (20_000 + waited) as Day), a)).toBeGreaterThanOrEqual(
            dayAtConfidence(end, a),
          );
          expect(dayAtConfidence(latestOf([end, endOf(other)]), a)).toBeGreaterThanOrEqual(
            dayAtConfidence(end, a),
          );
        },
      ),
    );
  });

  it('agrees with draws of its durations', () => {
    // 1,000 draws by inverse; four standard errors are allowed, and half a quarter day for the grid.
    const rng = rngFromSeed(11);
    const parts = [
      { low: 16, likely: 19, high: 27 },
      { low: 2, likely: 4, high: 10 },
      { low: 1, likely: 2, high: 5 },
    ];
    const milestones: Milestone[] = [
      {
        kind: 'sailed',
        plannedDay: null,
        lowDays: null,
        likelyDays: null,
        highDays: null,
        actualDay: 0 as Day,
      },
      ...parts.map(({ low, likely, high }, at) => ({
        kind: String(at),
        plannedDay: null,
        lowDays: low,
        likelyDays: likely,
        highDays: high,
        actualDay: null,
      })),
    ];
    const draws = Array.from({ length: 1000 }, () =>
      parts.reduce((sum, part) => sum + betaPertQuantile(part, rng.uniform()), 0),
    );
    const end = endOf(milestones);
    const { meanDay, sdDays } = distributionMoments(end);
    const mean = draws.reduce((sum, draw) => sum + draw, 0) / draws.length;
    expect(Math.abs(mean - meanDay)).toBeLessThan((4 * sdDays) / Math.sqrt(draws.length) + 0.01);
    for (const day of [24, 27, 31]) {
      const share = draws.filter((draw) => draw <= day + 0.125).length / draws.length;
      expect(Math.abs(share - chanceBy(end, day))).toBeLessThan(4 * Math.sqrt(0.25 / draws.length) + 0.005);
    }
  });
});

describe('a beta-PERT', () => {
  it('has a quantile that undoes its distribution function, and rises', () => {
    fc.assert(
      fc.property(estimate, confidence, ([low, likely, high], chance) => {
        fc.pre(high > low);
        const part = { low, likely, high };
        const value = betaPertQuantile(part, chance);
        expect(value).toBeGreaterThanOrEqual(low);
        expect(value).toBeLessThanOrEqual(high);
        expect(betaPertCdf(part, value)).toBeCloseTo(chance, 6);
      }),
    );
  });
});
