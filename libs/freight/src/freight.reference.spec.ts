import { describe, expect, it } from '@jest/globals';
import type { Day } from '../../kernel/src/index.ts';
import {
  betaPertCdf,
  betaPertQuantile,
  betaPertVariance,
  chainEnd,
  checkContainerNumber,
  classicPertVariance,
  containerCostCents,
  dayAtConfidence,
  distributionMoments,
  goodsDayAtConfidence,
  lastFreeDay,
  latestOf,
  type Milestone,
  normalCdf,
  pertMean,
} from './index.ts';

describe('container numbers, ISO 6346', () => {
  // Source: the public tests of the python-stdnum library; sums recomputed by hand (6185, 6989, 7311, 8579 modulo 11).
  it.each(['CSQU3054383', 'TCNU7200794', 'TOLU4734787', 'GYOU4047990', ' csqu 305438-3 '])(
    '%p is right',
    (number) => {
      expect(checkContainerNumber(number).valid).toBe(true);
    },
  );

  it.each([
    ['CSQU3054384', 'check-digit', 3],
    ['MSKU0000000', 'check-digit', 6],
    ['CSQU305438', 'length', null],
    ['CSQU3054Z83', 'format', null],
    ['CSQX3054383', 'category', null],
  ])('%s is wrong: %s', (number, fault, expectedCheckDigit) => {
    expect(checkContainerNumber(number)).toEqual({ valid: false, fault, expectedCheckDigit });
  });
});

describe('three-point estimates', () => {
  it('have the mean, variance and quantiles of the beta-PERT', () => {
    // Low 2, likely 5, high 14: alpha 2, beta 4; quantiles recomputed with SciPy.
    const estimate = { low: 2, likely: 5, high: 14 };
    expect(pertMean(estimate)).toBe(6);
    expect(betaPertVariance(estimate)).toBeCloseTo(4.571429, 6);
    expect(classicPertVariance(estimate)).toBe(4);
    expect(
      [0.1, 0.5, 0.8, 0.9].map((chance) => Number(betaPertQuantile(estimate, chance).toFixed(5))),
    ).toEqual([3.34682, 5.76572, 7.88231, 9.00668]);
    expect(betaPertCdf(estimate, 1)).toBe(0);
    expect(betaPertCdf(estimate, 14)).toBe(1);
  });

  it('follow the normal distribution function', () => {
    // Source: standard normal table, to 10 digits.
    expect(normalCdf(0)).toBeCloseTo(0.5, 14);
    expect(normalCdf(1)).toBeCloseTo(0.8413447461, 10);
    expect(normalCdf(-1.959963985)).toBeCloseTo(0.025, 9);
    expect(normalCdf(3)).toBeCloseTo(0.998650102, 10);
    expect(normalCdf(6)).toBeCloseTo(1 - 9.865876e-10, 14);
  });

  it('refuse an order that cannot be', () => {
    expect(() => betaPertCdf({ low: 3, likely: 2, high: 5 }, 3)).toThrow(
      expect.objectContaining({ code: 'invalid-input' }),
    );
  });
});

const day = (number: number): Day => number as Day;
const milestone = (kind: string, change: Partial<Milestone> = {}): Milestone => ({
  kind,
  plannedDay: null,
  lowDays: null,
  likelyDays: null,
  highDays: null,
  actualDay: null,
  ...change,
});
const takes = (kind: string, lowDays: number, likelyDays: number, highDays: number): Milestone =>
  milestone(kind, { lowDays, likelyDays, highDays });

describe('a chain of milestones', () => {
  const chain = [
    milestone('sailed', { actualDay: day(20_000) }),
    takes('arrived', 20, 24, 40),
    takes('released', 1, 2, 9),
    takes('readyToGo', 2, 3, 5),
  ];

  it('has the summed mean and variance of its parts, and nearly normal chances', () => {
    const end = chainEnd(chain);
    if (!end.known) throw new Error('every duration is given');
    const parts = [
      { low: 20, likely: 24, high: 40 },
      { low: 1, likely: 2, high: 9 },
      { low: 2, likely: 3, high: 5 },
    ];
    const mean = parts.reduce((sum, part) => sum + pertMean(part), 0);
    const variance = parts.reduce((sum, part) => sum + betaPertVariance(part), 0);
    const moments = distributionMoments(end.value);
    expect(moments.meanDay - 20_000).toBeCloseTo(mean, 2);
    // Quarter-day rounding adds 1/192 of a day squared for each part.
    expect(moments.sdDays).toBeCloseTo(Math.sqrt(variance + 3 / 192), 2);
    expect(dayAtConfidence(end.value, 0.5)).toBeGreaterThanOrEqual(20_030);
    expect(dayAtConfidence(end.value, 0.9)).toBeGreaterThan(dayAtConfidence(end.value, 0.5));
  });

  it('takes one duration as exactly its beta-PERT, rounded up to a whole day', () => {
    // P80 of (2, 5, 14) is 7.88231, so day 8; P90 is 9.00668, which on quarter days is 9.
    const one = [milestone('sailed', { actualDay: day(100) }), takes('arrived', 2, 5, 14)];
    expect(goodsDayAtConfidence(one, 0.8)).toEqual({ known: true, value: 108 });
    expect(goodsDayAtConfidence(one, 0.5)).toEqual({ known: true, value: 106 });
  });

  it('forgets what lies before an actual date', () => {
    const arrived = [
      ...chain.slice(0, 1),
      milestone('arrived', { actualDay: day(20_050) }),
      ...chain.slice(2),
    ];
    const end = chainEnd(arrived);
    if (!end.known) throw new Error('every duration is given');
    expect(end.value.firstQuarter).toBe((20_050 + 3) * 4);
    const all = [...chain.slice(0, 3), milestone('readyToGo', { actualDay: day(20_060) })];
    expect(goodsDayAtConfidence(all, 0.99)).toEqual({ known: true, value: 20_060 });
  });

  it('strikes out the days that have passed without it', () => {
    const one = [milestone('sailed', { actualDay: day(100) }), takes('arrived', 2, 5, 14)];
    const waited = chainEnd(one, day(108));
    if (!waited.known) throw new Error('every duration is given');
    expect(waited.value.firstQuarter).toBe(432);
    expect(waited.value.chances.reduce((sum, chance) => sum + chance, 0)).toBeCloseTo(1, 12);
    expect(goodsDayAtConfidence(one, 0.8, day(130))).toEqual({ known: true, value: 130 });
  });

  it('takes a planned day without durations at its word, but never before what must come first', () => {
    const announced = [
      milestone('arrived', { plannedDay: day(100) }),
      milestone('released', { plannedDay: day(97) }),
      milestone('collected', { plannedDay: day(110) }),
    ];
    expect(goodsDayAtConfidence(announced, 0.8)).toEqual({ known: true, value: 110 });
    expect(goodsDayAtConfidence(announced.slice(0, 2), 0.8)).toEqual({ known: true, value: 100 });
  });

  it('cannot say without a start or with a duration missing', () => {
    expect(chainEnd([])).toEqual({ known: false, reason: 'no-milestones', missing: [] });
    expect(chainEnd([takes('arrived', 1, 2, 3)])).toEqual({
      known: false,
      reason: 'no-start',
      missing: ['arrived'],
    });
    expect(chainEnd([...chain, milestone('unpacked')])).toEqual({
      known: false,
      reason: 'duration-unknown',
      missing: ['unpacked'],
    });
    expect(chainEnd([...chain, milestone('unpacked', { likelyDays: 3 })])).toMatchObject({
      known: false,
      reason: 'duration-unknown',
    });
  });

  it('of two containers ends with the later one', () => {
    // Two fair coins over days 0 and 1: the later of two is day 0 with chance 1/4.
    const coin = { firstQuarter: 0, chances: Float64Array.of(0.5, 0, 0, 0, 0.5) };
    const both = latestOf([coin, coin]);
    expect(both.chances[0]).toBeCloseTo(0.25, 12);
    expect(both.chances[4]).toBeCloseTo(0.75, 12);
    expect(latestOf([coin, { firstQuarter: 40, chances: Float64Array.of(1) }])).toEqual({
      firstQuarter: 40,
      chances: Float64Array.of(1),
    });
  });
});

describe('free time', () => {
  it('ends the stated days after arrival, and then each day costs', () => {
    expect(lastFreeDay(day(100), 5)).toBe(105);
    const cost = { arrivedDay: day(100), freeDays: 5, dayCostCents: 12_000 };
    expect(containerCostCents({ ...cost, backOn: day(105) })).toBe(0);
    expect(containerCostCents({ ...cost, backOn: day(108) })).toBe(36_000);
  });
});
