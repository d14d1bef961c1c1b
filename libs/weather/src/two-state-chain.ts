import { DryspellError } from '../../kernel/src/index.ts';

/**
 * Day-to-day weather with two states, good and bad, where tomorrow depends on today only (first-order Markov chain;
 * Gabriel and Neumann 1962, Q. J. R. Meteorol. Soc. 88, 90-95). Both chances are from 0 to 1.
 */
export interface TwoStateChain {
  /** Chance that the day after a good one is bad. */
  readonly badAfterGood: number;
  /** Chance that the day after a bad one is bad. */
  readonly badAfterBad: number;
}

/** What is known of the day before; `unknown` means the chain's own long-run shares. */
export type DayBefore = 'good' | 'bad' | 'unknown';

/** Long-run share of bad days: p01 / (1 + p01 - p11). A chain that never changes state has no one share: 0.5. */
export function stationaryBadShare({ badAfterGood, badAfterBad }: TwoStateChain): number {
  const leaving = badAfterGood + 1 - badAfterBad;
  return leaving === 0 ? 0.5 : badAfterGood / leaving;
}

/** Correlation of one day with the next: p11 - p01. */
export function lagOneCorrelation({ badAfterGood, badAfterBad }: TwoStateChain): number {
  return badAfterBad - badAfterGood;
}

/** The chance that the first day of a stay is bad, from what is known of the day before. */
export function firstDayBadChance(chain: TwoStateChain, before: DayBefore): number {
  if (before === 'unknown') return stationaryBadShare(chain);
  return before === 'bad' ? chain.badAfterBad : chain.badAfterGood;
}

/** Mean length in days of an unbroken run of bad days and of good days; Infinity where a run never ends. */
export function meanSpellDays({ badAfterGood, badAfterBad }: TwoStateChain): { bad: number; good: number } {
  return { bad: 1 / (1 - badAfterBad), good: 1 / badAfterGood };
}

/** Chance that the next `days` days (1 or more) are all good. */
export function goodRunChance(chain: TwoStateChain, days: number, before: DayBefore): number {
  return (1 - firstDayBadChance(chain, before)) * (1 - chain.badAfterGood) ** (days - 1);
}

/** Chance that the `days`-th day from now is bad, given that today is: share + (1 - share) r^n. */
export function badAgainChance(chain: TwoStateChain, days: number): number {
  const share = stationaryBadShare(chain);
  return share + (1 - share) * lagOneCorrelation(chain) ** days;
}

/**
 * Mean number of days until `run` good days in a row have just ended (run 1 or more), counted from tomorrow.
 * `goodAlready` days of such a run lie behind, the last of them today; 0 means that `before` tells about today.
 * Infinity when the run can never come. Source: first-step analysis, as in Ross, Introduction to Probability Models.
 */
export function meanDaysUntilGoodRun(
  chain: TwoStateChain,
  run: number,
  goodAlready: number,
  before: DayBefore = 'bad',
): number {
  const stay = 1 - chain.badAfterGood;
  // The mean from j good days behind is a[j] + b[j] * (the mean from a bad day), built backwards from the full run.
  let constant = 0;
  let perBad = 0;
  let wanted = goodAlready >= run ? { constant, perBad } : undefined;
  for (let j = run - 1; j >= 1; j -= 1) {
    constant = 1 + stay * constant;
    perBad = chain.badAfterGood + stay * perBad;
    if (j === goodAlready) wanted = { constant, perBad };
  }
  const leave = 1 - chain.badAfterBad;
  const fromBad = (1 + leave * constant) / (1 - chain.badAfterBad - leave * perBad);
  if (wanted) return wanted.constant + wanted.perBad * (wanted.perBad === 0 ? 0 : fromBad);
  const firstBad = firstDayBadChance(chain, before);
  return (
    1 +
    (firstBad === 0 ? 0 : firstBad * fromBad) +
    (1 - firstBad) * (constant + (perBad === 0 ? 0 : perBad * fromBad))
  );
}

/**
 * The chain with a given long-run share of bad days and a given chance of bad after bad.
 * Throws `invalid-input` where no such chain exists: bad after bad must be at least (2 share - 1) / share.
 */
export function chainFromShare(badShare: number, badAfterBad: number): TwoStateChain {
  if (badShare >= 1) return { badAfterGood: 1, badAfterBad: 1 };
  const badAfterGood = (badShare * (1 - badAfterBad)) / (1 - badShare);
  if (!(badAfterGood >= 0 && badAfterGood <= 1 + 1e-12)) {
    throw new DryspellError('invalid-input', {
      field: 'badAfterBad',
      value: badAfterBad,
      badShare,
      expected: `at least ${((2 * badShare - 1) / badShare).toFixed(3)} for this share of bad days`,
    });
  }
  return { badAfterGood: Math.min(1, badAfterGood), badAfterBad };
}

/** The chain with a given long-run share of bad days and a day-to-day correlation of 0 to 1. */
export function chainFromCorrelation(badShare: number, correlation: number): TwoStateChain {
  return { badAfterGood: badShare * (1 - correlation), badAfterBad: badShare + (1 - badShare) * correlation };
}
