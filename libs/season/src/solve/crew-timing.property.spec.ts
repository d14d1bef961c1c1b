import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { randomSeasonProblem } from '../../../../tests/builders/season-problem.ts';
import { compileSeason } from '../compile/compile-season.ts';
import { CrewTiming } from './crew-timing.ts';
import { type FixedVisit, timeFixedStarts } from './fixed-starts.ts';
import { bestInsertion } from './insertion.ts';
import { Placements } from './placements.ts';
import { ResourceHolds } from './resource-holds.ts';
import { VisitRows } from './visit-rows.ts';

const NEVER = Number.POSITIVE_INFINITY;

function timingOf(seed: number, jobs: number, days: number) {
  const season = compileSeason(randomSeasonProblem({ seed, jobs, crews: 1, days, sideKm: 700 }));
  const rows = new VisitRows(season, new ResourceHolds(new Placements(season)));
  for (let job = 0; job < jobs; job += 1) rows.refresh(0, job);
  return { season, rows, timing: new CrewTiming(season, rows, 0) };
}

/** Cheapest timing by trying every combination of starts. */
function triedOut({ season, rows }: ReturnType<typeof timingOf>, sequence: readonly number[]): number {
  let best = NEVER;
  const extend = (visits: FixedVisit[], cents: number): void => {
    if (visits.length === sequence.length) {
      const timed = timeFixedStarts(season, 0, visits);
      if (timed) best = Math.min(best, timed.cents + cents);
      return;
    }
    const job = sequence[visits.length]!;
    const from = visits.length === 0 ? 0 : visits[visits.length - 1]!.start + 1;
    for (let start = from; start < season.dayCount; start += 1) {
      const own = rows.values[rows.offset(0, job) + start]!;
      if (own !== NEVER) extend([...visits, { job, start }], cents + own);
    }
  };
  extend([], 0);
  return best;
}

const close = (a: number, b: number): boolean => (a === NEVER && b === NEVER) || Math.abs(a - b) < 1e-3;

describe('the timing of one crew', () => {
  it('is as cheap as the best of all combinations of starts', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10_000 }), fc.integer({ min: 1, max: 3 }), (seed, jobs) => {
        const given = timingOf(seed, jobs, 26);
        const sequence = Array.from({ length: jobs }, (_, job) => job);
        given.timing.load(sequence);
        expect(close(given.timing.cents, triedOut(given, sequence))).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  it('reads starts that cost what it says', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10_000 }), fc.integer({ min: 1, max: 6 }), (seed, jobs) => {
        const { season, rows, timing } = timingOf(seed, jobs, 60);
        timing.load(Array.from({ length: jobs }, (_, job) => job));
        const visits = timing.read();
        if (!visits) {
          expect(timing.cents).toBe(NEVER);
          return;
        }
        const own = visits.reduce(
          (sum, { job, start }) => sum + rows.values[rows.offset(0, job) + start]!,
          0,
        );
        expect(close(timing.cents, (timeFixedStarts(season, 0, visits)?.cents ?? NEVER) + own)).toBe(true);
      }),
      { numRuns: 100 },
    );
  });

  it('foretells what the sequence costs with one visit more, also after a change of the sequence', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10_000 }), fc.integer({ min: 2, max: 6 }), (seed, jobs) => {
        const { timing } = timingOf(seed, jobs, 70);
        const job = jobs - 1;
        const others = Array.from({ length: jobs - 1 }, (_, other) => other);
        timing.load([...others].reverse());
        timing.load(others);
        if (timing.cents === NEVER) return;
        const found = bestInsertion(timing, job, NEVER);
        let least = NEVER;
        for (let position = 0; position <= others.length; position += 1) {
          timing.load([...others.slice(0, position), job, ...others.slice(position)]);
          least = Math.min(least, timing.cents);
          if (position === found.position) expect(close(timing.cents, found.cents)).toBe(true);
        }
        expect(close(found.cents, least)).toBe(true);
      }),
      { numRuns: 100 },
    );
  });
});
