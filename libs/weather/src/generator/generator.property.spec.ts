import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import {
  type CalibrateOptions,
  calibrate,
  type GeneratorMonth,
  type GeneratorParameters,
  generateYears,
  type HourlyRecord,
  UNKNOWN_MONTH,
} from '../index.ts';
import { daysBetweenMonths, midMonthValues, valueBetween } from './mid-month.ts';

const months: GeneratorMonth[] = Array.from({ length: 12 }, (_, month) => ({
  ...UNKNOWN_MONTH,
  wetDayShare: 0.3 + month / 40,
  meanWindMps: 5,
  meanTempC: 10 - month,
}));
const options: CalibrateOptions = {
  limits: { workFromHour: 7, workToHour: 17, rainMmPerHour: 0.1, gustMps: 9, gustFactor: 1.4 },
  wetShareOf: 'whole-day',
};
const parameters = (): GeneratorParameters => {
  const answer = calibrate(months, options);
  if (!answer.known) throw new Error('figures were given');
  return answer.value.parameters;
};
const request = { place: { name: 'x', lat: 0, lon: 0, elevationM: null }, standardOffsetMin: 330 };
const columns = ['hourIndex', 'tempC', 'dewPointC', 'rainMm', 'windMps', 'gustMps', 'thunder'] as const;

function slice(record: HourlyRecord, from: number, to: number) {
  return columns.map((column) => record[column].slice(from, to));
}

describe('generated hours', () => {
  const made = parameters();

  it('are the same for a year made alone, in any company, and again', () => {
    fc.assert(
      fc.property(fc.maxSafeInteger(), fc.integer({ min: 1999, max: 2005 }), (seed, firstYear) => {
        const together = generateYears(made, { ...request, seed, firstYear, years: 3 });
        const alone = generateYears(made, { ...request, seed, firstYear: firstYear + 1, years: 1 });
        const from = (alone.hourIndex[0] as number) - (together.hourIndex[0] as number);
        expect(slice(together, from, from + alone.hourIndex.length)).toEqual(
          slice(alone, 0, alone.hourIndex.length),
        );
      }),
      { numRuns: 5 },
    );
  });

  it('differ from seed to seed and from year to year', () => {
    const one = generateYears(made, { ...request, seed: 1, firstYear: 2001, years: 2 });
    const two = generateYears(made, { ...request, seed: 2, firstYear: 2001, years: 2 });
    expect(one.windMps.slice(0, 48)).not.toEqual(two.windMps.slice(0, 48));
    expect(one.windMps.slice(0, 48)).not.toEqual(one.windMps.slice(8760, 8808));
  });

  it('have the same wind and temperature whatever the rain', () => {
    const drier = calibrate(
      months.map((month) => ({ ...month, wetDayShare: 0.05 })),
      options,
    );
    if (!drier.known) throw new Error('figures were given');
    const one = generateYears(made, { ...request, seed: 4, firstYear: 2001, years: 1 });
    const two = generateYears(drier.value.parameters, { ...request, seed: 4, firstYear: 2001, years: 1 });
    expect(two.windMps).toEqual(one.windMps);
    expect(two.tempC).toEqual(one.tempC);
    expect(two.rainMm).not.toEqual(one.rainMm);
  });
});

describe('straight lines between the middles of months', () => {
  it('have exactly the means that were asked for', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -30, max: 40, noNaN: true }), { minLength: 12, maxLength: 12 }),
        (means) => {
          const values = midMonthValues(means);
          const days = daysBetweenMonths(2003);
          const ofMonth = Array.from({ length: 12 }, (): number[] => []);
          days.forEach((day, nth) => {
            const month = new Date(Date.UTC(2003, 0, 1 + nth)).getUTCMonth();
            ofMonth[month]?.push(valueBetween(values, day));
          });
          ofMonth.forEach((of, month) => {
            expect(of.reduce((sum, value) => sum + value, 0) / of.length).toBeCloseTo(
              means[month] as number,
              6,
            );
          });
        },
      ),
      { numRuns: 20 },
    );
  });

  it('know leap years', () => {
    expect(daysBetweenMonths(2004)).toHaveLength(366);
    expect(daysBetweenMonths(2003)).toHaveLength(365);
  });
});
