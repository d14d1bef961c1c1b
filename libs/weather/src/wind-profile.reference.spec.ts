// Wind with height. Power law: v(z) = v10 (z / 10)^a, recomputed from the formula. Log law: the ratio of the roughness factors
// c_r(z) = k_r ln(z / z0) of EN 1991-1-4, 4.3.2 (formula and z0, zmin of Table 4.1 as an engineering help page gives them; cells recomputed).
import { describe, expect, it } from '@jest/globals';
import { OPEN_GROUND, windFactorAt } from './wind-profile.ts';

describe('wind at a height', () => {
  it.each([
    [0.14, 50, 1.2527],
    [0.14, 100, 1.3804],
    [1 / 7, 20, 1.1041],
    [1 / 7, 50, 1.2585],
    [0.33, 30, 1.437],
  ])('power law with exponent %d at %d m is %d of that at 10 m', (exponent, heightM, factor) => {
    expect(windFactorAt(heightM, { law: 'power', exponent })).toBeCloseTo(factor, 4);
  });

  it.each([
    ['0', 0.003, [1.0146, 1.1576, 1.2657, 1.3739, 1.5168, 1.625]],
    ['I', 0.01, [0.8994, 1.055, 1.1726, 1.2903, 1.4458, 1.5635]],
    ['II', 0.05, [0.7009, 0.875, 1.0067, 1.1384, 1.3125, 1.4442]],
  ])('log law over terrain category %s', (_, roughnessM, cells) => {
    const heights = [2, 5, 10, 20, 50, 100];
    heights.forEach((heightM, at) => {
      const expected = (cells[at] as number) / (cells[2] as number);
      expect(Math.abs(windFactorAt(heightM, { law: 'log', roughnessM }) - expected)).toBeLessThan(0.001);
    });
  });

  it('is weaker below 10 m, and the same at 10 m', () => {
    expect(windFactorAt(2.6)).toBeLessThan(1);
    expect(windFactorAt(10)).toBe(1);
    expect(windFactorAt(10, { law: 'log', roughnessM: 0.3 })).toBe(1);
  });

  it('refuses a height or a roughness that no place has', () => {
    expect(() => windFactorAt(0, OPEN_GROUND)).toThrow();
    expect(() => windFactorAt(5, { law: 'log', roughnessM: 0 })).toThrow();
  });
});
