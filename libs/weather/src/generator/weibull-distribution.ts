import { gammaFunction } from './gamma-distribution.ts';
import { normalAbove, normalQuantile } from './normal-distribution.ts';

// Bound once: where the global object is wrapped, as in test runners, each look-up of Math costs more than the function.
const { exp, log } = Math;

/** Mean of a Weibull number with scale 1: gamma(1 + 1 / shape). */
export function weibullUnitMean(shape: number): number {
  return gammaFunction(1 + 1 / shape);
}

/**
 * The Weibull number (scale 1) that takes the place of a standard normal one: the same share lies above it. Exact in the
 * upper tail, which is the one that stops work. A Gaussian copula: numbers keep their order and their dependence in time, and
 * get Weibull shares.
 */
export function weibullFromNormal(z: number, shape: number): number {
  return (-log(normalAbove(z))) ** (1 / shape);
}

/** The standard normal number whose place a Weibull number (scale 1, 0 or more) takes; Infinity beyond what can be told apart. */
export function normalFromWeibull(value: number, shape: number): number {
  if (value <= 0) return Number.NEGATIVE_INFINITY;
  const above = exp(-(value ** shape));
  if (above <= 0) return Number.POSITIVE_INFINITY;
  if (above < 1) return -normalQuantile(above);
  return Number.NEGATIVE_INFINITY;
}
