import { describe, test } from '@jest/globals';
import type { SeasonProblem } from '../../../libs/season/src/problem.ts';
import { d } from './paper-season.ts';
import {
  type Case,
  drop,
  expectBroken,
  notOn,
  withCrew,
  withItem,
  withJob,
  withPattern,
  withVisit,
} from './rule-cases.ts';

const cases: Case[] = [
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
  test.each(cases)('$title', expectBroken);
});
