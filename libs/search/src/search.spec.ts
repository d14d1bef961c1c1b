import { describe, expect, it } from '@jest/globals';
import { rngFromSeed } from '../../kernel/src/index.ts';
import {
  afterDuration,
  afterIterations,
  firstOf,
  NeighbourhoodSearch,
  neverWorse,
  OperatorWeights,
  type SearchProgress,
  simulatedAnnealing,
  whenStopped,
} from './index.ts';

/** Eight queens: a row for each column; cost is the number of pairs that attack each other. */
function queens() {
  let rows = [0, 0, 0, 0, 0, 0, 0, 0];
  const cost = () => {
    let pairs = 0;
    for (let a = 0; a < 8; a += 1)
      for (let b = a + 1; b < 8; b += 1) {
        const [ra, rb] = [rows[a] as number, rows[b] as number];
        if (ra === rb || Math.abs(ra - rb) === b - a) pairs += 1;
      }
    return pairs;
  };
  const workspace = {
    cost,
    save: () => [...rows],
    restore: (snapshot: number[]) => {
      rows = [...snapshot];
    },
  };
  let taken: number[] = [];
  const takeOut = (name: string, count: number) => ({
    name,
    apply: (rng: ReturnType<typeof rngFromSeed>) => {
      taken = rng.shuffle([0, 1, 2, 3, 4, 5, 6, 7]).slice(0, count);
    },
  });
  const putBack = {
    name: 'best row',
    apply: (rng: ReturnType<typeof rngFromSeed>) => {
      for (const column of taken) {
        let [best, bestCost] = [0, Number.POSITIVE_INFINITY];
        for (let row = 0; row < 8; row += 1) {
          rows[column] = row;
          const trial = cost() + rng.uniform() * 0.5;
          if (trial < bestCost) [best, bestCost] = [row, trial];
        }
        rows[column] = best;
      }
    },
  };
  return { workspace, destroyers: [takeOut('two', 2), takeOut('four', 4)], repairers: [putBack] };
}

function solve(seed: number, iterations: number, observer?: (progress: SearchProgress) => void) {
  const search = new NeighbourhoodSearch({
    ...queens(),
    acceptance: simulatedAnnealing({ startTemperature: 1, endTemperature: 0.05 }),
    rng: rngFromSeed(seed),
    ...(observer ? { observer } : {}),
  });
  search.run(afterIterations(iterations));
  return search;
}

describe('stop rules', () => {
  it('count iterations', () => {
    expect(afterIterations(10).fraction(5)).toBe(0.5);
    expect(afterIterations(0).fraction(0)).toBe(1);
  });

  it('read the clock that they are given', () => {
    let now = 1000;
    const rule = afterDuration(() => now, 200);
    expect(rule.fraction(0)).toBe(0);
    now = 1150;
    expect(rule.fraction(99)).toBe(0.75);
  });

  it('end with the first of several', () => {
    let stopped = false;
    const rule = firstOf(
      afterIterations(10),
      whenStopped(() => stopped),
    );
    expect(rule.fraction(2)).toBe(0.2);
    stopped = true;
    expect(rule.fraction(2)).toBe(1);
  });
});

describe('simulated annealing', () => {
  it('takes a dearer answer as often as exp(-d / T) says', () => {
    const acceptance = simulatedAnnealing({ startTemperature: 100, endTemperature: 1 });
    const rng = rngFromSeed(7);
    let taken = 0;
    for (let draw = 0; draw < 20_000; draw += 1) if (acceptance.accepts(0, 10, 0.5, rng)) taken += 1;
    // T halfway is the geometric mean, 10, so the chance is exp(-1) = 0.3679; standard error 0.0034.
    expect(Math.abs(taken / 20_000 - Math.exp(-1))).toBeLessThan(0.014);
  });

  it('always takes a cheaper answer, and the strict rule never a dearer one', () => {
    const rng = rngFromSeed(1);
    expect(simulatedAnnealing({ startTemperature: 1, endTemperature: 1 }).accepts(5, 4, 1, rng)).toBe(true);
    expect(neverWorse().accepts(5, 6, 0, rng)).toBe(false);
    expect(neverWorse().accepts(5, 5, 0, rng)).toBe(true);
  });
});

describe('operator weights', () => {
  it('favour what succeeds and lose nobody', () => {
    const weights = new OperatorWeights(2);
    for (let use = 0; use < 500; use += 1) weights.note(use % 2, use % 2 === 0 ? 'best' : 'rejected');
    const [good, bad] = weights.current() as [number, number];
    expect(good).toBeGreaterThan(5);
    expect(bad).toBeGreaterThan(0);
    const rng = rngFromSeed(3);
    let first = 0;
    for (let draw = 0; draw < 1000; draw += 1) if (weights.pick(rng) === 0) first += 1;
    expect(first).toBeGreaterThan(900);
  });
});

describe('neighbourhood search', () => {
  it('places eight queens so that none attacks another', () => {
    expect(solve(1, 400).bestCost).toBe(0);
  });

  it('gives the same answer for the same seed, also when run in parts', () => {
    const whole = solve(11, 60);
    const parts = new NeighbourhoodSearch({
      ...queens(),
      acceptance: simulatedAnnealing({ startTemperature: 1, endTemperature: 0.05 }),
      rng: rngFromSeed(11),
    });
    for (const until of [0.25, 0.5, 0.75, 1]) parts.run(afterIterations(60), until);
    expect(parts.best).toEqual(whole.best);
    expect(parts.iterations).toBe(whole.iterations);
  });

  it('reports after each step, and its best never gets worse', () => {
    const seen: SearchProgress[] = [];
    solve(5, 30, (progress) => seen.push(progress));
    expect(seen.map((progress) => progress.iterations)).toEqual(Array.from({ length: 30 }, (_, i) => i + 1));
    for (let at = 1; at < seen.length; at += 1)
      expect(seen[at]?.bestCost).toBeLessThanOrEqual(seen[at - 1]?.bestCost as number);
  });

  it('goes on from an answer that it is handed', () => {
    const search = solve(5, 0);
    search.adopt([0, 4, 7, 5, 2, 6, 1, 3]);
    expect(search.bestCost).toBe(0);
    expect(search.best).toEqual([0, 4, 7, 5, 2, 6, 1, 3]);
  });
});
