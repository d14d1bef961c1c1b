import { describe, expect, it } from '@jest/globals';
import { rngFromSeed } from '../../../kernel/src/index.ts';
import { DEFAULT_LEAD_WEIGHTS, defaultLeadWeights, fitLeadWeights, type LeadCase } from '../index.ts';

/** Days whose chance of being good is exactly `weight` x forecast + (1 - weight) x records. */
function casesOf(weight: number, leadDays: number, count: number, seed: number): LeadCase[] {
  const rng = rngFromSeed(seed);
  return Array.from({ length: count }, () => {
    const forecastShare = rng.uniform();
    const recordShare = 0.3 + 0.4 * rng.uniform();
    const chance = weight * forecastShare + (1 - weight) * recordShare;
    return { leadDays, forecastShare, recordShare, good: rng.uniform() < chance };
  });
}

const brier = (cases: readonly LeadCase[], weight: number): number =>
  cases.reduce(
    (sum, { forecastShare: f, recordShare: r, good }) =>
      sum + (weight * f + (1 - weight) * r - Number(good)) ** 2,
    0,
  );

describe('the weight of a forecast', () => {
  it('is the stated default, and says so, as long as there are no cases', () => {
    for (const kind of ['single', 'ensemble'] as const) {
      const { byLead } = defaultLeadWeights(kind);
      expect(byLead.map(({ weight }) => weight)).toEqual(DEFAULT_LEAD_WEIGHTS[kind]);
      expect(byLead.every(({ basis, cases }) => basis === 'default' && cases === 0)).toBe(true);
    }
  });

  it('is found again from days made with it, within its own uncertainty', () => {
    const cases = [
      ...casesOf(0.8, 1, 6000, 11),
      ...casesOf(0.45, 4, 6000, 12),
      ...casesOf(0.05, 9, 6000, 13),
    ];
    const { byLead } = fitLeadWeights(cases, 'ensemble');
    for (const [lead, weight] of [
      [1, 0.8],
      [4, 0.45],
      [9, 0.05],
    ] as const) {
      // Standard error of the least-squares weight: at most half a unit of outcome over the root of sum d^2.
      const square = cases
        .filter(({ leadDays }) => leadDays === lead)
        .reduce((sum, { forecastShare, recordShare }) => sum + (forecastShare - recordShare) ** 2, 0);
      const found = byLead[lead];
      expect(found).toMatchObject({ basis: 'fitted', cases: 6000 });
      expect(Math.abs((found?.bestOfCases ?? 9) - weight)).toBeLessThan((4 * 0.5) / Math.sqrt(square));
      expect(Math.abs((found?.weight ?? 9) - weight)).toBeLessThan(0.1);
    }
  });

  it('of the cases alone has the least Brier score of all weights', () => {
    const cases = casesOf(0.6, 0, 400, 5);
    const best = fitLeadWeights(cases, 'single').byLead[0]?.bestOfCases as number;
    for (const other of [best - 0.02, best + 0.02, 0, 1])
      expect(brier(cases, best)).toBeLessThan(brier(cases, other));
  });

  it('moves little for few cases, and not at all for cases in which forecast and records agree', () => {
    const few = fitLeadWeights(casesOf(0, 1, 5, 3), 'ensemble').byLead[1];
    expect(few?.basis).toBe('part-fitted');
    expect(Math.abs((few?.weight ?? 0) - 0.9)).toBeLessThan(0.15);
    const agreeing = Array.from({ length: 500 }, () => ({
      leadDays: 1,
      forecastShare: 0.5,
      recordShare: 0.5,
      good: true,
    }));
    expect(fitLeadWeights(agreeing, 'ensemble').byLead[1]).toMatchObject({
      weight: 0.9,
      basis: 'default',
      cases: 500,
      bestOfCases: null,
    });
  });

  it('counts leads beyond the table when cases speak for them', () => {
    const { byLead } = fitLeadWeights(casesOf(0.9, 16, 3000, 8), 'ensemble');
    expect(byLead).toHaveLength(17);
    expect(byLead[16]?.defaultWeight).toBe(0);
    expect(byLead[16]?.weight).toBeGreaterThan(0.4);
  });

  it('refuses leads and shares that are none', () => {
    const good = { leadDays: 1, forecastShare: 0.5, recordShare: 0.5, good: true };
    for (const wrong of [{ leadDays: -1 }, { leadDays: 0.5 }, { forecastShare: 1.2 }, { recordShare: NaN }]) {
      expect(() => fitLeadWeights([{ ...good, ...wrong }], 'single')).toThrow(
        expect.objectContaining({ code: 'invalid-input' }),
      );
    }
  });
});
