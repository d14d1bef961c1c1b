import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { blendOdds, defaultLeadWeights, fitLeadWeights } from '../index.ts';
import { fallingFit } from './falling-fit.ts';

const share = fc.double({ min: 0, max: 1, noNaN: true });
const leadCase = fc.record({
  leadDays: fc.integer({ min: 0, max: 12 }),
  forecastShare: share,
  recordShare: share,
  good: fc.boolean(),
});

describe('fitted weights', () => {
  it('lie in 0..1 and never rise with lead', () => {
    fc.assert(
      fc.property(
        fc.array(leadCase, { maxLength: 80 }),
        fc.constantFrom('single', 'ensemble'),
        (cases, kind) => {
          const weights = fitLeadWeights(cases, kind).byLead.map(({ weight }) => weight);
          weights.forEach((weight, lead) => {
            expect(weight).toBeGreaterThanOrEqual(0);
            expect(weight).toBeLessThanOrEqual(lead === 0 ? 1 : (weights[lead - 1] as number));
          });
        },
      ),
    );
  });
});

describe('the nearest falling sequence', () => {
  const pairs = fc.array(fc.tuple(share, fc.double({ min: 0.1, max: 9, noNaN: true })), {
    minLength: 1,
    maxLength: 5,
  });
  const distance = (a: readonly number[], b: readonly number[], weights: readonly number[]): number =>
    a.reduce((sum, value, at) => sum + (weights[at] as number) * (value - (b[at] as number)) ** 2, 0);

  it('is falling, keeps a falling one as it is, and no other falling one is nearer', () => {
    fc.assert(
      fc.property(pairs, fc.array(share, { minLength: 5, maxLength: 5 }), (given, other) => {
        const values = given.map(([value]) => value);
        const weights = given.map(([, weight]) => weight);
        const fit = fallingFit(values, weights);
        fit.slice(1).forEach((value, at) => {
          expect(value).toBeLessThanOrEqual((fit[at] as number) + 1e-12);
        });
        const rival = other.slice(0, values.length).sort((a, b) => b - a);
        expect(distance(fit, values, weights)).toBeLessThanOrEqual(distance(rival, values, weights) + 1e-12);
        expect(fallingFit(rival, weights)).toEqual(rival);
      }),
    );
  });
});

describe('blended odds', () => {
  it('lie between forecast and records, and more good members never make them worse', () => {
    fc.assert(
      fc.property(fc.nat(20), fc.nat(20), fc.nat(12), share, (good, bad, leadDays, recordShare) => {
        fc.pre(good + bad > 0);
        const odds = (goodMembers: number) => {
          const answer = blendOdds(
            { leadDays, members: { good: goodMembers, bad, unknown: 0 }, recordShare },
            defaultLeadWeights('ensemble'),
          );
          if (!answer.known) throw new Error('records were given');
          return answer.value;
        };
        const { goodChance, forecastShare } = odds(good);
        expect(goodChance).toBeGreaterThanOrEqual(Math.min(forecastShare as number, recordShare) - 1e-12);
        expect(goodChance).toBeLessThanOrEqual(Math.max(forecastShare as number, recordShare) + 1e-12);
        expect(goodChance).toBeGreaterThan(0);
        expect(goodChance).toBeLessThan(1);
        expect(odds(good + 1).goodChance).toBeGreaterThanOrEqual(goodChance - 1e-12);
      }),
    );
  });
});
