import { describe, expect, it } from '@jest/globals';
import { rngFromSeed } from '../../../kernel/src/index.ts';
import {
  badAgainChance,
  goodRunChance,
  lagOneCorrelation,
  meanDaysUntilGoodRun,
  meanSpellDays,
  stationaryBadShare,
  type TwoStateChain,
} from '../index.ts';
import { drawWetDays } from './wet-days.ts';

/**
 * Drawn days against closed forms of the two-state chain. Parameters: Tel Aviv, Gabriel and Neumann 1962 (Q. J. R. Meteorol.
 * Soc. 88, 90-95) as restated in Poole, Linear Algebra, ch. 3; a statistics quiz of CSU Hayward; Ithaca January 1987, a value
 * from memory of Wilks, Statistical Methods in the Atmospheric Sciences, used as input only. Rule of thumb: a fixed seed, and
 * within 4 standard errors of the exact value.
 */
const published: readonly [string, TwoStateChain, number][] = [
  ['Tel Aviv', { badAfterGood: 0.25, badAfterBad: 0.662 }, 0.42517],
  ['the quiz', { badAfterGood: 0.1, badAfterBad: 0.4 }, 1 / 7],
  ['Ithaca', { badAfterGood: 0.5, badAfterBad: 0.8 }, 0.714286],
];
const DAYS = 60_000;

function daysOf(chain: TwoStateChain, seed: number, days = DAYS): Int8Array {
  const step = { wetShare: stationaryBadShare(chain), correlation: lagOneCorrelation(chain) };
  return drawWetDays(rngFromSeed(seed), days, () => step);
}

/** Complete spells of wet (1) or dry (0) days; the first and the last may be cut off and are left out. */
function spellsOf(days: Int8Array, state: number): number[] {
  const spells: number[] = [];
  let length = 0;
  days.forEach((day, at) => {
    if (at > 0 && day !== days[at - 1]) {
      if (days[at - 1] === state) spells.push(length);
      length = 0;
    }
    length += 1;
  });
  return days[0] === state ? spells.slice(1) : spells;
}

/** Share of days in state `from` that are followed by `run` dry days. */
function sharesOfDryRuns(days: Int8Array, from: number | null, run: number) {
  let [count, yes] = [0, 0];
  // Windows one after the other, not overlapping, so that they are nearly independent.
  for (let at = 0; at + run < days.length; at += run + 1) {
    if (from !== null && days[at] !== from) continue;
    count += 1;
    if (days.slice(at + 1, at + 1 + run).every((day) => day === 0)) yes += 1;
  }
  return { count, share: yes / count };
}

const within = (estimate: number, exact: number, standardError: number): void =>
  expect(Math.abs(estimate - exact)).toBeLessThan(4 * standardError);
const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

describe.each(published)('days drawn with the chain of %s', (_, chain, share) => {
  const days = daysOf(chain, 20);

  it('are wet as often as the published share says', () => {
    const r = lagOneCorrelation(chain);
    // The variance of a mean of correlated days is larger by (1 + r) / (1 - r).
    const error = Math.sqrt(((share * (1 - share)) / DAYS) * ((1 + r) / (1 - r)));
    within(mean([...days]), share, error);
  });

  it('come in spells of the mean length 1 / (1 - p11) wet and 1 / p01 dry', () => {
    const exact = meanSpellDays(chain);
    for (const [state, length] of [
      [1, exact.bad],
      [0, exact.good],
    ] as const) {
      const spells = spellsOf(days, state);
      // A geometric number with mean m has variance m (m - 1).
      within(mean(spells), length, Math.sqrt((length * (length - 1)) / spells.length));
    }
  });

  it('have wet spells of geometric length (chi-square, 5 %)', () => {
    // Critical values of chi-square at 5 %: 1 degree of freedom 3.841, 5 degrees 11.070, 9 degrees 16.919.
    const spells = spellsOf(daysOf(chain, 77), 1);
    const stay = chain.badAfterBad;
    const chances = [1, 2, 3, 4, 5].map((length) => (1 - stay) * stay ** (length - 1));
    const observed = [1, 2, 3, 4, 5].map((length) => spells.filter((spell) => spell === length).length);
    chances.push(stay ** 5);
    observed.push(spells.filter((spell) => spell > 5).length);
    const square = chances.reduce((sum, chance, at) => {
      const expected = chance * spells.length;
      expect(expected).toBeGreaterThan(5);
      return sum + ((observed[at] as number) - expected) ** 2 / expected;
    }, 0);
    expect(square).toBeLessThan(11.07);
  });

  it('give three dry days in a row as often as (1 - p01)^k says, after dry, after wet and from any day', () => {
    for (const [from, exact] of [
      [0, goodRunChance(chain, 3, 'good')],
      [1, goodRunChance(chain, 3, 'bad')],
      [null, goodRunChance(chain, 3, 'unknown')],
    ] as const) {
      const { count, share: found } = sharesOfDryRuns(days, from, 3);
      within(found, exact, Math.sqrt((exact * (1 - exact)) / count));
    }
  });

  it('are wet again two days later with the published chance', () => {
    const again: number[] = [];
    for (let at = 0; at + 2 < days.length; at += 3) if (days[at] === 1) again.push(days[at + 2] as number);
    const exact = badAgainChance(chain, 2);
    within(mean(again), exact, Math.sqrt((exact * (1 - exact)) / again.length));
  });

  it('make one wait for good days in a row as long as first-step analysis says', () => {
    for (const run of [2, 3]) {
      const waits: number[] = [];
      let dryInRow = 0;
      let since: number | null = null;
      // The clock starts on a wet day and stops when the run has just ended; then the next wet day starts it again.
      days.forEach((day, at) => {
        if (since === null) {
          if (day === 1) since = at;
          dryInRow = 0;
          return;
        }
        dryInRow = day === 0 ? dryInRow + 1 : 0;
        if (dryInRow === run) {
          waits.push(at - since);
          since = null;
        }
      });
      const average = mean(waits);
      const spread = mean(waits.map((wait) => (wait - average) ** 2));
      within(average, meanDaysUntilGoodRun(chain, run, 0, 'bad'), Math.sqrt(spread / waits.length));
    }
  });
});

describe('independent days', () => {
  // Waiting for k successes in a row: mean (1 - p^k) / (q p^k), variance 1 / (q p^k)^2 - (2k + 1) / (q p^k) - p / q^2 (Feller
  // I, ch. XIII; the variance formula from memory, the values recomputed).
  it.each([
    [0.5, 2, 6, 22],
    [0.5, 3, 14, 142],
    [0.75, 3, 5.48148, 11.5281],
    [0.9, 5, 6.93509, 10.5112],
  ])(
    'dry with chance %d: %d in a row take %d days with variance %d',
    (dry, run, exactMean, exactVariance) => {
      const days = drawWetDays(rngFromSeed(31), 120_000, () => ({ wetShare: 1 - dry, correlation: 0 }));
      const waits: number[] = [];
      let [start, inRow] = [0, 0];
      days.forEach((day, at) => {
        inRow = day === 0 ? inRow + 1 : 0;
        if (inRow === run) {
          waits.push(at + 1 - start);
          [start, inRow] = [at + 1, 0];
        }
      });
      const average = mean(waits);
      within(average, exactMean, Math.sqrt(exactVariance / waits.length));
      const squares = waits.map((wait) => (wait - average) ** 2);
      const variance = mean(squares);
      const errorOfVariance = Math.sqrt(
        mean(squares.map((square) => (square - variance) ** 2)) / squares.length,
      );
      within(variance, exactVariance, errorOfVariance);
    },
  );
});

describe('months that differ', () => {
  it('each have their own share from the first day on', () => {
    // Many Aprils of 0.2 after Marches of 0.7: the first April day must be wet in 0.2 of years, not dragged up by March.
    const chains = [
      { wetShare: 0.7, correlation: 0.4 },
      { wetShare: 0.2, correlation: 0.3 },
    ] as const;
    const years = 20_000;
    const counts = [0, 0, 0, 0];
    for (let year = 0; year < years; year += 1) {
      const days = drawWetDays(rngFromSeed(5).derive(year), 4, (nth) => chains[nth < 2 ? 0 : 1]);
      days.forEach((day, at) => {
        counts[at] = (counts[at] as number) + day;
      });
    }
    counts.forEach((count, at) => {
      const exact = at < 2 ? 0.7 : 0.2;
      within(count / years, exact, Math.sqrt((exact * (1 - exact)) / years));
    });
  });

  it('stay unknown where they are, and never and always are kept', () => {
    const days = drawWetDays(rngFromSeed(1), 400, (nth) =>
      nth < 100 ? null : { wetShare: nth < 200 ? 0 : 1, correlation: 0.3 },
    );
    expect(new Set(days.slice(0, 100))).toEqual(new Set([-1]));
    expect(new Set(days.slice(100, 200))).toEqual(new Set([0]));
    expect(new Set(days.slice(200))).toEqual(new Set([1]));
  });
});
