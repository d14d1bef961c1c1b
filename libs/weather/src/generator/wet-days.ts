import type { Rng } from '../../../kernel/src/index.ts';

/** The chain of wet days at one day: long-run share and correlation with the next day. */
export interface WetChain {
  readonly wetShare: number;
  readonly correlation: number;
}

/**
 * Draws days wet (1), dry (0) or unknown (-1, where `chainOf` gives null), `days` of them. Within a month it is the two-state
 * chain with that share and correlation. From one month to the next the chances are chosen so that the share changes at once
 * and the correlation stays, as far as two shares allow (Frechet's bounds); so every day has exactly its month's share. The
 * first day, and one after an unknown one, is drawn from the share alone.
 */
export function drawWetDays(rng: Rng, days: number, chainOf: (nth: number) => WetChain | null): Int8Array {
  const wet = new Int8Array(days);
  let before: WetChain | null = null;
  for (let nth = 0; nth < days; nth += 1) {
    const chain = chainOf(nth);
    // One draw a day whatever happens, so that the days of a known month do not hang on how others were drawn.
    const draw = rng.uniform();
    if (chain === null) wet[nth] = -1;
    else {
      const chance: number =
        before === null ? chain.wetShare : wetChance(before.wetShare, chain, wet[nth - 1] === 1);
      wet[nth] = draw < chance ? 1 : 0;
    }
    before = chain;
  }
  return wet;
}

/** Chance of a wet day after one with long-run share `shareBefore` that was wet or not. */
function wetChance(shareBefore: number, { wetShare, correlation }: WetChain, wasWet: boolean): number {
  const spread = Math.sqrt(shareBefore * (1 - shareBefore) * wetShare * (1 - wetShare));
  const both = Math.min(
    shareBefore,
    wetShare,
    Math.max(0, shareBefore + wetShare - 1, shareBefore * wetShare + correlation * spread),
  );
  return wasWet ? both / shareBefore : (wetShare - both) / (1 - shareBefore);
}
