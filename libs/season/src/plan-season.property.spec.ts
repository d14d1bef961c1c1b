import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import {
  type RandomSeasonOptions,
  randomSeasonProblem,
  shiftedByWeeks,
} from '../../../tests/builders/season-problem.ts';
import {
  checkPlan,
  compileSeason,
  firstComeFirstServed,
  planSeason,
  type SeasonPlan,
  type SeasonProblem,
} from './index.ts';
import { placePublished } from './solve/first-come.ts';
import { PlanState } from './solve/plan-state.ts';

const seasons = fc.record({
  seed: fc.integer({ min: 1, max: 1_000_000 }),
  jobs: fc.integer({ min: 1, max: 12 }),
  crews: fc.integer({ min: 1, max: 3 }),
  published: fc.constantFrom(0, 0.5),
});

function planned(options: RandomSeasonOptions, iterations = 24): SeasonPlan {
  const outcome = planSeason(randomSeasonProblem(options), { seed: options.seed, budget: { iterations } });
  if (outcome.kind !== 'plan') throw new Error('nothing is pinned or frozen, so there must be a plan');
  return outcome.plan;
}

const placesOf = (plan: SeasonPlan) =>
  new Map(plan.visits.map((visit) => [visit.job, { start: visit.days[0]!, crew: visit.crew }]));

/** A plan of a season in which nothing was published, and the same season after that plan was. */
function publishedOnce(options: RandomSeasonOptions): { first: SeasonPlan; again: SeasonProblem } {
  const problem = randomSeasonProblem({ ...options, published: 0 });
  const first = planSeason(problem, { seed: 1, budget: { iterations: 100 } });
  if (first.kind !== 'plan') throw new Error('nothing is pinned or frozen, so there must be a plan');
  const places = placesOf(first.plan);
  const jobs = problem.jobs.map((job) => ({ ...job, published: places.get(job.id) ?? null }));
  return { first: first.plan, again: { ...problem, jobs } };
}

function costOfStaying(problem: SeasonProblem): number {
  const state = new PlanState(compileSeason(problem));
  placePublished(state);
  return state.cost();
}

describe('a season plan', () => {
  it('passes the independent checker, with the same cost lines to the cent', () => {
    fc.assert(
      fc.property(seasons, (options) => {
        const plan = planned(options);
        const checked = checkPlan(randomSeasonProblem(options), plan);
        expect(checked.violations).toEqual([]);
        expect(checked.totalCents).toBe(plan.totalCents);
        expect(new Set(checked.costLines.map((line) => JSON.stringify(line)))).toEqual(
          new Set(plan.costLines.map((line) => JSON.stringify(line))),
        );
      }),
      { numRuns: 40 },
    );
  }, 120_000);

  it('keeps pins and frozen days, or is refused with names and reasons', () => {
    let refused = 0;
    fc.assert(
      fc.property(seasons, fc.constantFrom(0, 25), (options, frozenDays) => {
        const problem = randomSeasonProblem({ ...options, pinned: 0.25, frozenDays });
        const outcome = planSeason(problem, { seed: 1, budget: { iterations: 12 } });
        if (outcome.kind === 'plan') {
          expect(checkPlan(problem, outcome.plan).violations).toEqual([]);
          return;
        }
        refused += 1;
        const ids = new Set(problem.jobs.map((job) => job.id));
        expect(outcome.clashes.length).toBeGreaterThan(0);
        for (const clash of outcome.clashes) {
          expect(clash.jobs.length).toBeGreaterThan(0);
          expect(clash.jobs.every((job) => ids.has(job))).toBe(true);
          expect(clash.bindings.length).toBeGreaterThan(0);
        }
      }),
      { numRuns: 60, seed: 20270405 },
    );
    // Both sides of the property were seen.
    expect(refused).toBeGreaterThan(3);
    expect(refused).toBeLessThan(57);
  }, 120_000);

  it('made anew is never dearer than to leave everything at its published place', () => {
    fc.assert(
      fc.property(seasons, (options) => {
        const { again } = publishedOnce(options);
        const second = planSeason(again, { seed: 2, budget: { iterations: 4 } });
        if (second.kind !== 'plan') throw new Error('a plan was expected');
        expect(second.plan.totalCents).toBeLessThanOrEqual(Math.round(costOfStaying(again)));
        expect(checkPlan(again, second.plan).violations).toEqual([]);
      }),
      { numRuns: 15 },
    );
  }, 120_000);

  it('made anew finds the same choice of hands and units again, which a published place does not hold', () => {
    // Found by the property above when it asked more: a place is a start and a crew, so with four iterations two casual hands changed sites.
    const { first, again } = publishedOnce({ seed: 586_029, jobs: 10, crews: 2 });
    const second = planSeason(again, { seed: 2, budget: { iterations: 100 } });
    if (second.kind !== 'plan') throw new Error('a plan was expected');
    expect(second.plan.totalCents).toBeLessThanOrEqual(first.totalCents);
    expect(placesOf(second.plan)).toEqual(placesOf(first));
  });

  it('is the same for the same seed', () => {
    fc.assert(
      fc.property(seasons, (options) => {
        expect(planned(options)).toEqual(planned(options));
      }),
      { numRuns: 12 },
    );
  }, 120_000);

  it('is never cheaper than its bound and never dearer than first come, first served', () => {
    fc.assert(
      fc.property(seasons, (options) => {
        const plan = planned(options, 4);
        const yardstick = firstComeFirstServed(randomSeasonProblem(options));
        if (yardstick.kind !== 'plan' || !plan.bound) throw new Error('a plan with a bound was expected');
        expect(plan.bound.cents).toBeLessThanOrEqual(plan.totalCents);
        expect(plan.totalCents).toBeLessThanOrEqual(yardstick.plan.totalCents);
        expect(checkPlan(randomSeasonProblem(options), yardstick.plan).violations).toEqual([]);
      }),
      { numRuns: 40 },
    );
  }, 120_000);

  it('moves by as many weeks as the whole problem does', () => {
    fc.assert(
      fc.property(seasons, fc.integer({ min: -30, max: 30 }), (options, weeks) => {
        const problem = randomSeasonProblem(options);
        const moved = planSeason(shiftedByWeeks(problem, weeks), {
          seed: options.seed,
          budget: { iterations: 24 },
        });
        if (moved.kind !== 'plan') throw new Error('a plan was expected');
        const plan = planned(options);
        expect(moved.plan.totalCents).toBe(plan.totalCents);
        expect(
          moved.plan.visits.map((visit) => [visit.job, visit.crew, visit.days.map((day) => day - weeks * 7)]),
        ).toEqual(plan.visits.map((visit) => [visit.job, visit.crew, [...visit.days]]));
      }),
      { numRuns: 12 },
    );
  }, 120_000);

  it('is there and valid at whichever iteration the signal comes', () => {
    fc.assert(
      fc.property(seasons, fc.integer({ min: 0, max: 30 }), (options, stopAt) => {
        const problem = randomSeasonProblem(options);
        let seen = 0;
        const outcome = planSeason(problem, {
          seed: 1,
          budget: { isStopped: () => seen >= stopAt },
          onProgress: (progress) => {
            seen = progress.iterations;
          },
        });
        if (outcome.kind !== 'plan') throw new Error('a plan was expected');
        expect(checkPlan(problem, outcome.plan).violations).toEqual([]);
        expect(seen).toBeLessThanOrEqual(stopAt + 1);
      }),
      { numRuns: 20 },
    );
  }, 120_000);

  it('names for every date what keeps it from being earlier, and an earlier date that is free costs more', () => {
    fc.assert(
      fc.property(seasons, (options) => {
        const plan = planned(options);
        for (const row of [...plan.visits, ...plan.notPlanned])
          expect(row.bindings.length).toBeGreaterThan(0);
        for (const visit of plan.visits) {
          for (const binding of visit.bindings) {
            expect(binding.data['day']).toBeLessThan(visit.days[0]!);
            if (binding.kind === 'cost') expect(binding.data['extraCents']).toBeGreaterThan(0);
          }
        }
      }),
      { numRuns: 25 },
    );
  }, 120_000);
});
