import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { YearMarks } from './year-marks.ts';

describe('years around a date', () => {
  it('are counted as a set counts them, with the turn of the year', () => {
    const seen = fc.array(
      fc.record({ date: fc.integer({ min: 0, max: 365 }), year: fc.integer({ min: 1900, max: 2045 }) }),
      { maxLength: 300 },
    );
    fc.assert(
      fc.property(
        seen,
        fc.integer({ min: 0, max: 365 }),
        fc.integer({ min: 0, max: 15 }),
        (days, date, half) => {
          const marks = new YearMarks(366);
          const inOrder = [...days].sort((a, b) => a.year - b.year);
          for (const day of inOrder) marks.add(day.date, day.year);
          const years = new Set<number>();
          for (const day of inOrder)
            for (const turn of [-1, 0, 1])
              if (Math.abs(day.date + turn * 366 - date) <= half) years.add(day.year - turn);
          expect(marks.around(date, half)).toBe(years.size);
        },
      ),
    );
  });

  it('of a typical year are one', () => {
    const marks = new YearMarks(366);
    for (let date = 0; date < 366; date += 1) marks.add(date, null);
    for (const date of [0, 3, 180, 365]) expect(marks.around(date, 7)).toBe(1);
  });
});
