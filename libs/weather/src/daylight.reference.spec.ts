// Rise and set of the sun against published almanac figures. Sources by row; tolerances of almanacs: a minute in middle latitudes, three above 60 degrees.
import { describe, expect, it } from '@jest/globals';
import { dayFromParts } from '../../kernel/src/index.ts';
import { dateOfYear } from './day-grid.ts';
import { lightSpans, lightTable } from './daylight.ts';

/** [what, lat, lon, date, minutes ahead of UTC, rise, set, tolerance in minutes]; null: does not happen on that date. */
const ROWS: readonly [string, number, number, string, number, string | null, string | null, number][] = [
  [
    'Atlanta, US Naval Observatory as printed in the PyEphem documents',
    33.8,
    -84.4,
    '2009-09-06',
    -240,
    '07:15',
    '19:56',
    1,
  ],
  [
    '39 N 105 W, US Naval Observatory as labelled in the tests of pvlib',
    39,
    -105,
    '2015-01-02',
    -420,
    '07:19',
    '16:49',
    1,
  ],
  [
    '39 N 105 W, rise of the same tests; set recomputed with PyEphem 4.1.4',
    39,
    -105,
    '2015-08-02',
    -420,
    '05:01',
    '19:10',
    1,
  ],
  [
    '35 S 0 E, NREL solar position algorithm by the tests of pvlib',
    -35,
    0,
    '1996-07-05',
    0,
    '07:08',
    '17:01',
    1,
  ],
  ['35 S 0 E, the same', -35, 0, '2004-12-04', 0, '04:39', '19:02', 1],
  ['35 N 0 E, the same', 35, 0, '1994-01-02', 0, '07:08', '17:00', 1],
  ['40.9 N 83.9 W, documents of Skyfield', 40.8939, -83.8917, '2018-09-12', 0, '11:13', '23:50', 1],
  ['40.9 N 83.9 W, documents of Skyfield', 40.8939, -83.8917, '2019-11-08', 0, '12:14', '22:24', 1],
  [
    '69.5 N 19 E, US Naval Observatory as quoted on a question page',
    69.5,
    19,
    '2014-04-01',
    60,
    '04:50',
    '18:49',
    3,
  ],
  ['69.5 N 19 E, the same', 69.5, 19, '2014-04-30', 60, '02:29', '20:58', 3],
  ['Sydney, recomputed with PyEphem 4.1.4', -33.87, 151.21, '2024-06-21', 600, '07:00', '16:54', 1],
  ['Auckland, recomputed with PyEphem 4.1.4', -36.85, 174.76, '2024-12-21', 780, '05:58', '20:40', 1],
  ['Auckland, recomputed with PyEphem 4.1.4', -36.85, 174.76, '2024-06-21', 720, '07:34', '17:12', 1],
  ['Ushuaia, recomputed with PyEphem 4.1.4', -54.8, -68.3, '2024-06-21', -180, '09:59', '17:12', 2],
];

const minutes = (time: string): number => Number(time.slice(0, 2)) * 60 + Number(time.slice(3));

function dayOf(lat: number, lon: number, date: string, offsetMin: number) {
  const [y, m, d] = date.split('-').map(Number) as [number, number, number];
  const from = dayFromParts(y, m, d) * 1440 - offsetMin;
  return lightSpans({ lat, lon }, from, from + 1440).map(
    (span) => [span.fromMin - from, span.toMin - from] as const,
  );
}

describe('daylight', () => {
  it.each(ROWS)('%s', (_, lat, lon, date, offsetMin, rise, set, tolerance) => {
    const spans = dayOf(lat, lon, date, offsetMin);
    expect(spans).toHaveLength(1);
    const [from, to] = spans[0] as readonly [number, number];
    expect(Math.abs(from - minutes(rise as string))).toBeLessThanOrEqual(tolerance);
    expect(Math.abs(to - minutes(set as string))).toBeLessThanOrEqual(tolerance);
  });

  it('gives the length of the day in London: 7 h 55 and 9 h 06 in an almanac table', () => {
    const lengths = ['2024-01-01', '2024-01-31'].map((date) => {
      const [from, to] = dayOf(51.51, -0.13, date, 0)[0] as readonly [number, number];
      return Math.round(to - from);
    });
    expect(Math.abs((lengths[0] as number) - (7 * 60 + 55))).toBeLessThanOrEqual(1);
    expect(Math.abs((lengths[1] as number) - (9 * 60 + 6))).toBeLessThanOrEqual(1);
  });

  it('answers with the whole day in the polar day and with nothing in the polar night', () => {
    // Documents of Skyfield: 89 N 80 W has no rise and no set on 12 September 2018, and the sun is up.
    expect(dayOf(89, -80, '2018-09-12', 0)).toEqual([[0, 1440]]);
    // Recomputed with PyEphem 4.1.4: 69.65 N 18.96 E.
    expect(dayOf(69.65, 18.96, '2024-12-21', 60)).toEqual([]);
    expect(dayOf(69.65, 18.96, '2024-06-21', 60)).toEqual([[0, 1440]]);
  });

  it('knows a sun that sets after midnight: Reykjavik in June, 02:55 and 00:04 (recomputed with PyEphem 4.1.4)', () => {
    const spans = dayOf(64.147, -21.94, '2024-06-21', 0);
    expect(spans).toHaveLength(2);
    expect(Math.abs((spans[0] as readonly [number, number])[1] - 4)).toBeLessThanOrEqual(3);
    expect(Math.abs((spans[1] as readonly [number, number])[0] - 175)).toBeLessThanOrEqual(3);
  });

  it('knows the last set before the midnight sun: Longyearbyen, 18 April 2016 at 00:32, up again at 01:20 (a local paper)', () => {
    const [before, after] = dayOf(78.22, 15.65, '2016-04-18', 120);
    expect(Math.abs((before as readonly [number, number])[1] - 32)).toBeLessThanOrEqual(10);
    expect(Math.abs((after as readonly [number, number])[0] - 80)).toBeLessThanOrEqual(10);
  });
});

describe('the table of a year', () => {
  it.each([
    ['Halifax', 44.6, -63.6, -240],
    ['Kathmandu, three quarters of an hour off', 27.7, 85.3, 345],
    ['Stewart Island', -47, 168, 720],
    ['Tromso, with polar day and night', 69.65, 18.96, 60],
  ])('is within a minute of each date computed by itself: %s', (_, lat, lon, offsetMin) => {
    const table = lightTable({ lat, lon }, 2027, offsetMin);
    for (let day = 0; day < 365; day += 3) {
      const from = (dayFromParts(2027, 1, 1) + day) * 1440 - offsetMin;
      const spans = lightSpans({ lat, lon }, from, from + 1440).sort(
        (a, b) => b.toMin - b.fromMin - (a.toMin - a.fromMin),
      );
      const [rise, set] = spans[0] ? [spans[0].fromMin - from, spans[0].toMin - from] : [0, 0];
      const date = day < 59 ? day : day + 1;
      expect(Math.abs((table.fromMin[date] as number) - rise)).toBeLessThanOrEqual(1.1);
      expect(Math.abs((table.toMin[date] as number) - set)).toBeLessThanOrEqual(1.1);
    }
  });

  it('has an entry for 29 February in every year', () => {
    const table = lightTable({ lat: 45, lon: 0 }, 2027, 0);
    expect(table.fromMin[dateOfYear(2, 29)]).toBe(table.fromMin[dateOfYear(2, 28)]);
  });
});
