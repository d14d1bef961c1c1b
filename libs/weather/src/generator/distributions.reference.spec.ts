import { describe, expect, it } from '@jest/globals';
import { rngFromSeed } from '../../../kernel/src/index.ts';
import { drawGamma, gammaFunction } from './gamma-distribution.ts';
import { drawNormal, normalAbove, normalQuantile } from './normal-distribution.ts';
import { normalFromWeibull, weibullFromNormal, weibullUnitMean } from './weibull-distribution.ts';

const closeTo = (value: number, expected: number, relative: number): void =>
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(relative * Math.abs(expected));
const drawn = (seed: number, count: number, draw: (rng: ReturnType<typeof rngFromSeed>) => number) => {
  const rng = rngFromSeed(seed);
  return Float64Array.from({ length: count }, () => draw(rng)).sort();
};
const momentsOf = (values: Float64Array) => {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return {
    mean,
    variance: values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1),
  };
};

describe('the normal distribution', () => {
  // Expected: Python's statistics.NormalDist (its own translation of AS 241); printed tables of standard normal quantiles agree.
  it.each([
    [1e-300, -37.0470962993612],
    [1e-20, -9.262340089798405],
    [1e-6, -4.753424308822899],
    [0.001, -3.090232306167813],
    [0.025, -1.9599639845400538],
    [0.2, -0.8416212335729142],
    [0.8, 0.8416212335729144],
    [0.95, 1.6448536269514715],
    [0.975, 1.9599639845400536],
    [0.999, 3.090232306167813],
  ])('has the quantile of %d', (chance, expected) => {
    closeTo(normalQuantile(chance), expected, 1e-14);
  });

  // Expected: half the complementary error function of x / root 2, of the C mathematical library.
  it.each([
    [-6, 0.9999999990134123],
    [-1, 0.8413447460685429],
    [0, 0.5],
    [0.5, 0.3085375387259869],
    [1.96, 0.024997895148220435],
    [3, 0.0013498980316300957],
    [5, 2.866515718791946e-7],
    [6.9, 2.600126965638169e-12],
    [7.2, 3.0106279811174455e-13],
    [10, 7.619853024160593e-24],
    [20, 2.7536241186063314e-89],
  ])('has the chance above %d', (x, expected) => {
    closeTo(normalAbove(x), expected, 1e-12);
  });

  it('is refused outside 0..1, where no quantile exists', () => {
    expect(normalQuantile(0.5)).toBe(0);
    for (const chance of [0, 1, -0.1, Number.NaN])
      expect(() => normalQuantile(chance)).toThrow(expect.objectContaining({ code: 'invalid-input' }));
  });

  it('is drawn with its mean, variance and quantiles', () => {
    const values = drawn(1, 10_000, drawNormal);
    const { mean, variance } = momentsOf(values);
    expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(10_000));
    expect(Math.abs(variance - 1)).toBeLessThan(4 * Math.sqrt(2 / 10_000));
    // Standard errors of sample quantiles of 10 000: 0.017094 at 0.9, 0.021132 at 0.95 (root of q(1 - q) / n over the density).
    expect(Math.abs((values[8999] as number) - 1.2815515655446004)).toBeLessThan(4 * 0.017094);
    expect(Math.abs((values[9499] as number) - 1.6448536269514722)).toBeLessThan(4 * 0.021132);
  });

  it('passes the Kolmogorov-Smirnov test at 5 % for 1000 draws: largest gap below 0.0429', () => {
    const values = drawn(2, 1000, drawNormal);
    let gap = 0;
    values.forEach((value, at) => {
      const below = 1 - normalAbove(value);
      gap = Math.max(gap, below - at / 1000, (at + 1) / 1000 - below);
    });
    expect(gap).toBeLessThan(0.0429);
  });
});

describe('the gamma distribution', () => {
  // Expected: the C mathematical library; 1/2 is the root of pi, 5 is 4!.
  it.each([
    [0.3, 2.991568987687591],
    [0.5, Math.sqrt(Math.PI)],
    [1, 1],
    [1.5882352941176472, 0.8922445024993243],
    [5, 24],
    [10.5, 1133278.3889487854],
  ])('has the gamma function at %d', (x, expected) => {
    closeTo(gammaFunction(x), expected, 1e-13);
  });

  it.each([0.4, 0.75, 1, 2.5])(
    'with shape %d is drawn with mean and variance equal to the shape',
    (shape) => {
      const count = 20_000;
      const { mean, variance } = momentsOf(drawn(7, count, (rng) => drawGamma(rng, shape)));
      expect(Math.abs(mean - shape)).toBeLessThan(4 * Math.sqrt(shape / count));
      // Var of the sample variance is (mu4 - var^2) / n with mu4 = 3 k^2 + 6 k (textbook fourth central moment of the gamma).
      expect(Math.abs(variance - shape)).toBeLessThan(4 * Math.sqrt((2 * shape ** 2 + 6 * shape) / count));
    },
  );

  it('with shape 1 is the exponential: quantiles -log(1 - q)', () => {
    const values = drawn(9, 10_000, (rng) => drawGamma(rng, 1));
    for (const q of [0.1, 0.5, 0.9]) {
      const error = Math.sqrt((q * (1 - q)) / 10_000) / (1 - q);
      expect(Math.abs((values[Math.round(q * 10_000) - 1] as number) + Math.log(1 - q))).toBeLessThan(
        4 * error,
      );
    }
  });
});

describe('the Weibull distribution', () => {
  it('has the known means: shape 1 is exponential, shape 2 Rayleigh', () => {
    closeTo(weibullUnitMean(1), 1, 1e-13);
    closeTo(weibullUnitMean(2), Math.sqrt(Math.PI) / 2, 1e-13);
    closeTo(weibullUnitMean(3.6), 0.9011, 1e-4); // gamma(1 + 1 / 3.6), by the C mathematical library.
  });

  it('taken from normal numbers has the Weibull shares, and back again gives the same numbers', () => {
    for (const shape of [1.2, 2, 3.5]) {
      for (const q of [0.01, 0.5, 0.9, 0.999999]) {
        closeTo(weibullFromNormal(normalQuantile(q), shape), (-Math.log(1 - q)) ** (1 / shape), 1e-9);
      }
      for (const z of [-4, -1, 0.3, 2, 6])
        expect(normalFromWeibull(weibullFromNormal(z, shape), shape)).toBeCloseTo(z, 8);
    }
    expect(normalFromWeibull(0, 2)).toBe(Number.NEGATIVE_INFINITY);
    expect(normalFromWeibull(1000, 2)).toBe(Number.POSITIVE_INFINITY);
  });
});
