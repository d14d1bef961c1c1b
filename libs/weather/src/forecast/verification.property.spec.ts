import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { brierParts } from '../index.ts';

describe('the parts of the Brier score', () => {
  it('add up to it whatever the chances in a bin', () => {
    const cases = fc.array(
      fc.record({ chance: fc.double({ min: 0, max: 1, noNaN: true }), happened: fc.boolean() }),
      { minLength: 1, maxLength: 60 },
    );
    fc.assert(
      fc.property(cases, fc.integer({ min: 1, max: 20 }), (stated, bins) => {
        const parts = brierParts(stated, bins);
        if (!parts.known) throw new Error('cases were given');
        const p = parts.value;
        expect(
          p.reliability - p.resolution + p.uncertainty + p.withinBinVariance - p.withinBinCovariance,
        ).toBeCloseTo(p.brier, 10);
      }),
    );
  });
});
