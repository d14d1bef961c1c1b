import { describe, expect, it } from '@jest/globals';
import { randomSeasonProblem } from '../../../../tests/builders/season-problem.ts';
import type { Day } from '../../../kernel/src/index.ts';
import { checkPlan, type Job, planSeason, type SeasonProblem } from '../index.ts';

/** Three one-day jobs beside each other that need nothing but a crew. */
function simpleSeason(change: (job: Job, index: number) => Partial<Job>): SeasonProblem {
  const problem = randomSeasonProblem({ seed: 8, jobs: 3, crews: 2, weather: false, warehouses: 0 });
  return {
    ...problem,
    jobs: problem.jobs.map((job, index) => ({
      ...job,
      site: problem.crews[0]!.base,
      pattern: [{ outside: false, hours: 8, hands: 1, tickets: [], liftType: null }],
      equipmentKinds: [],
      goods: null,
      siteClosedDays: [],
      siteReadyFrom: problem.firstDay,
      weatherTable: null,
      ...change(job, index),
    })),
  };
}

const plain = simpleSeason(() => ({}));
/** A Tuesday on which both crews work. */
const day = (plain.firstDay + 8) as Day;

function plan(problem: SeasonProblem) {
  return planSeason(problem, { seed: 1, budget: { iterations: 20 } });
}

describe('pins and frozen days', () => {
  it('are kept', () => {
    const problem = simpleSeason((_, index) => (index === 1 ? { pin: { start: day, crew: 'crew-2' } } : {}));
    const outcome = plan(problem);
    if (outcome.kind !== 'plan') throw new Error('a plan was expected');
    expect(outcome.plan.visits.find((visit) => visit.job === 'job-02')).toMatchObject({
      crew: 'crew-2',
      days: [day],
    });
    expect(checkPlan(problem, outcome.plan).valid).toBe(true);
  });

  it('are refused with both names when two pins want one crew on one day', () => {
    const outcome = plan(
      simpleSeason((_, index) => (index < 2 ? { pin: { start: day, crew: 'crew-1' } } : {})),
    );
    expect(outcome).toEqual({
      kind: 'refused',
      clashes: [
        {
          jobs: ['job-01', 'job-02'],
          bindings: [{ kind: 'crewBusy', data: { day, crew: 'crew-1', job: 'job-01' } }],
        },
      ],
    });
  });

  it('are refused with a group of three when two crews are given three jobs on one day', () => {
    const outcome = plan(simpleSeason(() => ({ pin: { start: day, crew: null } })));
    if (outcome.kind !== 'refused') throw new Error('a refusal was expected');
    expect(outcome.clashes).toHaveLength(1);
    expect(outcome.clashes[0]?.jobs).toEqual(['job-01', 'job-02', 'job-03']);
  });

  it('are refused with the rule that the pinned place breaks', () => {
    const closed = plan(
      simpleSeason((_, index) =>
        index === 0 ? { pin: { start: day, crew: null }, siteClosedDays: [day] } : {},
      ),
    );
    expect(closed).toMatchObject({
      clashes: [{ jobs: ['job-01'], bindings: [{ kind: 'siteClosed', data: { day } }] }],
    });
    const outside = plan(
      simpleSeason((_, index) =>
        index === 0 ? { pin: { start: (plain.lastDay + 3) as Day, crew: null } } : {},
      ),
    );
    expect(outside).toMatchObject({ clashes: [{ jobs: ['job-01'], bindings: [{ kind: 'horizon' }] }] });
  });

  it('keep a frozen job where it was published and all others out of the frozen days', () => {
    const problem: SeasonProblem = {
      ...simpleSeason((_, index) => (index === 0 ? { published: { start: day, crew: 'crew-1' } } : {})),
      frozenUntil: day,
    };
    const outcome = plan(problem);
    if (outcome.kind !== 'plan') throw new Error('a plan was expected');
    for (const visit of outcome.plan.visits) {
      if (visit.job === 'job-01') expect(visit).toMatchObject({ crew: 'crew-1', days: [day] });
      else expect(visit.days[0]).toBeGreaterThan(day);
    }
    expect(checkPlan(problem, outcome.plan).valid).toBe(true);
  });
});
