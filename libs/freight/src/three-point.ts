import { DryspellError } from '../../kernel/src/index.ts';

/** As quick as it can be, most likely, as slow as must be reckoned with; low <= likely <= high, same unit. */
export interface ThreePoint {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/** Mean of the PERT estimate: (low + 4 likely + high) / 6. */
export function pertMean({ low, likely, high }: ThreePoint): number {
  return (low + 4 * likely + high) / 6;
}

/**
 * Variance of the beta-PERT distribution: (mean - low)(high - mean) / 7. The textbook rule ((high - low) / 6)^2 is a
 * rougher stand-in for it: see `classicPertVariance`.
 */
export function betaPertVariance(estimate: ThreePoint): number {
  const mean = pertMean(estimate);
  return ((mean - estimate.low) * (estimate.high - mean)) / 7;
}

/** Variance by the textbook rule of network planning: ((high - low) / 6)^2. */
export function classicPertVariance({ low, high }: ThreePoint): number {
  return ((high - low) / 6) ** 2;
}

/** Chance that a beta-PERT (lambda 4) is at most `value`: the regularised incomplete beta function. */
export function betaPertCdf(estimate: ThreePoint, value: number): number {
  const { low, likely, high } = checked(estimate);
  if (value < low) return 0;
  if (value >= high) return 1;
  const span = high - low;
  return incompleteBeta(
    (value - low) / span,
    1 + (4 * (likely - low)) / span,
    1 + (4 * (high - likely)) / span,
  );
}

/** The value that a beta-PERT does not exceed with the given chance (0 to 1). */
export function betaPertQuantile(estimate: ThreePoint, chance: number): number {
  let { low, high } = checked(estimate);
  const tolerance = (high - low) * 1e-12;
  while (high - low > tolerance) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (betaPertCdf(estimate, middle) < chance) low = middle;
    else high = middle;
  }
  return high;
}

/** Standard normal distribution function; error below 1e-12. */
export function normalCdf(z: number): number {
  // Through the incomplete gamma series (small z) or continued fraction (large z) of the error function.
  const x = (z * z) / 2;
  if (x > 700) return z > 0 ? 1 : 0;
  let upper: number;
  if (x < 2.5) {
    let term = 2 * Math.sqrt(x / Math.PI);
    let sum = term;
    for (let n = 1; Math.abs(term) > 1e-17 * Math.abs(sum) && n < 500; n += 1) {
      term *= x / (n + 0.5);
      sum += term;
    }
    upper = 1 - sum * Math.exp(-x);
  } else {
    let fraction = 0;
    for (let n = 200; n >= 1; n -= 1) fraction = (n * (n - 0.5)) / (x + 2 * n + 0.5 - fraction);
    upper = (Math.sqrt(x / Math.PI) * Math.exp(-x)) / (x + 0.5 - fraction);
  }
  return z > 0 ? 1 - upper / 2 : upper / 2;
}

function checked(estimate: ThreePoint): ThreePoint {
  const { low, likely, high } = estimate;
  if (!(low <= likely && likely <= high && Number.isFinite(low) && Number.isFinite(high))) {
    throw new DryspellError('invalid-input', {
      field: 'low, likely, high',
      value: [low, likely, high],
      expected: 'low <= likely <= high',
    });
  }
  return estimate;
}

/** Regularised incomplete beta function by its continued fraction (modified Lentz; Abramowitz and Stegun 26.5.8). */
function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a);
  const front =
    Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x)) / a;
  const guard = (value: number): number => (Math.abs(value) < 1e-300 ? 1e-300 : value);
  let c = 1;
  let d = 1 / guard(1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m < 300; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / guard(1 + even * d);
    c = guard(1 + even / c);
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / guard(1 + odd * d);
    c = guard(1 + odd / c);
    const step = d * c;
    fraction *= step;
    if (Math.abs(step - 1) < 1e-15) break;
  }
  return front * fraction;
}

/** Logarithm of the gamma function for arguments of 1 or more: Stirling's series after shifting up. */
function logGamma(value: number): number {
  let x = value;
  let shift = 0;
  while (x < 12) {
    shift -= Math.log(x);
    x += 1;
  }
  const y = 1 / (x * x);
  const series = (1 / 12 - y * (1 / 360 - y * (1 / 1260 - y * (1 / 1680 - y / 1188)))) / x;
  return shift + (x - 0.5) * Math.log(x) - x + 0.5 * Math.log(2 * Math.PI) + series;
}
