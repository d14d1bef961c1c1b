/**
 * The planner against the exact optimum. Yardstick: a mixed-integer programme written from `libs/season/README.md`, solved by HiGHS
 * (general-purpose solver, package `highs`), with the rules of single visits asked of the independent checker; see
 * `tests/builders/exact-season-mip.ts`. The instances are the family of `smallSeasonProblem`.
 */
import { describe, expect, it } from '@jest/globals';
import { checkPlan, planSeason, type SeasonProblem } from '../../libs/season/src/index.ts';
import { type ExactSeason, exactSeason } from '../builders/exact-season-mip.ts';
import { smallSeasonProblem } from '../builders/season-problem.ts';

const SEEDS = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];

const known = new Map<SeasonProblem, Promise<ExactSeason>>();

function optimumOf(problem: SeasonProblem): Promise<ExactSeason> {
  const before = known.get(problem);
  if (before) return before;
  const exact = exactSeason(problem, 120).then((found) => {
    if (!found) throw new Error('HiGHS did not reach the optimum in time');
    return found;
  });
  known.set(problem, exact);
  return exact;
}

describe('small seasons', () => {
  it.each(SEEDS)(
    'are planned at the exact optimum: season %i',
    async (seed) => {
      const problem = smallSeasonProblem(seed);
      const exact = await optimumOf(problem);
      // The programme's own answer is a valid plan at its own price; km are rounded once for each crew.
      expect(checkPlan(problem, exact.plan).violations).toEqual([]);
      expect(Math.abs(exact.objectiveCents - exact.plan.totalCents)).toBeLessThanOrEqual(
        problem.crews.length,
      );

      const outcome = planSeason(problem, { seed: 1, budget: { iterations: 2400 } });
      if (outcome.kind !== 'plan') throw new Error('a plan was expected');
      expect(outcome.plan.totalCents).toBeGreaterThanOrEqual(exact.plan.totalCents - problem.crews.length);
      expect(outcome.plan.totalCents).toBeLessThanOrEqual(exact.plan.totalCents + problem.crews.length);
      expect(outcome.plan.bound?.cents).toBeLessThanOrEqual(exact.plan.totalCents);
    },
    240_000,
  );

  it('exercise lifts, casual hands, equipment, bays and jobs that stay out', async () => {
    const plans = SEEDS.map((seed) => {
      const outcome = planSeason(smallSeasonProblem(seed), { seed: 1, budget: { iterations: 200 } });
      if (outcome.kind !== 'plan') throw new Error('a plan was expected');
      return outcome.plan;
    });
    const visits = plans.flatMap((plan) => plan.visits);
    expect(visits.filter((visit) => visit.liftUnit !== null).length).toBeGreaterThan(10);
    expect(visits.filter((visit) => visit.casualHands.length > 0).length).toBeGreaterThan(10);
    expect(visits.filter((visit) => visit.equipment.length > 0).length).toBeGreaterThan(10);
    expect(visits.filter((visit) => !visit.fromBase).length).toBeGreaterThan(5);
    expect(plans.filter((plan) => plan.notPlanned.length > 0).length).toBeGreaterThan(0);
    expect(
      plans.filter((plan) => plan.costLines.some((line) => line.kind === 'bayOverflow')).length,
    ).toBeGreaterThan(3);
  });
});

describe('more of something', () => {
  const problem = smallSeasonProblem(2);
  const more: [string, SeasonProblem][] = [
    ['a casual hand', { ...problem, casualHands: [...problem.casualHands, anotherOf(problem.casualHands)] }],
    ['a lift unit', { ...problem, lifts: [...problem.lifts, anotherOf(problem.lifts)] }],
    ['an equipment unit', { ...problem, equipment: [...problem.equipment, anotherOf(problem.equipment)] }],
    [
      'a night away',
      {
        ...problem,
        crews: problem.crews.map((crew) => ({ ...crew, maxNightsAway: crew.maxNightsAway + 1 })),
      },
    ],
    [
      'a bay',
      { ...problem, warehouses: problem.warehouses.map((each) => ({ ...each, bays: each.bays + 1 })) },
    ],
  ];

  it.each(more)(
    'never makes the optimum dearer: %s',
    async (_what, larger) => {
      const [before, after] = [await optimumOf(problem), await optimumOf(larger)];
      expect(after.plan.totalCents).toBeLessThanOrEqual(before.plan.totalCents + 1);
    },
    240_000,
  );
});

function anotherOf<Item extends { readonly id: string }>(items: readonly Item[]): Item {
  return { ...items[0]!, id: `${items[0]!.id}-again` };
}
