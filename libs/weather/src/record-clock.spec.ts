import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { daysInMonth, hourIndexOf, hourOfDay, localDateOfHour } from './index.ts';

describe('the clock of a record', () => {
  // ECMAScript's own calendar is the outside source: the proleptic Gregorian calendar of ECMA-262, section 21.4.1.
  it('agrees with the calendar of the language on every hour of 4,000 years', () => {
    fc.assert(
      fc.property(fc.integer({ min: -24 * 365 * 1900, max: 24 * 365 * 2000 }), (index) => {
        const date = new Date(index * 3_600_000);
        expect(localDateOfHour(index)).toEqual({
          year: date.getUTCFullYear(),
          month: date.getUTCMonth() + 1,
          dayOfMonth: date.getUTCDate(),
          hour: date.getUTCHours(),
        });
        const { year, month, dayOfMonth, hour } = localDateOfHour(index);
        expect(hourIndexOf(year, month, dayOfMonth, hour)).toBe(index);
        expect(hourOfDay(index)).toBe(hour);
        expect(daysInMonth(year, month)).toBe(new Date(Date.UTC(2000 + (year % 400), month, 0)).getUTCDate());
      }),
      { numRuns: 3000 },
    );
  });

  it('agrees on the ends of years and the leap days of centuries', () => {
    for (const text of [
      '1600-02-29',
      '1699-12-31',
      '1900-02-28',
      '1900-03-01',
      '2000-02-29',
      '2000-12-31',
      '2099-12-31',
    ]) {
      const index = Date.parse(`${text}T23:00:00Z`) / 3_600_000;
      const { year, month, dayOfMonth, hour } = localDateOfHour(index);
      expect([year, month, dayOfMonth, hour]).toEqual([...text.split('-').map(Number), 23]);
    }
  });
});
