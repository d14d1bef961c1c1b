import { describe, expect, it } from '@jest/globals';
import {
  calibrate,
  generateYears,
  monthlyTableFromHourly,
  readEpw,
} from '../../../libs/weather/src/index.ts';
import { dataFileText } from '../../builders/data-folder.ts';

/**
 * A generator fitted to the months of a real year of hours (Atlanta, EPW file of the BESTEST set, ASHRAE/NREL), held against
 * that year. The year has 365 days of its own luck, so it can differ by four standard errors of a share of 365 days with a
 * day-to-day correlation of 0.3.
 */
const limits = { workFromHour: 7, workToHour: 17, rainMmPerHour: 0.2, gustMps: 9, gustFactor: 1.4 };

describe('years generated from the months of a real year, where present', () => {
  it('have as many bad days, and spells as long, as the year itself', () => {
    const text = dataFileText('weather', 'USA_GA_Atlanta_722190_BESTEST.epw');
    if (text === null) return;
    const { record } = readEpw(text, { keepGood: false });
    if (!record) throw new Error('the file holds hours');
    const real = monthlyTableFromHourly(record, limits);
    const wind = Array.from({ length: 12 }, () => ({ sum: 0, count: 0 }));
    record.windMps.forEach((mps, at) => {
      const month = wind[new Date((record.hourIndex[at] as number) * 3_600_000).getUTCMonth()];
      if (!month || Number.isNaN(mps)) return;
      month.sum += mps;
      month.count += 1;
    });
    const months = real.map((month, at) => {
      const { sum, count } = wind[at] as { sum: number; count: number };
      return { ...month, meanWindMps: sum / count };
    });
    const answer = calibrate(months, { limits, wetShareOf: 'working-hours' });
    if (!answer.known) throw new Error('the months are known');
    expect(answer.value.notMet.filter(({ name }) => name === 'windyDayShare')).toEqual([]);
    const made = generateYears(answer.value.parameters, {
      seed: 5,
      firstYear: 2001,
      years: 10,
      place: record.place,
      standardOffsetMin: record.standardOffsetMin,
    });
    const table = monthlyTableFromHourly(made, limits);
    const meanOf = (of: (month: (typeof table)[number]) => number | null, from: typeof table): number => {
      const values = from.map(of).filter((value) => value !== null);
      return values.reduce((sum, value) => sum + value, 0) / values.length;
    };
    for (const of of [
      ({ badDayShare }: (typeof table)[number]) => badDayShare,
      ({ wetDayShare }: (typeof table)[number]) => wetDayShare,
      ({ windyDayShare }: (typeof table)[number]) => windyDayShare,
    ]) {
      const share = meanOf(of, real);
      const error = Math.sqrt(((share * (1 - share)) / 365) * (1.3 / 0.7));
      expect(Math.abs(meanOf(of, table) - share)).toBeLessThan(4 * error);
    }
    // Bad after bad: about 150 pairs of a year, so a standard error of 0.04.
    const [again, realAgain] = [table, real].map((each) => meanOf(({ badAfterBad }) => badAfterBad, each));
    expect(Math.abs((again as number) - (realAgain as number))).toBeLessThan(4 * 0.04);
    expect(meanOf(({ meanTempC }) => meanTempC, table)).toBeCloseTo(
      meanOf(({ meanTempC }) => meanTempC, real),
      0,
    );
  });
});
