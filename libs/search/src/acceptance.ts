import type { Rng } from '../../kernel/src/index.ts';

/** Decides whether a candidate replaces the present answer. Costs are to be made small. */
export interface Acceptance {
  accepts(presentCost: number, candidateCost: number, fraction: number, rng: Rng): boolean;
}

export interface AnnealingOptions {
  /** Temperature at the start, in the unit of the cost; > 0. */
  readonly startTemperature: number;
  /** Temperature when the whole budget is used; > 0 and not above the start. */
  readonly endTemperature: number;
}

/**
 * Simulated annealing: a candidate that is dearer by d is taken with probability exp(-d / T), where T falls
 * geometrically from the start to the end temperature as the budget is used (fraction 0 to 1).
 */
export function simulatedAnnealing(options: AnnealingOptions): Acceptance {
  const ratio = options.endTemperature / options.startTemperature;
  return {
    accepts(presentCost, candidateCost, fraction, rng) {
      if (candidateCost <= presentCost) return true;
      const temperature = options.startTemperature * ratio ** Math.min(1, Math.max(0, fraction));
      return rng.uniform() < Math.exp((presentCost - candidateCost) / temperature);
    },
  };
}

/** Takes a candidate only if it is no dearer. */
export function neverWorse(): Acceptance {
  return { accepts: (presentCost, candidateCost) => candidateCost <= presentCost };
}
