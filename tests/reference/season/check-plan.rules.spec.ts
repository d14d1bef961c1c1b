import { hashOf } from '../../../libs/kernel/src/index.ts';
import { checkPlan } from '../../../libs/season/src/check/index.ts';
import type { CheckResult, PlannedVisit, SeasonPlan } from '../../../libs/season/src/plan.ts';
import type { Crew, Job, SeasonProblem } from '../../../libs/season/src/problem.ts';
import { d, mask, paperPlan, paperProblem } from './paper-season.ts';

type Case = {
  title: string;
  /** Changes the problem, the plan or both. */
  problem?: (problem: SeasonProblem) => SeasonProblem;
  plan?: (plan: SeasonPlan) => SeasonPlan;
  /** The rules of 1 to 9 that are broken, and no others. */
  rules: number[];
  code: string;
  message: string;
};

const withJob = (id: string, change: Partial<Job>) => (problem: SeasonProblem) => ({
  ...problem,
  jobs: problem.jobs.map((job) => (job.id === id ? { ...job, ...change } : job)),
});
const withPattern =
  (id: string, day: number, change: Partial<Job['pattern'][number]>) => (problem: SeasonProblem) => ({
    ...problem,
    jobs: problem.jobs.map((job) =>
      job.id === id
        ? { ...job, pattern: job.pattern.map((entry, k) => (k === day ? { ...entry, ...change } : entry)) }
        : job,
    ),
  });
const withGoods = (id: string, change: object) => (problem: SeasonProblem) => ({
  ...problem,
  jobs: problem.jobs.map((job) =>
    job.id === id && job.goods ? { ...job, goods: { ...job.goods, ...change } } : job,
  ),
});
const withCrew = (id: string, change: Partial<Crew>) => (problem: SeasonProblem) => ({
  ...problem,
  crews: problem.crews.map((crew) => (crew.id === id ? { ...crew, ...change } : crew)),
});
type Items = 'hands' | 'casualHands' | 'lifts' | 'equipment' | 'warehouses';
const withItem = (list: Items, id: string, change: object) => (problem: SeasonProblem) => ({
  ...problem,
  [list]: problem[list].map((item) => (item.id === id ? { ...item, ...change } : item)),
});
const withCodReserve = (reserveDays: number) => (problem: SeasonProblem) => ({
  ...withJob('cod', { weatherTable: 'cod' })(problem),
  weatherTables: {
    ...problem.weatherTables,
    cod: { expectedLostDays: Array(28).fill(0), reserveDays: Array(28).fill(reserveDays) },
  },
});
const withVisit = (job: string, change: Partial<PlannedVisit>) => (plan: SeasonPlan) => ({
  ...plan,
  visits: plan.visits.map((visit) => (visit.job === job ? { ...visit, ...change } : visit)),
});
const drop = (job: string) => (plan: SeasonPlan) => ({
  ...plan,
  visits: plan.visits.filter((visit) => visit.job !== job),
  notPlanned: [...plan.notPlanned, { job, bindings: [] }],
});
const notOn = (...days: number[]) => mask((n) => !days.includes(n));

function outcome(entry: Pick<Case, 'problem' | 'plan'>): CheckResult {
  const problem = (entry.problem ?? ((same) => same))(paperProblem());
  const plan = { ...(entry.plan ?? ((same) => same))(paperPlan()), problemHash: hashOf(problem) };
  return checkPlan(problem, plan);
}

const cases: Case[] = [
  // Rule 1
  {
    title: '1: a start on a day on which the crew does not work',
    problem: withCrew('south', { works: mask((n) => n % 7 < 5 && n !== 3) }),
    rules: [1],
    code: 'notWorkingDay',
    message: 'Job elm: it starts on 2027-05-06, on which crew south does not work.',
  },
  {
    title: '1: a site day that is not the next working day',
    plan: withVisit('gull', { days: [d(1), d(3)] }),
    rules: [1],
    code: 'siteDays',
    message: 'Job gull: site day 2 is written as 2027-05-06, it is 2027-05-05.',
  },
  {
    title: '1: a missing site day',
    plan: withVisit('gull', { days: [d(1)] }),
    rules: [1],
    code: 'siteDays',
    message: 'Job gull: 1 site day are written, 2 are needed.',
  },
  {
    title: '1: a gap before an outside day',
    problem: withPattern('fox', 1, { outside: true }),
    rules: [1],
    code: 'gapBeforeOutsideDay',
    message:
      'Job fox: site day 2 on 2027-05-17 is outside work, 2 non-working days before it; no gap is allowed there.',
  },
  {
    title: '1: a gap that is longer than maxGapDays',
    problem: withJob('fox', { maxGapDays: 1 }),
    rules: [1],
    code: 'gapTooLong',
    message: 'Job fox: before site day 2 on 2027-05-17 lie 2 non-working days, at most 1 are allowed.',
  },
  {
    title: '1: a start outside the horizon',
    plan: withVisit('cod', { days: [d(28)] }),
    rules: [1],
    code: 'outsideHorizon',
    message: "Job cod: the start 2027-05-31 lies outside the season's days, 2027-05-03 to 2027-05-30.",
  },
  {
    title: '1: a last site day outside the horizon',
    problem: (problem) => {
      const [day] = problem.jobs.find((job) => job.id === 'cod')?.pattern ?? [];
      return day ? withJob('cod', { pattern: Array(8).fill(day) })(problem) : problem;
    },
    rules: [1, 6],
    code: 'outsideHorizon',
    message: 'Job cod: it needs 8 site days from 2027-05-20, crew north has 7 left in the season.',
  },
  // Rule 2
  {
    title: '2: a reserve day that is not held',
    plan: withVisit('gull', { reserve: [] }),
    rules: [2],
    code: 'reserveDays',
    message: 'Job gull: 0 reserve days are written, 1 are needed.',
  },
  {
    title: '2: another day in its place',
    plan: withVisit('gull', { reserve: [d(4)] }),
    rules: [2],
    code: 'reserveDays',
    message: 'Job gull: reserve day 1 is written as 2027-05-07, it is 2027-05-06.',
  },
  {
    title: '2: a reserve day where none is needed',
    plan: withVisit('cod', { reserve: [d(18)] }),
    rules: [2],
    code: 'reserveDays',
    message: 'Job cod: 1 reserve day are written, 0 are needed.',
  },
  {
    title: '2: a last reserve day outside the horizon',
    problem: withCodReserve(7),
    rules: [2, 6],
    code: 'outsideHorizon',
    message: 'Job cod: it needs 7 reserve days after 2027-05-20, crew north has 6 left in the season.',
  },
  {
    title: '2: a site day of the same crew in the reserve',
    plan: withVisit('cod', { days: [d(15)] }),
    rules: [2, 5],
    code: 'reserveTaken',
    message: 'Job fox: 2027-05-18 is held back in reserve, but crew north has a site day for job cod on it.',
  },
  {
    title: '2: a reserve day of the same crew in the reserve',
    problem: withCodReserve(1),
    plan: withVisit('cod', { days: [d(14)], reserve: [d(15)] }),
    rules: [2, 5],
    code: 'reserveTaken',
    message:
      'Job cod: 2027-05-18 is held back in reserve, but crew north has a reserve day for job fox on it.',
  },
  {
    title: '2: a travel day of the same crew in the reserve',
    plan: withVisit('cod', { fromBase: true }),
    rules: [2, 5],
    code: 'reserveTaken',
    message:
      'Job fox: 2027-05-19 is held back in reserve, but crew north has a travel day for job cod on it.',
  },
  // Rule 3
  {
    title: '3: a start before the site is ready',
    problem: withJob('fox', { siteReadyFrom: d(12) }),
    rules: [3],
    code: 'siteNotReady',
    message: 'Job fox: it starts on 2027-05-14, the site is ready from 2027-05-15.',
  },
  {
    title: '3: a site day on a closed day of the site',
    problem: withJob('fox', { siteClosedDays: [d(14)] }),
    rules: [3],
    code: 'siteClosed',
    message: 'Job fox: the site is closed on its site day 2027-05-17.',
  },
  {
    title: '3: goods that leave before they are there',
    problem: withGoods('fox', { goodsFrom: d(8) }),
    rules: [3],
    code: 'goodsNotThere',
    message: 'Job fox: the goods leave the warehouse on 2027-05-10, they are there from 2027-05-11.',
  },
  {
    title: '3: a dispatch outside the horizon',
    problem: withGoods('gull', { deliveryLeadDays: 2 }),
    rules: [3],
    code: 'dispatchOutsideHorizon',
    message: "Job gull: the goods leave the warehouse on 2027-05-02, outside the season's days.",
  },
  {
    title: '3: a dispatch on a day on which the warehouse does not work',
    problem: withItem('warehouses', 'quay', { works: notOn(7) }),
    rules: [3],
    code: 'warehouseClosed',
    message: 'Job fox: the goods leave the warehouse on 2027-05-10, on which warehouse quay does not work.',
  },
  {
    title: '3: a delivery after the start',
    plan: withVisit('gull', { deliveryDay: d(2) }),
    rules: [3],
    code: 'deliveryLate',
    message: 'Job gull: the goods stand at the site on 2027-05-05, after the start on 2027-05-04.',
  },
  {
    title: '3: a delivery longer before the start than the site can store',
    problem: withGoods('fox', { siteStorageDays: 0 }),
    rules: [3],
    code: 'deliveryTooEarly',
    message:
      'Job fox: the goods stand at the site on 2027-05-13, the site can store them from 2027-05-14 (0 days before the start).',
  },
  {
    title: '3: a delivery before the site is ready',
    problem: withJob('fox', { siteReadyFrom: d(11) }),
    rules: [3],
    code: 'deliveryBeforeReady',
    message: 'Job fox: the goods stand at the site on 2027-05-13, the site is ready from 2027-05-14.',
  },
  {
    title: '3: a delivery on a closed day of the site',
    problem: withJob('fox', { siteClosedDays: [d(10)] }),
    rules: [3],
    code: 'deliveryOnClosedDay',
    message: 'Job fox: the goods stand at the site on 2027-05-13, on which the site is closed.',
  },
  {
    title: '3: no delivery day for goods',
    plan: withVisit('fox', { deliveryDay: null }),
    rules: [3],
    code: 'deliveryMissing',
    message: 'Job fox: it needs goods, no delivery day is written.',
  },
  {
    title: '3: a delivery day without goods',
    plan: withVisit('cod', { deliveryDay: d(17) }),
    rules: [3],
    code: 'deliveryWithoutGoods',
    message: 'Job cod: a delivery on 2027-05-20 is written, the job needs no goods.',
  },
  // Rule 4
  {
    title: '4: too few people',
    plan: withVisit('gull', { casualHands: [] }),
    rules: [4],
    code: 'tooFewHands',
    message: 'Job gull: on 2027-05-04 2 people are present, 3 are needed.',
  },
  {
    title: '4: a regular hand on leave does not count',
    problem: withItem('hands', 'dee', { available: notOn(3) }),
    rules: [4],
    code: 'tooFewHands',
    message: 'Job elm: on 2027-05-06 1 person is present, 2 are needed.',
  },
  {
    title: '4: a hand who does not belong to the crew on that day does not count',
    problem: withCrew('south', {
      members: [
        { hand: 'cal', belongs: notOn() },
        { hand: 'dee', belongs: notOn(18) },
      ],
    }),
    rules: [4],
    code: 'tooFewHands',
    message: 'Job ash: on 2027-05-21 1 person is present, 2 are needed.',
  },
  {
    title: '4: a hand who is listed twice counts once',
    problem: withCrew('south', {
      members: [
        { hand: 'cal', belongs: notOn() },
        { hand: 'cal', belongs: notOn() },
      ],
    }),
    rules: [4],
    code: 'tooFewHands',
    message: 'Job elm: on 2027-05-06 1 person is present, 2 are needed.',
  },
  {
    title: '4: a ticket that has run out by the day',
    problem: withItem('hands', 'ben', {
      tickets: [{ ticket: 'electrician', validFrom: d(0), validTo: d(13) }],
    }),
    rules: [4],
    code: 'tooFewTickets',
    message: 'Job fox: on 2027-05-17 0 people present with ticket electrician, 1 needed.',
  },
  {
    title: '4: a ticket that does not hold yet on the day',
    problem: withItem('hands', 'ada', { tickets: [{ ticket: 'rigger', validFrom: d(2), validTo: d(27) }] }),
    rules: [4],
    code: 'tooFewTickets',
    message: 'Job gull: on 2027-05-04 0 people present with ticket rigger, 1 needed.',
  },
  {
    title: '4: fewer holders than the count asks for',
    problem: withPattern('elm', 0, { tickets: [{ ticket: 'rigger', count: 2 }] }),
    rules: [4],
    code: 'tooFewTickets',
    message: 'Job elm: on 2027-05-06 1 person present with ticket rigger, 2 needed.',
  },
  {
    title: '4: a casual hand who is not available on a reserve day',
    problem: withItem('casualHands', 'kim', { available: notOn(3) }),
    rules: [4],
    code: 'casualNotAvailable',
    message: 'Job gull: casual hand kim is not available on 2027-05-06.',
  },
  {
    title: '4: a casual hand out of range',
    problem: withItem('casualHands', 'kim', { rangeKm: 80.9 }),
    rules: [4],
    code: 'casualOutOfRange',
    message: 'Job gull: casual hand kim lives 81 km from the site, goes at most 80.9 km.',
  },
  {
    title: '4: a casual hand held by two visits at once (by the first up to its reserve day)',
    problem: withItem('casualHands', 'kim', { rangeKm: 9999 }),
    plan: withVisit('elm', { casualHands: ['kim'] }),
    rules: [4],
    code: 'casualHeldTwice',
    message:
      'Job gull: casual hand kim is held from 2027-05-04 to 2027-05-06, and by job elm from 2027-05-06 to 2027-05-06.',
  },
  {
    title: '4: a casual hand named twice at one visit',
    plan: withVisit('gull', { casualHands: ['kim', 'kim'] }),
    rules: [4],
    code: 'casualTwice',
    message: 'Job gull: casual hand kim is named 2 times.',
  },
  {
    title: '4: a hand in two crews on one day',
    problem: withCrew('south', {
      members: [
        { hand: 'cal', belongs: notOn() },
        { hand: 'dee', belongs: notOn() },
        { hand: 'ben', belongs: mask((n) => n === 5 || n === 6) },
      ],
    }),
    rules: [4],
    code: 'handInTwoCrews',
    message: 'Hand ben belongs to crews north and south at once on 2 days, first on 2027-05-08.',
  },
  {
    title: '4: a regular hand named as a casual one',
    plan: withVisit('cod', { casualHands: ['dee'] }),
    rules: [4],
    code: 'regularAsCasual',
    message: 'Job cod: regular hand dee is named as a casual hand.',
  },
  // Rule 5
  {
    title: '5: too little time straight on',
    problem: (problem) => ({
      ...problem,
      crews: problem.crews.map((crew) => ({ ...crew, sameDayDriveMin: 29 })),
    }),
    rules: [5],
    code: 'travelTooShort',
    message:
      'Job cod: crew north starts on 2027-05-20; it is released from job fox on 2027-05-19 and needs 1 travel day straight on, ' +
      'so 2027-05-21 is the earliest.',
  },
  {
    title: '5: too little time by way of base',
    plan: withVisit('cod', { days: [d(18)], fromBase: true }),
    rules: [2, 5],
    code: 'travelTooShort',
    message:
      'Job cod: crew north starts on 2027-05-21; it is released from job fox on 2027-05-19 and needs 4 travel days by way of base, ' +
      'so 2027-05-24 is the earliest.',
  },
  {
    title: '5: a visit within another of the same crew',
    plan: withVisit('cod', { days: [d(2)], fromBase: true }),
    rules: [2, 5],
    code: 'travelTooShort',
    message:
      'Job cod: crew north starts on 2027-05-05; it is released from job gull on 2027-05-06 and needs 2 travel days by way of base, ' +
      'so 2027-05-09 is the earliest.',
  },
  {
    title: '5: a first visit that does not come from base',
    plan: withVisit('gull', { fromBase: false }),
    rules: [5],
    code: 'firstNotFromBase',
    message:
      'Job gull: it is the first visit of crew north, which comes from its base, but fromBase is false.',
  },
  {
    title: '5: a departure before the first day',
    problem: withCrew('north', { sameDayDriveMin: 0, driveMinPerDay: 50, maxNightsAway: 99 }),
    rules: [2, 5],
    code: 'departureOutsideHorizon',
    message: 'Job gull: crew north would leave its base on 2027-05-02, before the first day 2027-05-03.',
  },
  {
    title: '5: a return after the last day',
    plan: withVisit('cod', { days: [d(26 - 1)], fromBase: true }),
    problem: withCrew('north', { driveMinPerDay: 170 }),
    rules: [5, 6],
    code: 'returnOutsideHorizon',
    message: 'Job cod: crew north would be back at its base on 2027-06-01, after the last day 2027-05-30.',
  },
  // Rule 6
  {
    title: '6: more nights away than allowed',
    problem: withCrew('north', { maxNightsAway: 9 }),
    rules: [6],
    code: 'nightsAway',
    message:
      'Job fox: the tour of crew north from 2027-05-12 to 2027-05-22 is 10 nights away, at most 9 are allowed.',
  },
  // Rule 7
  {
    title: '7: no lift where one is needed',
    plan: withVisit('fox', { liftUnit: null }),
    rules: [7],
    code: 'liftMissing',
    message: 'Job fox: it needs a telehandler, no lift is written.',
  },
  {
    title: '7: a lift where none is needed',
    plan: withVisit('cod', { liftUnit: 'tele-1' }),
    rules: [7],
    code: 'liftNotNeeded',
    message: 'Job cod: lift tele-1 is written, no site day needs one.',
  },
  {
    title: '7: a lift of the wrong type',
    problem: withPattern('elm', 0, { liftType: 'crane' }),
    rules: [7],
    code: 'liftWrongType',
    message: 'Job elm: lift tele-1 is a telehandler, a crane is needed.',
  },
  {
    title: '7: a second type in one pattern',
    problem: withPattern('gull', 1, { liftType: 'crane' }),
    rules: [7],
    code: 'liftTypes',
    message: 'Job gull: its site days need lifts of 2 types (telehandler, crane), one type is allowed.',
  },
  {
    title: '7: a lift out of range',
    problem: withItem('lifts', 'tele-1', { rangeKm: 199 }),
    rules: [7],
    code: 'liftOutOfRange',
    message: 'Job fox: the depot of lift tele-1 is 200 km from the site, it goes at most 199 km.',
  },
  {
    title: '7: a lift that is away on a held-back day',
    problem: withItem('lifts', 'tele-1', { available: notOn(15) }),
    rules: [7],
    code: 'liftNotAvailable',
    message: 'Job fox: lift tele-1 is held on 2027-05-18, on which it is not available.',
  },
  {
    title: '7: a lift that is away on a weekend within the held span',
    problem: withItem('lifts', 'tele-1', { available: notOn(12) }),
    rules: [7],
    code: 'liftNotAvailable',
    message: 'Job fox: lift tele-1 is held on 2027-05-15, on which it is not available.',
  },
  {
    title: '7: a lift held by two visits at once',
    plan: withVisit('elm', { days: [d(2)] }),
    rules: [7],
    code: 'liftHeldTwice',
    message:
      'Job gull: lift tele-1 is held from 2027-05-04 to 2027-05-05, and by job elm from 2027-05-05 to 2027-05-05.',
  },
  // Rule 8
  {
    title: '8: no unit of a kind that is needed',
    plan: withVisit('ash', { equipment: [] }),
    rules: [8],
    code: 'equipmentMissing',
    message: 'Job ash: 0 units of equipment kind levelling-set named, 1 needed.',
  },
  {
    title: '8: a second unit of the kind',
    plan: withVisit('fox', { equipment: ['set-1', 'set-2'] }),
    rules: [8],
    code: 'equipmentNotNeeded',
    message: 'Job fox: 2 units of equipment kind levelling-set named, 1 needed.',
  },
  {
    title: '8: a unit of a kind that is not needed',
    plan: withVisit('fox', { equipment: ['set-1', 'cart-1'] }),
    rules: [8],
    code: 'equipmentNotNeeded',
    message: 'Job fox: 1 unit of equipment kind cart named, 0 needed.',
  },
  {
    title: '8: one unit named twice',
    plan: withVisit('fox', { equipment: ['set-1', 'set-1'] }),
    rules: [8],
    code: 'equipmentTwice',
    message: 'Job fox: equipment unit set-1 is named 2 times.',
  },
  {
    title: '8: a unit that cannot be used on a calendar day between w1 and the last reserve day',
    problem: withItem('equipment', 'set-1', { usable: notOn(13) }),
    rules: [8],
    code: 'equipmentNotUsable',
    message: 'Job fox: equipment unit set-1 is held on 2027-05-16, on which it cannot be used.',
  },
  {
    title: '8: a unit held by two visits at once',
    problem: withJob('elm', { equipmentKinds: ['levelling-set'] }),
    plan: withVisit('elm', { equipment: ['set-1'] }),
    rules: [8],
    code: 'equipmentHeldTwice',
    message:
      'Job gull: equipment unit set-1 is held from 2027-05-04 to 2027-05-06, and by job elm from 2027-05-06 to 2027-05-06.',
  },
  {
    title: '8: too little time to bring a unit to another crew',
    problem: withJob('ash', { pin: null }),
    plan: withVisit('ash', { days: [d(17)], deliveryDay: d(17) }),
    rules: [3, 8],
    code: 'equipmentHandOver',
    message:
      'Job ash: equipment unit set-1 comes from job fox of crew north, released on 2027-05-19, 1 travel day away; ' +
      '2027-05-21 is the earliest, the start is 2027-05-20.',
  },
  // Rule 9
  {
    title: '9: another start than the pinned one',
    problem: withJob('ash', { pin: { start: d(21), crew: null } }),
    rules: [9],
    code: 'pinStart',
    message: 'Job ash: its start is pinned on 2027-05-24, it is planned on 2027-05-21.',
  },
  {
    title: '9: another crew than the pinned one',
    problem: withJob('cod', { pin: { start: null, crew: 'south' } }),
    rules: [9],
    code: 'pinCrew',
    message: 'Job cod: its crew is pinned as south, it is planned with north.',
  },
  {
    title: '9: a pinned job that is not planned',
    problem: withJob('owl', { pin: { start: null, crew: null } }),
    rules: [9],
    code: 'pinNotPlanned',
    message: 'Job owl: it is pinned, but it is not planned.',
  },
  {
    title: '9: another start than the frozen one',
    problem: withJob('gull', { published: { start: d(0), crew: 'north' } }),
    rules: [9],
    code: 'frozenStart',
    message: 'Job gull: its start is frozen on 2027-05-03, it is planned on 2027-05-04.',
  },
  {
    title: '9: another crew than the frozen one',
    problem: withJob('gull', { published: { start: d(1), crew: 'south' } }),
    rules: [9],
    code: 'frozenCrew',
    message: 'Job gull: its crew is frozen as south, it is planned with north.',
  },
  {
    title: '9: a job with a frozen start that is not planned',
    plan: drop('gull'),
    rules: [9],
    code: 'frozenNotPlanned',
    message: 'Job gull: its published start is frozen, but it is not planned.',
  },
  {
    title: '9: another job on a frozen day',
    problem: (problem) => ({ ...problem, frozenUntil: d(3) }) as SeasonProblem,
    rules: [9],
    code: 'frozenDayTaken',
    message:
      'Job elm: it starts on 2027-05-06; the days up to 2027-05-06 are frozen and it was not published on one of them.',
  },
];

describe('Each rule, broken once', () => {
  test.each(cases)('$title', (entry) => {
    const { violations, valid } = outcome(entry);
    expect(valid).toBe(false);
    expect(
      [...new Set(violations.map((violation) => violation.rule))].filter((rule) => rule !== 0).sort(),
    ).toEqual(entry.rules);
    const found = violations.filter((violation) => violation.code === entry.code);
    expect(found.map((violation) => violation.message)).toContain(entry.message);
    expect(entry.rules).toContain(found[0]?.rule);
    expect(String(found[0]?.rule)).toBe(entry.title.slice(0, 1));
  });
});

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
