import { expect, test } from '@jest/globals';
import { DateTime } from 'luxon';
import {
  datesFromTo,
  isoWeek,
  isWeekend,
  longDate,
  monthHeads,
  spanWords,
  weekHeads,
} from '../../../apps/web/src/format/dates.ts';

test('the week of every day from 2000 to 2040 is that of Luxon, which counts by ISO 8601', () => {
  for (const date of datesFromTo('2000-01-01', '2040-12-31')) {
    const reference = DateTime.fromISO(date, { zone: 'utc' });
    expect([date, isoWeek(date), isWeekend(date)]).toEqual([
      date,
      reference.weekNumber,
      reference.weekday > 5,
    ]);
  }
});

test('days at the turn of a year belong to the week of their Thursday', () => {
  // ISO 8601: the week with the first Thursday of a year is its week 1. The two days are from memory.
  expect(isoWeek('1995-01-01')).toBe(52);
  expect(isoWeek('1996-12-31')).toBe(1);
});

test('the heads of months and weeks together have a column for each day', () => {
  const days = datesFromTo('2027-04-19', '2027-10-29').length;
  for (const heads of [monthHeads('2027-04-19', '2027-10-29'), weekHeads('2027-04-19', '2027-10-29')]) {
    expect(heads.reduce((sum, head) => sum + head.days, 0)).toBe(days);
  }
  expect(monthHeads('2027-04-19', '2027-10-29')[0]).toEqual({
    label: 'April 2027',
    first: '2027-04-19',
    days: 12,
  });
});

test('a span is said without saying the month or the year twice', () => {
  expect(spanWords('2027-06-01', '2027-06-01')).toBe('Tue 1 June 2027');
  expect(spanWords('2027-06-01', '2027-06-02')).toBe('Tue 1 to Wed 2 June 2027');
  expect(spanWords('2027-06-30', '2027-07-01')).toBe('Wed 30 June to Thu 1 July 2027');
  expect(spanWords('2026-12-31', '2027-01-01')).toBe('Thu 31 December 2026 to Fri 1 January 2027');
  expect(longDate('2027-10-29')).toBe('Fri 29 October 2027');
});
