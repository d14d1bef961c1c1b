import { describe, expect, test } from '@jest/globals';
import { hashOf } from '../../../libs/kernel/src/index.ts';
import { checkPlan } from '../../../libs/season/src/check/index.ts';
import type { SeasonPlan } from '../../../libs/season/src/plan.ts';
import { d, paperPlan, paperProblem } from './paper-season.ts';
import { notOn, withCrew, withJob, withVisit } from './rule-cases.ts';

/** Rule 0: the plan does not fit the problem, or says something about itself that is not so. */
type Zero = { title: string; plan: (plan: SeasonPlan) => unknown; code: string; message: string };
const withLine = (change: (lines: SeasonPlan['costLines']) => unknown[]) => (plan: SeasonPlan) => ({
  ...plan,
  costLines: change(plan.costLines),
});

const zeros: Zero[] = [
  {
    title: 'a job that is nowhere',
    plan: (plan) => ({ ...plan, notPlanned: [] }),
    code: 'jobMissing',
    message: 'Job owl: it is neither in visits nor in notPlanned.',
  },
  {
    title: 'a job that is planned and not planned',
    plan: (plan) => ({ ...plan, notPlanned: [...plan.notPlanned, { job: 'cod', bindings: [] }] }),
    code: 'jobTwice',
    message: 'Job cod: it is listed 2 times in visits and notPlanned, once is needed.',
  },
  {
    title: 'a visit of a job that the problem does not hold',
    plan: (plan) => ({ ...plan, visits: [...plan.visits, { ...plan.visits[0], job: 'hen' }] }),
    code: 'unknownJob',
    message: 'The plan has a visit of job hen, which the problem does not hold.',
  },
  {
    title: 'a job in notPlanned that the problem does not hold',
    plan: (plan) => ({ ...plan, notPlanned: [...plan.notPlanned, { job: 'hen', bindings: [] }] }),
    code: 'unknownJob',
    message: 'notPlanned names job hen, which the problem does not hold.',
  },
  {
    title: 'an unknown crew',
    plan: withVisit('cod', { crew: 'west' }),
    code: 'unknownCrew',
    message: 'Job cod: its crew west is not in the problem.',
  },
  {
    title: 'an unknown lift',
    plan: withVisit('fox', { liftUnit: 'tele-9' }),
    code: 'unknownId',
    message: 'Job fox: its lift tele-9 is not in the problem.',
  },
  {
    title: 'an unknown equipment unit',
    plan: withVisit('fox', { equipment: ['set-9'] }),
    code: 'unknownId',
    message: 'Job fox: its equipment unit set-9 is not in the problem.',
  },
  {
    title: 'an unknown casual hand',
    plan: withVisit('gull', { casualHands: ['lee'] }),
    code: 'unknownId',
    message: 'Job gull: its casual hand lee is not in the problem.',
  },
  {
    title: 'a day that is no number',
    plan: withVisit('fox', { days: [d(11), Number.NaN as never] }),
    code: 'visitShape',
    message: 'Job fox: days is [1234,null], a list of whole days is needed.'.replace('1234', String(d(11))),
  },
  {
    title: 'a cost line with another figure',
    plan: withLine((lines) =>
      lines.map((line) => (line.kind === 'late' ? { ...line, cents: 19_999 } : line)),
    ),
    code: 'costLineWrong',
    message: 'Cost line "late job gull": the plan has 19999 cents, it is 20000 cents.',
  },
  {
    title: 'a cost line that is left out',
    plan: withLine((lines) => lines.filter((line) => line.kind !== 'liftHire')),
    code: 'costLineMissing',
    message: 'Cost line "liftHire lift tele-1": the plan has none, it is 249955 cents.',
  },
  {
    title: 'a cost line that nothing stands behind',
    plan: withLine((lines) => [...lines, { ...lines[0], job: 'cod', cents: 5 }]),
    code: 'costLineUnfounded',
    message: 'Cost line "late job cod": the plan has 5 cents, nothing of the kind comes out of its visits.',
  },
  {
    title: 'a cost line under the wrong sort of subject',
    plan: withLine((lines) =>
      lines.map((line) => (line.kind === 'late' ? { ...line, job: null, crew: 'gull' } : line)),
    ),
    code: 'costLineUnfounded',
    message:
      'Cost line "late crew gull": the plan has 20000 cents, nothing of the kind comes out of its visits.',
  },
  {
    title: 'a cost line twice',
    plan: withLine((lines) => [...lines, lines[0]]),
    code: 'costLineTwice',
    message: 'The plan has more than one cost line "late job gull".',
  },
  {
    title: 'a cost line of nothing',
    plan: withLine((lines) => [...lines, { ...lines[0], job: 'cod', cents: 0 }]),
    code: 'costLineZero',
    message: 'The plan\'s cost line "late job cod" is 0 and should be left out.',
  },
  {
    title: 'another total',
    plan: (plan) => ({ ...plan, totalCents: plan.totalCents - 1 }),
    code: 'totalWrong',
    message: "The plan's total is 2705446 cents, it is 2705447 cents.",
  },
  {
    title: 'a total that is not the sum of the lines',
    plan: withLine((lines) => lines.slice(1)),
    code: 'totalNotSum',
    message: "The plan's cost lines add up to 2685447 cents, its total is 2705447 cents.",
  },
  {
    title: 'a lower bound above the total',
    plan: (plan) => ({ ...plan, bound: { cents: 2_705_448, method: 'x' } }),
    code: 'boundAboveTotal',
    message: "The stated lower bound of 2705448 cents is above the plan's own total of 2705447 cents.",
  },
  {
    title: 'a bound that is no number',
    plan: (plan) => ({ ...plan, bound: { cents: Number.NaN, method: 'x' } }),
    code: 'boundShape',
    message: 'The bound is {"cents":null,"method":"x"}, null or an object with finite cents is needed.',
  },
  {
    title: 'a plan of another problem',
    plan: (plan) => ({ ...plan, problemHash: '0000000000000000' }),
    code: 'problemHash',
    message: `The plan was made for problem "0000000000000000", this problem is "${hashOf(paperProblem())}".`,
  },
  {
    title: 'another format version',
    plan: (plan) => ({ ...plan, formatVersion: 2 }),
    code: 'formatVersion',
    message: "The plan's formatVersion is 2, 1 is needed.",
  },
];

describe('Rule 0, the plan fits the problem and its own figures', () => {
  test.each(zeros)('$title', ({ plan, code, message }) => {
    const { violations, valid } = checkPlan(paperProblem(), plan(paperPlan()) as SeasonPlan);
    expect(valid).toBe(false);
    const found = violations.filter((violation) => violation.code === code);
    expect(found.map((violation) => violation.message)).toContain(message);
    expect(found[0]?.rule).toBe(0);
  });

  test.each([
    null,
    undefined,
    7,
    'plan',
    [],
    {},
    { visits: [null, 3, {}], notPlanned: [1], costLines: [null, 4] },
  ])('something that is no plan, %p, gives violations and no crash', (plan) => {
    const result = checkPlan(paperProblem(), plan as unknown as SeasonPlan);
    expect(result.valid).toBe(false);
    expect(result.violations.filter((violation) => violation.code === 'jobMissing')).toHaveLength(6);
  });

  test('a problem whose names lead nowhere is said to be so, and its plan is never valid', () => {
    const problem = withJob('cod', { weatherTable: 'lost', site: 'nowhere' })(
      withCrew('south', { members: [{ hand: 'eve', belongs: notOn() }] })(paperProblem()),
    );
    const { violations, valid } = checkPlan(problem, paperPlan(problem));
    expect(valid).toBe(false);
    expect(violations.map((violation) => violation.message)).toEqual(
      expect.arrayContaining([
        "The problem's job cod names the place nowhere, which it does not hold.",
        "The problem's job cod names the weather table lost, which it does not hold.",
        "The problem's crew south names the hand eve, which it does not hold.",
      ]),
    );
  });
});
