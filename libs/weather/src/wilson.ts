import { DryspellError } from '../../kernel/src/index.ts';

/** The standard normal quantile of 0.975: two-sided 95 %. */
const Z_95 = 1.959963984540054;

/**
 * Wilson's score interval of a chance, from `successes` of `trials` (both may be fractions, as weighted counts are), for the standard normal
 * quantile `z`; two-sided 95 % by default. Bounds lie in 0..1. Without a trial nothing is known: 0 to 1.
 * Throws `invalid-input` unless 0 <= successes <= trials.
 * Source: Wilson 1927, in the form of the NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4.1; without continuity correction.
 */
export function wilsonInterval(successes: number, trials: number, z = Z_95): { low: number; high: number } {
  // Sums of fractions may pass the whole by a rounding error.
  if (!(trials >= 0 && successes >= 0 && successes <= trials + 1e-9 * Math.max(1, trials))) {
    throw new DryspellError('invalid-input', {
      field: 'successes',
      value: successes,
      trials,
      expected: 'from 0 to the number of trials',
    });
  }
  if (trials === 0) return { low: 0, high: 1 };
  const share = Math.min(1, successes / trials);
  const square = (z * z) / trials;
  const middle = share + square / 2;
  const half = z * Math.sqrt((share * (1 - share)) / trials + square / trials / 4);
  return {
    low: share === 0 ? 0 : Math.max(0, (middle - half) / (1 + square)),
    high: share === 1 ? 1 : Math.min(1, (middle + half) / (1 + square)),
  };
}
