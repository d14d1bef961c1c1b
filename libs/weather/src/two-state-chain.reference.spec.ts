import { describe, expect, it } from '@jest/globals';
import {
  badAgainChance,
  chainFromShare,
  goodRunChance,
  lostDaysOfStay,
  meanDaysUntilGoodRun,
  meanSpellDays,
  stationaryBadShare,
} from './index.ts';

/**
 * Parameters: Tel Aviv, Gabriel and Neumann 1962 (Q. J. R. Meteorol. Soc. 88) as restated in Poole, Linear Algebra, ch. 3; the
 * second row a statistics quiz of CSU Hayward (share 1/7); Ithaca January 1987, a value from memory of Wilks, Statistical Methods in
 * the Atmospheric Sciences, used as input only. Expected columns recomputed from the closed forms with another program.
 */
const telAviv = { badAfterGood: 0.25, badAfterBad: 0.662 };
const quiz = { badAfterGood: 0.1, badAfterBad: 0.4 };
const ithaca = { badAfterGood: 0.5, badAfterBad: 0.8 };

describe('the two-state chain', () => {
  it.each([
    [telAviv, 0.42517, 2.959, 4, 0.421875, 0.190125, 0.323342, 0.522744],
    [quiz, 1 / 7, 1.667, 10, 0.729, 0.486, 0.694286, 0.22],
    [ithaca, 0.714286, 5, 2, 0.125, 0.05, 0.071429, 0.74],
  ])(
    '%p has the published shares, spells and runs',
    (chain, share, badSpell, goodSpell, afterGood, afterBad, window, again) => {
      expect(stationaryBadShare(chain)).toBeCloseTo(share, 5);
      expect(meanSpellDays(chain).bad).toBeCloseTo(badSpell, 3);
      expect(meanSpellDays(chain).good).toBeCloseTo(goodSpell, 6);
      expect(goodRunChance(chain, 3, 'good')).toBeCloseTo(afterGood, 6);
      expect(goodRunChance(chain, 3, 'bad')).toBeCloseTo(afterBad, 6);
      expect(goodRunChance(chain, 3, 'unknown')).toBeCloseTo(window, 6);
      expect(badAgainChance(chain, 2)).toBeCloseTo(again, 6);
    },
  );

  // Expected further days until k good days in a row, recomputed by solving the linear system.
  it.each([
    [telAviv, 2, 5.27811, 2.31953],
    [telAviv, 3, 8.37081, 5.41223],
    [quiz, 2, 2.96296, 1.2963],
    [quiz, 3, 4.40329, 2.73663],
  ])('%p waits for %d good days in a row as long as it should', (chain, run, afterBad, afterOneGood) => {
    expect(meanDaysUntilGoodRun(chain, run, 0, 'bad')).toBeCloseTo(afterBad, 5);
    expect(meanDaysUntilGoodRun(chain, run, 1)).toBeCloseTo(afterOneGood, 5);
    // The same mean from the exact distribution of lost days: waiting = lost days + the days of work.
    const stay = lostDaysOfStay(new Array(run).fill(true), () => chain, { before: 'bad', maxLostDays: 900 });
    expect(stay.expectedLostDays + run).toBeCloseTo(afterBad, 4);
  });

  // Waiting for k successes in a row of independent trials: (1 - p^k) / ((1 - p) p^k), Feller I, ch. XIII.
  it.each([
    [1 / 2, 2, 6],
    [1 / 2, 3, 14],
    [1 / 2, 5, 62],
    [1 / 6, 2, 42],
    [0.75, 3, 5.48148],
    [0.9, 5, 6.93509],
  ])('with independent days of chance %d and %d in a row it is the success-run mean', (good, run, mean) => {
    const chain = { badAfterGood: 1 - good, badAfterBad: 1 - good };
    expect(meanDaysUntilGoodRun(chain, run, 0, 'bad')).toBeCloseTo(mean, 4);
    const stay = lostDaysOfStay(new Array(run).fill(true), () => chain, { maxLostDays: 3000 });
    expect(stay.expectedLostDays + run).toBeCloseTo(mean, 4);
  });

  it('gives the published chance of a run of good days within a span', () => {
    // Chance of a run of 3 in 10 throws of a coin: 520/1024; of 3 in 7 with chance 0.7: 0.7193053 (textbook recursion).
    const within = (good: number, run: number, span: number): number => {
      const chain = { badAfterGood: 1 - good, badAfterBad: 1 - good };
      const { chances } = lostDaysOfStay(new Array(run).fill(true), () => chain);
      return chances.slice(0, span - run + 1).reduce((sum, chance) => sum + chance, 0);
    };
    expect(within(0.5, 3, 10)).toBeCloseTo(0.5078125, 10);
    expect(within(0.7, 3, 7)).toBeCloseTo(0.7193053, 6);
  });

  it('loses days as the negative binomial does when bad days only put work off', () => {
    // Lost days before 3 good ones, independent days: mean 3 q / p, chance of none p^3 (standard result).
    const chain = { badAfterGood: 0.3, badAfterBad: 0.3 };
    const stay = lostDaysOfStay([true, true, true], () => chain, { inARow: false, maxLostDays: 300 });
    expect(stay.expectedLostDays).toBeCloseTo((3 * 0.3) / 0.7, 8);
    expect(stay.chances[0]).toBeCloseTo(0.7 ** 3, 12);
    expect(stay.chances[2]).toBeCloseTo(6 * 0.7 ** 3 * 0.3 ** 2, 12);
  });

  it('refuses a persistence that the share does not allow', () => {
    expect(chainFromShare(0.42517, 0.662).badAfterGood).toBeCloseTo(0.25, 4);
    expect(() => chainFromShare(0.9, 0.5)).toThrow(expect.objectContaining({ code: 'invalid-input' }));
  });
});
