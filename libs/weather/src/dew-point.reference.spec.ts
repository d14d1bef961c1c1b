import { describe, expect, it } from '@jest/globals';
import { dewPointC } from './index.ts';

describe('dew point', () => {
  // Recomputed with another program from the Magnus form of WMO-No. 8, Annex 4.B (17.62, 243.12).
  it.each([
    [20, 50, 9.255],
    [25, 60, 16.693],
    [30, 70, 23.927],
    [10, 90, 8.434],
    [5, 40, -7.505],
    [40, 50, 27.598],
    [-5, 70, -9.629],
    [20, 100, 20],
  ])('at %d C and %d %% is %d C', (tempC, rhPct, expected) => {
    expect(Math.abs(dewPointC(tempC, rhPct) - expected)).toBeLessThan(0.01);
  });

  // Other published sets of constants: 17.625 / 243.04 and 17.27 / 237.3, and the base-10 form 7.591386 / 240.7263.
  it.each([
    [20, 50, 9.261],
    [20, 50, 9.27],
    [40, 50, 27.59],
  ])('agrees with an independent set at %d C and %d %%', (tempC, rhPct, expected) => {
    expect(Math.abs(dewPointC(tempC, rhPct) - expected)).toBeLessThan(0.1);
  });

  it('is unknown without a humidity that can be', () => {
    for (const rhPct of [0, -1, 101, Number.NaN]) expect(dewPointC(20, rhPct)).toBeNaN();
    expect(dewPointC(Number.NaN, 50)).toBeNaN();
  });
});
