import { DryspellError, type Rng } from '../../../kernel/src/index.ts';

// Bound once: where the global object is wrapped, as in test runners, each look-up of Math costs more than the function.
const { abs, exp, log, sqrt } = Math;

const HART_TOP = [
  3.52624965998911e-2, 0.700383064443688, 6.37396220353165, 33.912866078383, 112.079291497871,
  221.213596169931, 220.206867912376,
];
const HART_BELOW = [
  8.83883476483184e-2, 1.75566716318264, 16.064177579207, 86.7807322029461, 296.564248779674,
  637.333633378831, 793.826512519948, 440.413735824752,
];

/**
 * Chance that a standard normal number lies above `x`; relative error below 1e-12 in the upper tail up to 37, beyond which it is 0.
 * Source: Hart et al. 1968, Computer Approximations, formula 5666, in the form of West 2005, Wilmott, 70-76; from 3.5 on, where a
 * share of it is lost, Laplace's continued fraction (Abramowitz and Stegun 26.2.14).
 */
export function normalAbove(x: number): number {
  const size = abs(x);
  let tail = 0;
  if (size <= 37) {
    const density = exp((-size * size) / 2);
    if (size < 3.5) tail = (density * horner(HART_TOP, size)) / horner(HART_BELOW, size);
    else {
      let fraction = size;
      for (let term = 50; term >= 1; term -= 1) fraction = size + term / fraction;
      tail = density / fraction / sqrt(2 * Math.PI);
    }
  }
  return x >= 0 ? tail : 1 - tail;
}

const MIDDLE_TOP = [
  2509.0809287301227, 33430.57558358813, 67265.7709270087, 45921.95393154987, 13731.69376550946,
  1971.5909503065513, 133.14166789178438, 3.3871328727963665,
];
const MIDDLE_BELOW = [
  5226.495278852854, 28729.085735721943, 39307.89580009271, 21213.794301586597, 5394.196021424751,
  687.1870074920579, 42.31333070160091, 1,
];
const OUTER_TOP = [
  0.0007745450142783414, 0.022723844989269184, 0.2417807251774506, 1.2704582524523684, 3.6478483247632045,
  5.769497221460691, 4.630337846156546, 1.4234371107496835,
];
const OUTER_BELOW = [
  1.0507500716444169e-9, 0.0005475938084995345, 0.015198666563616457, 0.14810397642748008, 0.6897673349851,
  1.6763848301838038, 2.053191626637759, 1,
];
const FAR_TOP = [
  2.0103343992922881e-7, 2.7115555687434876e-5, 0.0012426609473880784, 0.026532189526576124,
  0.29656057182850487, 1.7848265399172913, 5.463784911164114, 6.657904643501103,
];
const FAR_BELOW = [
  2.0442631033899397e-15, 1.421511758316446e-7, 1.8463183175100548e-5, 0.0007868691311456133,
  0.014875361290850615, 0.1369298809227358, 0.599832206555888, 1,
];

/**
 * The standard normal number below which a share of `chance` lies; relative error about 1e-16. `chance` above 0 and below 1,
 * else it throws `invalid-input`. Source: Wichura 1988, Applied Statistics 37, 477-484, algorithm AS 241 (PPND16).
 */
export function normalQuantile(chance: number): number {
  if (!(chance > 0 && chance < 1))
    throw new DryspellError('invalid-input', { field: 'chance', value: chance, expected: 'between 0 and 1' });
  const off = chance - 0.5;
  if (abs(off) <= 0.425) {
    const r = 0.180625 - off * off;
    return (off * horner(MIDDLE_TOP, r)) / horner(MIDDLE_BELOW, r);
  }
  const r = sqrt(-log(off < 0 ? chance : 1 - chance));
  const size =
    r <= 5
      ? horner(OUTER_TOP, r - 1.6) / horner(OUTER_BELOW, r - 1.6)
      : horner(FAR_TOP, r - 5) / horner(FAR_BELOW, r - 5);
  return off < 0 ? -size : size;
}

/** A standard normal number, by the quantile of a uniform one: one draw gives one number. */
export function drawNormal(rng: Rng): number {
  let uniform = rng.uniform();
  while (uniform === 0) uniform = rng.uniform();
  return normalQuantile(uniform);
}

/** The value at x of the polynomial with these coefficients, highest power first. */
function horner(coefficients: readonly number[], x: number): number {
  let value = 0;
  for (const coefficient of coefficients) value = value * x + coefficient;
  return value;
}
