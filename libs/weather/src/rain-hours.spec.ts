import { describe, expect, it } from '@jest/globals';
import type { HourlyRecord } from './hourly-record.ts';
import { rainHours } from './rain-hours.ts';
import { recordOf } from './record-of.ts';

const limits = { workFromHour: 8, workToHour: 17, rainMmPerHour: 0.2, gustMps: 9, gustFactor: 1.4 };

/** Thirty days with rain in the hours that are named. */
function record(isWet: (hour: number, day: number) => boolean): HourlyRecord {
  return recordOf({
    place: { name: 'invented', lat: 0, lon: 0, elevationM: null },
    source: 'invented',
    standardOffsetMin: 0,
    typicalYear: false,
    start: '2027-06-01',
    hours: Array.from({ length: 30 * 24 }, (_, at) => ({
      rainMm: isWet(at % 24, Math.floor(at / 24)) ? 1 : 0,
    })),
  });
}

describe('rain by the hour of the day', () => {
  it('finds it no accident that sixty wet hours lie at night', () => {
    const seen = rainHours(
      record((hour) => hour === 19 || hour === 21),
      limits,
    );
    expect(seen).toMatchObject({ wetHours: 60, wetWorkHours: 0, hoursOfDay: [19, 21] });
    // Nine working hours of 24: (1 - 9/24)^60.
    expect(seen.chanceOfSoFew / 0.625 ** 60).toBeCloseTo(1, 9);
  });

  it('finds nothing odd in rain at all hours, or in a record without rain', () => {
    expect(
      rainHours(
        record((hour, day) => (hour + 5 * day) % 24 < 3),
        limits,
      ).chanceOfSoFew,
    ).toBeGreaterThan(0.3);
    expect(
      rainHours(
        record(() => false),
        limits,
      ),
    ).toMatchObject({ wetHours: 0, chanceOfSoFew: 1 });
    expect(
      rainHours(
        record((hour) => hour === 12),
        limits,
      ).chanceOfSoFew,
    ).toBe(1);
  });

  it('sums the tail of a binomial: at most one of three in a share of 3/8', () => {
    const wet = new Set(['0 0', '1 0', '12 1']);
    const seen = rainHours(
      record((hour, day) => wet.has(`${hour} ${day}`)),
      limits,
    );
    expect(seen.chanceOfSoFew).toBeCloseTo(0.625 ** 3 + 3 * 0.375 * 0.625 ** 2, 12);
  });
});
