import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import {
  addDays,
  addMinutes,
  dayFromParts,
  daysBetween,
  fixedClock,
  isLocalDate,
  minutesBetween,
  monthOf,
  parseInstant,
  parseLocalDate,
  toDay,
  toLocalDate,
  weekdayOf,
} from './index.ts';

describe('calendar dates', () => {
  it('counts days from 1970-01-01, which was a Thursday', () => {
    expect(toDay(parseLocalDate('1970-01-01'))).toBe(0);
    expect(weekdayOf(0)).toBe(4);
    expect(toDay(parseLocalDate('2000-03-01'))).toBe(11_017);
    // ISO 8601 prints 1985-04-12 as a Friday, day 5 of its week (1985-W15-5).
    expect(weekdayOf(toDay(parseLocalDate('1985-04-12')))).toBe(5);
  });

  it.each([
    '2023-02-29',
    '2026-13-01',
    '2026-00-10',
    '2026-1-1',
    '0000-01-01',
    '20260101',
    '2026-01-01T00:00',
    '',
  ])('refuses %p', (text) => {
    expect(isLocalDate(text)).toBe(false);
    expect(() => parseLocalDate(text)).toThrow(expect.objectContaining({ code: 'invalid-date' }));
  });

  it('goes from a day to its date and back, and weekdays follow each other', () => {
    fc.assert(
      fc.property(fc.integer({ min: -700_000, max: 2_900_000 }), (day) => {
        expect(toDay(toLocalDate(day))).toBe(day);
        expect(weekdayOf(day + 1)).toBe((weekdayOf(day) % 7) + 1);
      }),
    );
  });

  it('adds days and counts them', () => {
    expect(addDays(parseLocalDate('2024-02-28'), 2)).toBe('2024-03-01');
    expect(daysBetween(parseLocalDate('2026-06-30'), parseLocalDate('2026-06-01'))).toBe(-29);
    expect(monthOf(dayFromParts(2026, 9, 30))).toBe(9);
    expect(() => dayFromParts(2026, 2, 30)).toThrow(expect.objectContaining({ code: 'invalid-date' }));
  });
});

describe('instants', () => {
  it('are written with milliseconds and in UTC', () => {
    expect(parseInstant('2026-12-05T16:00:00Z')).toBe('2026-12-05T16:00:00.000Z');
    expect(parseInstant('2026-12-05T16:00:00.1239Z')).toBe('2026-12-05T16:00:00.123Z');
  });

  it.each([
    '2026-12-05T16:00:00',
    '2026-12-05T16:00:00+01:00',
    '2026-12-05T24:00:00Z',
    '2026-02-30T00:00:00Z',
    '2026-12-05',
  ])('refuse %p', (text) => {
    expect(() => parseInstant(text)).toThrow(expect.objectContaining({ code: 'invalid-instant' }));
  });

  it('move by minutes, and a fixed clock moves only when told', () => {
    const start = parseInstant('2026-03-08T06:30:00Z');
    expect(addMinutes(start, -45)).toBe('2026-03-08T05:45:00.000Z');
    const clock = fixedClock(start);
    expect(clock.now()).toBe(start);
    clock.advanceMin(90);
    expect(minutesBetween(start, clock.now())).toBe(90);
  });
});
