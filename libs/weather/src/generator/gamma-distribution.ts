import type { Rng } from '../../../kernel/src/index.ts';
import { drawNormal } from './normal-distribution.ts';

const LANCZOS = [
  0.9999999999998099, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.984369578019572e-6, 1.5056327351493116e-7,
];

/** The gamma function for x above 0, relative error below 1e-13. Source: Lanczos 1964, SIAM J. Numer. Anal. 1, 86-96, g = 7. */
export function gammaFunction(x: number): number {
  if (x < 0.5) return Math.PI / (Math.sin(Math.PI * x) * gammaFunction(1 - x));
  let sum = LANCZOS[0] as number;
  for (let term = 1; term < LANCZOS.length; term += 1) sum += (LANCZOS[term] as number) / (x - 1 + term);
  const t = x + 6.5;
  return Math.sqrt(2 * Math.PI) * t ** (x - 0.5) * Math.exp(-t) * sum;
}

/**
 * A gamma number with this shape (above 0) and scale 1: mean and variance are the shape.
 * Source: Marsaglia and Tsang 2000, ACM Trans. Math. Softw. 26, 363-372; shapes below 1 by their power of a uniform number.
 */
export function drawGamma(rng: Rng, shape: number): number {
  if (shape < 1) return drawGamma(rng, shape + 1) * rng.uniform() ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = drawNormal(rng);
    const v = (1 + c * x) ** 3;
    if (v <= 0) continue;
    const u = rng.uniform();
    if (u < 1 - 0.0331 * x ** 4 || Math.log(u) < (x * x) / 2 + d * (1 - v + Math.log(v))) return d * v;
  }
}
