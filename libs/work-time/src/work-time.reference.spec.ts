import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import type { Day, Verdict } from '../../kernel/src/index.ts';
import {
  AU_STANDARD_HOURS,
  checkDay,
  type DutySegment,
  EU_DRIVING,
  EU_WORKING_TIME,
  holdsTicket,
  NZ_WORK_TIME,
  type Ticket,
  ticketHolds,
  US_PROPERTY,
  WORK_TIME_RULE_SETS,
  type WorkTimeRuleSet,
} from './index.ts';

const drive = (durationMin: number): DutySegment => ({ activity: 'driving', durationMin });
const work = (durationMin: number): DutySegment => ({ activity: 'otherWork', durationMin });
const rest = (durationMin: number): DutySegment => ({ activity: 'rest', durationMin });
const hm = (hours: number, minutes = 0): number => hours * 60 + minutes;

const check = (rules: WorkTimeRuleSet, segments: DutySegment[], change = {}) =>
  checkDay({ segments, restBeforeMin: hm(24), ...change }, rules);

describe('limits of a duty day', () => {
  // Sources beside each rule set in rule-set.ts; the boundary on either side of each limit.
  const rows: [string, WorkTimeRuleSet, DutySegment[], number | null, Verdict][] = [
    ['EU rest 11:00', EU_WORKING_TIME, [work(60)], hm(11), 'ok'],
    ['EU rest 10:59', EU_WORKING_TIME, [work(60)], hm(10, 59), 'not ok'],
    ['EU 6:00 without a break', EU_WORKING_TIME, [work(hm(6))], hm(11), 'ok'],
    ['EU 6:01 without a break', EU_WORKING_TIME, [work(hm(6, 1))], hm(11), 'not ok'],
    [
      'EU driving 4:30 then 15 and 30',
      EU_DRIVING,
      [drive(hm(2)), rest(15), drive(hm(2, 30)), rest(30), drive(hm(4, 30))],
      hm(11),
      'ok',
    ],
    [
      'EU driving 4:30 then 30 and 15',
      EU_DRIVING,
      [drive(hm(2)), rest(30), drive(hm(2, 30)), rest(15), drive(hm(4, 30))],
      hm(11),
      'not ok',
    ],
    ['EU driving 4:31 unbroken', EU_DRIVING, [drive(hm(4, 31))], hm(11), 'not ok'],
    [
      'EU driving 4:30, other work of 45 minutes, driving',
      EU_DRIVING,
      [drive(hm(4, 30)), work(45), drive(1)],
      hm(11),
      'not ok',
    ],
    [
      'US 15 minutes of work and 15 of rest break the driving',
      US_PROPERTY,
      [drive(hm(8)), work(15), rest(15), drive(60)],
      hm(10),
      'ok',
    ],
    [
      'EU driving 9:01 in a day',
      EU_DRIVING,
      [drive(hm(4, 30)), rest(45), drive(hm(4, 30)), rest(45), drive(1)],
      hm(11),
      'not ok',
    ],
    ['NZ 5:30, 30 minutes, 5:30', NZ_WORK_TIME, [work(hm(5, 30)), rest(30), work(hm(5, 30))], hm(10), 'ok'],
    ['NZ 5:31 without a break', NZ_WORK_TIME, [work(hm(5, 31))], hm(10), 'not ok'],
    [
      'NZ 13:00 of work',
      NZ_WORK_TIME,
      [work(hm(5)), rest(30), work(hm(5)), rest(30), drive(hm(3))],
      hm(10),
      'ok',
    ],
    [
      'NZ 13:01 of work',
      NZ_WORK_TIME,
      [work(hm(5)), rest(30), work(hm(5)), rest(30), drive(hm(3, 1))],
      hm(10),
      'not ok',
    ],
    ['NZ rest 9:59', NZ_WORK_TIME, [work(60)], hm(9, 59), 'not ok'],
    [
      'AU 5:15 of work in 5:30',
      AU_STANDARD_HOURS,
      [drive(hm(5, 15)), rest(15), drive(hm(2, 15))],
      hm(7),
      'ok',
    ],
    ['AU 5:16 counts 5:30', AU_STANDARD_HOURS, [drive(hm(5, 16)), rest(15)], hm(7), 'not ok'],
    [
      'AU a rest of 12 minutes counts nothing',
      AU_STANDARD_HOURS,
      [drive(hm(3)), rest(12), drive(hm(2, 30))],
      hm(7),
      'not ok',
    ],
    ['AU rest 6:59', AU_STANDARD_HOURS, [drive(60)], hm(6, 59), 'not ok'],
    ['US driving minute 660', US_PROPERTY, [drive(hm(8)), rest(30), drive(hm(3))], hm(10), 'ok'],
    ['US driving minute 661', US_PROPERTY, [drive(hm(8)), rest(30), drive(hm(3, 1))], hm(10), 'not ok'],
    ['US driving in the 15th hour', US_PROPERTY, [drive(hm(4)), work(hm(10)), drive(1)], hm(10), 'not ok'],
    ['US 8:01 of driving without 30 minutes', US_PROPERTY, [drive(hm(8, 1))], hm(10), 'not ok'],
    [
      'US other work of 30 minutes breaks the driving',
      US_PROPERTY,
      [drive(hm(8)), work(30), drive(60)],
      hm(10),
      'ok',
    ],
  ];
  it.each(rows)('%s', (_name, rules, segments, restBeforeMin, verdict) => {
    expect(check(rules, segments, { restBeforeMin }).verdict).toBe(verdict);
  });

  it('may be stretched where the law allows it a few times, and only if that is said', () => {
    const long = [drive(hm(4, 30)), rest(45), drive(hm(4, 30)), rest(45), drive(60)];
    expect(check(EU_DRIVING, long, { restBeforeMin: hm(9) }).verdict).toBe('not ok');
    expect(check(EU_DRIVING, long, { restBeforeMin: hm(9), usesException: true }).verdict).toBe('ok');
    expect(check(EU_WORKING_TIME, [work(60)], { restBeforeMin: hm(9), usesException: true }).verdict).toBe(
      'not ok',
    );
  });

  it('say where they are broken', () => {
    const { limits } = check(US_PROPERTY, [drive(hm(8)), rest(30), drive(hm(4))]);
    expect(limits.find((limit) => limit.limitId === 'day-driving')).toMatchObject({
      actualMin: 720,
      allowedMin: 660,
      brokenAtMin: 690,
    });
  });

  it('cannot be said to hold when the rest before is unknown, but a broken limit stays broken', () => {
    expect(check(EU_DRIVING, [drive(60)], { restBeforeMin: null }).verdict).toBe('cannot say');
    expect(check(EU_DRIVING, [drive(hm(5))], { restBeforeMin: null }).verdict).toBe('not ok');
    expect(() => check(EU_DRIVING, [drive(-1)])).toThrow(expect.objectContaining({ code: 'invalid-input' }));
  });

  it('never come to hold by working longer', () => {
    const segment = fc.record({
      activity: fc.constantFrom('driving', 'otherWork', 'rest' as const),
      durationMin: fc.integer({ min: 0, max: 400 }),
    });
    fc.assert(
      fc.property(
        fc.array(segment, { maxLength: 8 }),
        fc.constantFrom(...WORK_TIME_RULE_SETS),
        fc.integer({ min: 1, max: 300 }),
        (segments, rules, more) => {
          if (check(rules, segments).verdict === 'ok') return;
          expect(check(rules, [...segments, drive(more)]).verdict).not.toBe('ok');
        },
      ),
    );
  });
});

describe('tickets', () => {
  const day = (number: number): Day => number as Day;
  const ticket = (validFrom: number | null, expiresOn: number | 'never' | null): Ticket => ({
    ticket: 'slinging',
    validFrom: validFrom as Day | null,
    expiresOn: expiresOn as Ticket['expiresOn'],
  });

  it.each([
    [ticket(100, 200), 100, 'ok'],
    [ticket(100, 200), 200, 'ok'],
    [ticket(100, 200), 201, 'not ok'],
    [ticket(100, 200), 99, 'not ok'],
    [ticket(100, 'never'), 9999, 'ok'],
    [ticket(100, null), 150, 'cannot say'],
    [ticket(100, null), 99, 'not ok'],
    [ticket(null, 200), 150, 'cannot say'],
    [ticket(null, 200), 201, 'not ok'],
  ] as [Ticket, number, Verdict][])('%p on day %d: %s', (held, on, verdict) => {
    expect(ticketHolds(held, day(on))).toBe(verdict);
  });

  it('of a person count if one of them holds', () => {
    expect(holdsTicket([ticket(100, 200), ticket(201, null)], 'slinging', day(150))).toBe('ok');
    expect(holdsTicket([ticket(100, 200), ticket(201, null)], 'slinging', day(250))).toBe('cannot say');
    expect(holdsTicket([ticket(100, 200)], 'first aid', day(150))).toBe('not ok');
  });
});
