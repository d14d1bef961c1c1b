import { describe, expect, it } from '@jest/globals';
import {
  fromPlanFile,
  type PlanFileSource,
  planFileSchema,
  toPlanFile,
} from '../../libs/contracts/src/plan-file.ts';
import { firstComeFirstServed, type SeasonPlan } from '../../libs/season/src/index.ts';
import { randomSeasonProblem } from '../builders/season-problem.ts';

/** Fails to compile when the plan file and the season plan drift apart. */
const same: (plan: SeasonPlan) => PlanFileSource = (plan) => plan;
const back: (source: PlanFileSource) => SeasonPlan = (source) => source;

describe('a plan file', () => {
  const problem = randomSeasonProblem({ seed: 4, jobs: 9, crews: 2 });
  const outcome = firstComeFirstServed(problem);
  if (outcome.kind !== 'plan') throw new Error('the builder made a problem without a plan');

  it('holds dates and comes back as the same plan', () => {
    const file = toPlanFile(same(outcome.plan), problem);
    expect(file.visits[0]?.days[0]).toMatch(/^2027-\d\d-\d\d$/);
    expect(file.visits[0]?.crewName).toMatch(/^Crew \d$/);
    const text = JSON.stringify(planFileSchema.parse(file));
    expect(back(fromPlanFile(JSON.parse(text)))).toEqual(outcome.plan);
  });

  it('is refused with the places when it is not one', () => {
    const file = toPlanFile(outcome.plan, problem);
    const broken = { ...file, visits: [{ ...file.visits[0], days: ['2027-02-30'] }], colour: 'red' };
    expect(() => fromPlanFile(broken)).toThrow(
      expect.objectContaining({
        code: 'invalid-input',
        data: expect.objectContaining({
          problems: expect.arrayContaining([
            { at: 'visits.0.days.0', problem: 'should be a date such as 2027-05-31' },
          ]),
        }),
      }),
    );
  });
});
