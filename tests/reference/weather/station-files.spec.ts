import { describe, expect, it } from '@jest/globals';
import { parseInstant } from '../../../libs/kernel/src/index.ts';
import {
  csvReader,
  localDateOfHour,
  metarReader,
  parseMetar,
  readEpw,
  readText,
} from '../../../libs/weather/src/index.ts';
import { dataFileText } from '../../builders/data-folder.ts';

/** Whole files of stations, read where the folder of open data is present; the figures were counted from them with awk. */
const sandPoint = { name: 'Sand Point', lat: 55.317, lon: -160.517, elevationM: 7 };

describe('files of stations, where present', () => {
  it('a TMY3 table: hours of 1 to 24 that name their end, month before day, -9900 for missing', () => {
    const text = dataFileText('weather', 'USA_AK_SandPoint_703165_TMY3.csv');
    if (text === null) return;
    const reader = csvReader({
      place: sandPoint,
      source: 'TMY3',
      linesBeforeHeader: 1,
      dateOrder: 'mdy',
      stampIs: 'end',
      clock: { offsetMin: -540 },
      columns: {
        'Date (MM/DD/YYYY)': { field: 'date' },
        'Time (HH:MM)': { field: 'timeOfDay' },
        'Dry-bulb (C)': { field: 'tempC' },
        'Dew-point (C)': { field: 'dewPointC' },
        'Wspd (m/s)': { field: 'windMps' },
        'Lprecip depth (mm)': { field: 'rainMm' },
      },
    });
    const { record, badLines, badLineCount, gaps, warnings } = readText(reader, text, { keepGood: true });
    if (!record) throw new Error('it holds hours');
    // Of its few rain depths three are no rain of an hour: 253, 508 and 753 mm; two are beyond what an hour can have.
    expect(badLineCount).toBe(2);
    expect(badLines.map(({ reason }) => reason.slice(0, 24))).toEqual([
      'rain 508 mm is outside 0',
      'rain 753 mm is outside 0',
    ]);
    expect(record.hourIndex).toHaveLength(8758);
    expect(gaps.hours).toBe(2);
    expect(record.typicalYear).toBe(true);
    expect(record.windMps.filter((wind) => wind >= 12)).toHaveLength(304);
    expect(Math.max(...record.windMps)).toBeCloseTo(23.7, 4);
    expect(record.rainMm.filter(Number.isNaN)).toHaveLength(8011);
    expect(warnings.map(({ code }) => code)).toEqual(
      expect.arrayContaining(['years-mixed', 'rain-too-much']),
    );
    expect(warnings.map(({ code }) => code)).not.toContain('wind-unit');
  });

  it('an EPW file without rain, of months of many years', () => {
    const text = dataFileText('weather', 'PVGIS_45N_8E_TMY_2005_2023.epw');
    if (text === null) return;
    const { record, badLineCount, gaps, warnings } = readEpw(text, { keepGood: false });
    expect([record?.hourIndex.length, badLineCount, gaps.hours, record?.typicalYear]).toEqual([
      8760,
      0,
      0,
      true,
    ]);
    expect(warnings.map(({ code }) => code)).toEqual(expect.arrayContaining(['rain-missing', 'years-mixed']));
    const months = new Set(Array.from(record?.hourIndex ?? [], (index) => localDateOfHour(index).month));
    expect(months.size).toBe(12);
  });

  it('reports of a field station have the wind that the archive put beside them', () => {
    const text = dataFileText('weather', 'noaa_isd_00702699999_2017_first500.csv');
    if (text === null) return;
    const [header = '', ...rows] = text.trim().split('\n');
    const cellsOf = (line: string): string[] =>
      line.match(/"[^"]*"|(?<=^|,)(?=,|$)|[^,"]+/g)?.map((cell) => cell.replaceAll('"', '')) ?? [];
    const names = cellsOf(header);
    const lines: string[] = [];
    let compared = 0;
    for (const row of rows) {
      const cells = cellsOf(row);
      const at = (name: string): string => cells[names.indexOf(name)] ?? '';
      const report = /METAR .*/.exec(at('REM'))?.[0];
      if (report === undefined) continue;
      lines.push(`${at('DATE').slice(0, 16)}Z ${report}`);
      const result = parseMetar(report, parseInstant(`${at('DATE')}Z`));
      if (!result.ok) continue;
      // The archive writes wind in tenths of m/s, 9999 for missing.
      const wind = at('WND').split(',')[3];
      if (wind === '9999' || result.value.wind?.meanMps === undefined) continue;
      expect(Math.abs((result.value.wind?.meanMps ?? Number.NaN) - Number(wind) / 10)).toBeLessThan(0.06);
      compared += 1;
    }
    expect(compared).toBeGreaterThan(400);
    const reader = metarReader({
      place: sandPoint,
      source: 'ISD',
      reference: parseInstant('2017-02-10T00:00:00Z'),
    });
    const { record, warnings } = readText(reader, lines.join('\n'), { keepGood: true });
    // Twelve reports an hour, from 14 h on one day to 8 h two days later.
    expect(record?.hourIndex).toHaveLength(43);
    // Machines without eyes for weather: nothing is said of rain or thunder.
    expect(record?.rainMm.every(Number.isNaN)).toBe(true);
    expect(warnings.map(({ code }) => code)).toContain('groups-unread');
  });
});
