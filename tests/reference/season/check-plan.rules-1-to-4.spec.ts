import { describe, test } from '@jest/globals';
import { d, mask } from './paper-season.ts';
import {
  type Case,
  expectBroken,
  notOn,
  withCodReserve,
  withCrew,
  withGoods,
  withItem,
  withJob,
  withPattern,
  withVisit,
} from './rule-cases.ts';

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
];

describe('Each rule, broken once', () => {
  test.each(cases)('$title', expectBroken);
});
