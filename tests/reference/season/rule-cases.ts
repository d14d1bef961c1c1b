/** Ways to change the paper season, and what a case of a broken rule is. */
import { expect } from '@jest/globals';
import { hashOf } from '../../../libs/kernel/src/index.ts';
import { checkPlan } from '../../../libs/season/src/check/index.ts';
import type { CheckResult, PlannedVisit, SeasonPlan } from '../../../libs/season/src/plan.ts';
import type { Crew, Job, SeasonProblem } from '../../../libs/season/src/problem.ts';
import { mask, paperPlan, paperProblem } from './paper-season.ts';

export type Case = {
  title: string;
  /** Changes the problem, the plan or both. */
  problem?: (problem: SeasonProblem) => SeasonProblem;
  plan?: (plan: SeasonPlan) => SeasonPlan;
  /** The rules of 1 to 9 that are broken, and no others. */
  rules: number[];
  code: string;
  message: string;
};

export const withJob = (id: string, change: Partial<Job>) => (problem: SeasonProblem) => ({
  ...problem,
  jobs: problem.jobs.map((job) => (job.id === id ? { ...job, ...change } : job)),
});
export const withPattern =
  (id: string, day: number, change: Partial<Job['pattern'][number]>) => (problem: SeasonProblem) => ({
    ...problem,
    jobs: problem.jobs.map((job) =>
      job.id === id
        ? { ...job, pattern: job.pattern.map((entry, k) => (k === day ? { ...entry, ...change } : entry)) }
        : job,
    ),
  });
export const withGoods = (id: string, change: object) => (problem: SeasonProblem) => ({
  ...problem,
  jobs: problem.jobs.map((job) =>
    job.id === id && job.goods ? { ...job, goods: { ...job.goods, ...change } } : job,
  ),
});
export const withCrew = (id: string, change: Partial<Crew>) => (problem: SeasonProblem) => ({
  ...problem,
  crews: problem.crews.map((crew) => (crew.id === id ? { ...crew, ...change } : crew)),
});
export type Items = 'hands' | 'casualHands' | 'lifts' | 'equipment' | 'warehouses';
export const withItem = (list: Items, id: string, change: object) => (problem: SeasonProblem) => ({
  ...problem,
  [list]: problem[list].map((item) => (item.id === id ? { ...item, ...change } : item)),
});
export const withCodReserve = (reserveDays: number) => (problem: SeasonProblem) => ({
  ...withJob('cod', { weatherTable: 'cod' })(problem),
  weatherTables: {
    ...problem.weatherTables,
    cod: { expectedLostDays: Array(28).fill(0), reserveDays: Array(28).fill(reserveDays) },
  },
});
export const withVisit = (job: string, change: Partial<PlannedVisit>) => (plan: SeasonPlan) => ({
  ...plan,
  visits: plan.visits.map((visit) => (visit.job === job ? { ...visit, ...change } : visit)),
});
export const drop = (job: string) => (plan: SeasonPlan) => ({
  ...plan,
  visits: plan.visits.filter((visit) => visit.job !== job),
  notPlanned: [...plan.notPlanned, { job, bindings: [] }],
});
export const notOn = (...days: number[]) => mask((n) => !days.includes(n));

export function outcome(entry: Pick<Case, 'problem' | 'plan'>): CheckResult {
  const problem = (entry.problem ?? ((same) => same))(paperProblem());
  const plan = { ...(entry.plan ?? ((same) => same))(paperPlan()), problemHash: hashOf(problem) };
  return checkPlan(problem, plan);
}

/** What every case of a broken rule must show: its rule and no other, in its words. */
export function expectBroken(entry: Case): void {
  const { violations, valid } = outcome(entry);
  expect(valid).toBe(false);
  expect(
    [...new Set(violations.map((violation) => violation.rule))].filter((rule) => rule !== 0).sort(),
  ).toEqual(entry.rules);
  const found = violations.filter((violation) => violation.code === entry.code);
  expect(found.map((violation) => violation.message)).toContain(entry.message);
  expect(entry.rules).toContain(found[0]?.rule);
  expect(String(found[0]?.rule)).toBe(entry.title.slice(0, 1));
}
