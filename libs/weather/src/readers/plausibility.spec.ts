import { describe, expect, it } from '@jest/globals';
import { csvReader, type HourValues, hourlyCsv, readText, recordOf } from '../index.ts';

const head = { place: { name: '', lat: 0, lon: 0, elevationM: null }, source: 'invented' };
/** Winds between 1 and 9 m/s that never repeat from hour to hour, as a plain station has them. */
const wind = (at: number): number => 5 + 2.5 * Math.sin(at / 7) + 1.4 * Math.sin(at * 1.7);

/** What is said of a record that goes through the reader of tables. */
function codes(hours: number, hour: (at: number) => HourValues): string[] {
  const record = recordOf({
    ...head,
    standardOffsetMin: 0,
    typicalYear: false,
    start: '2025-01-01',
    hours: Array.from({ length: hours }, (_, at) => ({
      tempC: 10 + 5 * Math.sin(at / 4),
      rainMm: at % 40 === 0 ? 1 : 0,
      ...hour(at),
    })),
  });
  return readText(csvReader(head), [...hourlyCsv(record)].join('\n'), { keepGood: false }).warnings.map(
    ({ code }) => code,
  );
}

describe('what a record says against itself', () => {
  it('nothing, when it is as stations are', () => {
    expect(codes(2000, (at) => ({ windMps: wind(at), gustMps: wind(at) * 1.5, dewPointC: 2 }))).toEqual([]);
    // Whole knots in m/s, rounded to tenths, as airfields report: 0.514 m/s a step.
    expect(
      codes(2000, (at) => ({ windMps: Math.round(Math.round(wind(at) / 0.514444) * 5.14444) / 10 })),
    ).toEqual([]);
  });

  it.each([
    ['km/h', 3.6],
    ['knots', 1.943_844],
    ['miles an hour', 2.236_936],
  ])('winds in %s that are said to be in m/s', (_, by) => {
    // A place with a mean of 7 m/s; calmer ones in knots or miles stay within what m/s can be.
    expect(codes(2000, (at) => ({ windMps: (wind(at) + 2) * by }))).toContain('wind-unit');
  });

  it('whole knots turned into km/h, however calm the place', () => {
    expect(codes(4000, (at) => ({ windMps: Math.round(Math.round(wind(at) * 1.2) * 18.52) / 10 }))).toContain(
      'wind-unit',
    );
  });

  it('gusts in another unit than the mean wind', () => {
    expect(codes(2000, (at) => ({ windMps: wind(at), gustMps: wind(at) * 1.5 * 3.6 }))).toContain(
      'wind-unit',
    );
  });

  it('sensors that are stuck', () => {
    expect(codes(500, (at) => ({ windMps: at < 400 && at > 370 ? 4.2 : wind(at) }))).toEqual(['wind-stuck']);
    expect(codes(500, (at) => ({ windMps: at > 100 ? 0 : wind(at) }))).toEqual(['wind-stuck']);
    expect(codes(500, (at) => ({ windMps: at > 300 ? 0 : wind(at) }))).toEqual([]);
    expect(codes(500, (at) => ({ windMps: wind(at), tempC: at > 400 ? 3 : at }))).toContain(
      'temperature-stuck',
    );
  });

  it('temperatures and dew points that cannot be', () => {
    expect(codes(1000, (at) => ({ windMps: wind(at), tempC: 50 + 8 * Math.sin(at) }))).toEqual([
      'temperature-unit',
    ]);
    expect(codes(1000, (at) => ({ windMps: wind(at), dewPointC: at % 5 === 0 ? 25 : 0 }))).toEqual([
      'dew-point-above-air',
    ]);
  });

  it('rain that is none, missing, a running total or of many hours', () => {
    expect(codes(8500, (at) => ({ windMps: wind(at), rainMm: 0 }))).toEqual(['rain-all-zero']);
    expect(codes(100, (at) => ({ windMps: wind(at), rainMm: null }))).toEqual(['rain-missing']);
    expect(codes(1000, (at) => ({ windMps: wind(at), rainMm: at / 5 }))).toEqual(['rain-too-much']);
    expect(codes(1000, (at) => ({ windMps: wind(at), rainMm: at === 7 ? 200 : 0 }))).toEqual(['rain-burst']);
  });
});
