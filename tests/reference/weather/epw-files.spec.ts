import { describe, expect, it } from '@jest/globals';
import { lostDaysTable, monthlyTableFromHourly, readEpw } from '../../../libs/weather/src/index.ts';
import { dataFileText } from '../../builders/data-folder.ts';

/**
 * Whole EPW files of the BESTEST set (ASHRAE/NREL, by way of the Modelica IBPSA library), read where the folder of open data is
 * present. Counts were taken from the same files with awk.
 */
const limits = { workFromHour: 7, workToHour: 17, rainMmPerHour: 0.2, gustMps: 9, gustFactor: 1.4 };

describe('real EPW files, where present', () => {
  it.each([
    ['CHL_Santiago_855740_BESTEST.epw', -33.393, -240, 60, 211, 10.8],
    ['USA_GA_Atlanta_722190_BESTEST.epw', 33.633, -300, 336, 657, 15.9],
  ])('%s holds 8,760 hours with its rain and wind', (name, lat, offsetMin, wetHours, rainMm, maxWindMps) => {
    const text = dataFileText('weather', name);
    if (text === null) return;
    const { record, badLines } = readEpw(text, { keepGood: false });
    if (!record) throw new Error('the file holds hours');
    expect(badLines).toEqual([]);
    expect(record.hourIndex).toHaveLength(8760);
    expect(record.place.lat).toBeCloseTo(lat, 3);
    expect(record.standardOffsetMin).toBe(offsetMin);
    expect(record.rainMm.filter((rain) => rain > 0)).toHaveLength(wetHours);
    expect(record.rainMm.reduce((sum, rain) => (Number.isNaN(rain) ? sum : sum + rain), 0)).toBeCloseTo(
      rainMm,
      -1,
    );
    expect(Math.max(...record.windMps)).toBeCloseTo(maxWindMps, 4);

    const table = monthlyTableFromHourly(record, limits);
    const answer = lostDaysTable(
      table,
      [true, false],
      { firstDay: 20_454, lastDay: 20_818 },
      {
        assumptions: { wetDayShare: null, windyDayShare: null, coldDayShare: 0, correlation: 0.2 },
      },
    );
    expect(answer.known).toBe(true);
  });

  it('has southern winters wet in July and northern heat in July', () => {
    const [santiago, atlanta] = ['CHL_Santiago_855740_BESTEST.epw', 'USA_GA_Atlanta_722190_BESTEST.epw'].map(
      (name) => {
        const text = dataFileText('weather', name);
        const record = text === null ? null : readEpw(text, { keepGood: false }).record;
        return record && monthlyTableFromHourly(record, limits);
      },
    );
    if (!santiago || !atlanta) return;
    expect(santiago[0]?.meanTempC).toBeGreaterThan((santiago[6]?.meanTempC ?? Number.NaN) + 5);
    expect(atlanta[6]?.meanTempC).toBeGreaterThan((atlanta[0]?.meanTempC ?? Number.NaN) + 10);
  });
});
