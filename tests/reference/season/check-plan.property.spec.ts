import fc from 'fast-check';
import { type Day, hashOf } from '../../../libs/kernel/src/index.ts';
import { checkPlan } from '../../../libs/season/src/check/index.ts';
import type { PlannedVisit, SeasonPlan } from '../../../libs/season/src/plan.ts';
import type { SeasonProblem } from '../../../libs/season/src/problem.ts';
import { randomSeasonProblem, shiftedByWeeks } from '../../builders/season-problem.ts';
import { d, paperPlan, paperProblem } from './paper-season.ts';

const anyDay = fc.oneof(
  fc.integer({ min: -3, max: 31 }).map(d),
  fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY, -1, 0.5, 1e15, 2 ** 53),
);
const anyId = fc.constantFrom(
  'gull',
  'fox',
  'cod',
  'north',
  'south',
  'tele-1',
  'set-1',
  'set-2',
  'kim',
  'ada',
  'nobody',
  '',
);
const anything = fc.oneof(fc.jsonValue(), fc.constantFrom(undefined, Number.NaN), anyDay, anyId);

/** One member of one visit, replaced by something plausible or by anything at all. */
const change = fc.record({
  visit: fc.nat({ max: 4 }),
  member: fc.constantFrom<keyof PlannedVisit>(
    'job',
    'crew',
    'days',
    'reserve',
    'casualHands',
    'liftUnit',
    'equipment',
    'deliveryDay',
    'fromBase',
    'bindings',
  ),
  value: fc.oneof(
    fc.array(anyDay, { maxLength: 4 }),
    fc.array(anyId, { maxLength: 3 }),
    fc.boolean(),
    anything,
  ),
});

function changed(plan: SeasonPlan, changes: { visit: number; member: string; value: unknown }[]): SeasonPlan {
  const visits = plan.visits.map((visit, index) => ({
    ...visit,
    ...Object.fromEntries(
      changes.filter((entry) => entry.visit === index).map((entry) => [entry.member, entry.value]),
    ),
  }));
  return { ...plan, visits };
}

function shiftedPlan(plan: SeasonPlan, problem: SeasonProblem, weeks: number): SeasonPlan {
  const by = <Value>(day: Value): Value => (typeof day === 'number' ? day + 7 * weeks : day) as Value;
  const each = <Value>(days: readonly Value[]): readonly Value[] =>
    Array.isArray(days) ? days.map(by) : days;
  return {
    ...plan,
    problemHash: hashOf(problem),
    visits: plan.visits.map((visit) => ({
      ...visit,
      days: each(visit.days),
      reserve: each(visit.reserve),
      deliveryDay: by(visit.deliveryDay),
    })),
  };
}

describe('The independent checker, whatever it is given', () => {
  test('never crashes on changed visits, and says the same each time', () => {
    fc.assert(
      fc.property(fc.array(change, { minLength: 1, maxLength: 4 }), (changes) => {
        const plan = changed(paperPlan(), changes);
        const first = checkPlan(paperProblem(), plan);
        expect(checkPlan(paperProblem(), plan)).toEqual(first);
        expect(first.valid).toBe(first.violations.length === 0);
        expect(Number.isSafeInteger(first.totalCents)).toBe(true);
        expect(first.violations.every((violation) => violation.message.length > 0)).toBe(true);
      }),
      { numRuns: 400 },
    );
  });

  test('never takes a start, crew, lift or casual hand that was changed for a valid plan of the same cost', () => {
    const member = fc.constantFrom<keyof PlannedVisit>(
      'job',
      'crew',
      'days',
      'liftUnit',
      'casualHands',
      'deliveryDay',
    );
    fc.assert(
      fc.property(fc.nat({ max: 4 }), member, anything, (visit, name, value) => {
        const before = JSON.stringify(paperPlan().visits[visit]?.[name]);
        fc.pre(JSON.stringify(value) !== before);
        const plan = changed(paperPlan(), [{ visit, member: name, value }]);
        expect(checkPlan(paperProblem(), plan).valid).toBe(false);
      }),
      { numRuns: 400 },
    );
  });

  test('never crashes on a plan that is anything', () => {
    fc.assert(
      fc.property(fc.anything(), (plan) => {
        expect(checkPlan(paperProblem(), plan as SeasonPlan).valid).toBe(false);
      }),
      { numRuns: 300 },
    );
  });

  test('finds the same at another time of the year: all days moved by whole weeks change nothing', () => {
    const smallChange = change.filter((entry) => !['job', 'crew'].includes(entry.member));
    fc.assert(
      fc.property(
        fc.array(smallChange, { maxLength: 2 }),
        fc.integer({ min: -60, max: 60 }),
        (changes, weeks) => {
          const problem = paperProblem();
          const plan = changed(
            paperPlan(),
            changes.filter((entry) => !hasOddDay(entry.value)),
          );
          const moved = shiftedByWeeks(problem, weeks);
          const here = checkPlan(problem, plan);
          const there = checkPlan(moved, shiftedPlan(plan, moved, weeks));
          expect(there.costLines).toEqual(here.costLines);
          expect(there.totalCents).toBe(here.totalCents);
          const facts = (result: typeof here, by: number) =>
            result.violations.map(({ rule, code, job, day }) => [
              rule,
              code,
              job,
              day === null ? null : ((day + by) as Day),
            ]);
          expect(facts(there, 0)).toEqual(facts(here, 7 * weeks));
        },
      ),
      { numRuns: 200 },
    );
  });

  test('survives visits at random in random seasons', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.infiniteStream(fc.double({ min: 0, max: 0.999999, noNaN: true })),
        (seed, draws) => {
          const problem = randomSeasonProblem({
            seed,
            jobs: 12,
            crews: 3,
            pinned: 0.2,
            published: 0.5,
            frozenDays: 3,
          });
          const below = (limit: number): number => Math.floor(draws.next().value * limit);
          const visits = problem.jobs.map((job): PlannedVisit => {
            const start = problem.firstDay + below(problem.lastDay - problem.firstDay + 1);
            return {
              job: job.id,
              crew: problem.crews[below(problem.crews.length)]?.id ?? '',
              days: job.pattern.map((_, k) => (start + k) as Day),
              reserve: [],
              casualHands: problem.casualHands.slice(0, below(3)).map((hand) => hand.id),
              liftUnit: problem.lifts[below(problem.lifts.length + 1)]?.id ?? null,
              equipment: problem.equipment.slice(0, below(3)).map((unit) => unit.id),
              deliveryDay: job.goods ? ((start - below(3)) as Day) : null,
              fromBase: below(2) === 0,
              bindings: [],
            };
          });
          const plan: SeasonPlan = {
            formatVersion: 1,
            problemHash: hashOf(problem),
            visits,
            notPlanned: [],
            costLines: [],
            totalCents: 0,
            bound: null,
            made: { seed, iterations: 0, method: 'at random' },
          };
          const result = checkPlan(problem, plan);
          // Its own figures written into the plan must satisfy it: what is left are broken rules 1 to 9.
          const again = checkPlan(problem, {
            ...plan,
            costLines: result.costLines,
            totalCents: result.totalCents,
          });
          expect(again.violations).toEqual(result.violations.filter((violation) => violation.rule !== 0));
        },
      ),
      { numRuns: 60 },
    );
  });
});

/** Days far outside or no days at all read differently in a message, and adding to them may not move them. */
function hasOddDay(value: unknown): boolean {
  return (Array.isArray(value) ? value : [value]).some(
    (entry) => typeof entry === 'number' && (!Number.isInteger(entry) || Math.abs(entry - d(14)) > 40),
  );
}
