import { describe, expect, it } from '@jest/globals';
import { type SeasonFileChanges, seasonFile } from '../../../../tests/builders/season-file.ts';
import type { SeasonFile } from '../../../contracts/src/index.ts';
import {
  type HourlyRecord,
  hourIndexOf,
  hourOfDay,
  localDateOfHour,
  recordOf,
} from '../../../weather/src/index.ts';
import {
  buildSeasonProblem,
  computeWindow,
  jobWork,
  templateWork,
  type WindowNeed,
  type WindowTables,
  windowNeeds,
} from '../index.ts';

const step = (template: string, key: string, dayNumber: number, gustLimitMps: number, outside = true) => ({
  template,
  key,
  name: key,
  dayNumber,
  durationMin: 300,
  minHands: 2,
  maxHands: 3,
  outside,
  interruptible: false,
  holdPoint: false,
  needsDaylight: false,
  gustLimitMps,
  rainLimitMmPerHour: 0.1,
});
const season = (changes: SeasonFileChanges = {}): SeasonFile =>
  seasonFile({
    steps: [
      step('wren-build', 'shell', 1, 10),
      step('wren-build', 'wire', 2, 0, false),
      step('heron-build', 'lift', 1, 8),
    ],
    stepPrecedence: [],
    stepTickets: [],
    stepEquipment: [],
    ...changes,
  });
const jobOf = (file: SeasonFile, key: string) => {
  const job = file.jobs.find((row) => row.key === key);
  if (!job) throw new Error(`no job ${key}`);
  return job;
};
const recordOfSite = new Map([['gull-point', 'station.gull']]);

/** Hours of some years on the clock of Halifax in winter: dry and calm but for what `windAt` says. */
function record(
  years: readonly number[],
  windAt: (hour: number, dayOfMonth: number, year: number) => number,
): HourlyRecord {
  const first = hourIndexOf(years[0] as number, 1, 1, 0);
  const end = hourIndexOf((years.at(-1) as number) + 1, 1, 1, 0);
  const place = { name: 'Gull', lat: 44.65, lon: -63.57, elevationM: 3 };
  const hours = Array.from({ length: end - first }, (_, at) => {
    const { year, dayOfMonth } = localDateOfHour(first + at);
    return { tempC: 15, dewPointC: 5, rainMm: 0, windMps: windAt(hourOfDay(first + at), dayOfMonth, year) };
  });
  return recordOf({
    place,
    source: 'invented',
    standardOffsetMin: -240,
    typicalYear: false,
    start: `${years[0]}-01-01`,
    hours,
  });
}

describe('the outside work of a job', () => {
  it('is that of its template up to the last outside day', () => {
    const work = jobWork(season(), jobOf(season(), 'gull-point'));
    expect(work?.work).toHaveLength(1);
    expect(work?.work[0]?.steps.map(({ key, limits }) => [key, limits.gustMps])).toEqual([['shell', 10]]);
    expect(work?.longestHours).toBe(9);
    expect(templateWork(season(), 'wren-build', 'wren')?.work).toEqual(work?.work);
  });

  it('of several kits in one day asks for all their steps, and for the strictest night', () => {
    const kits = season().kits.map((kit, at) => ({ ...kit, makeSafeGustMps: at === 0 ? 18 : 12 }));
    const jobKits = [
      { job: 'gull-point', kit: 'wren', count: 1 },
      { job: 'gull-point', kit: 'heron', count: 1 },
      ...season().jobKits.filter((row) => row.job !== 'gull-point'),
    ];
    const file = season({ kits, jobKits });
    const apart = jobWork(file, jobOf(file, 'gull-point'));
    expect(apart?.work.map((day) => day?.steps.map(({ key }) => key))).toEqual([['shell'], ['lift']]);
    const shared = jobWork(file, jobOf(file, 'gull-point'), 19);
    expect(shared?.work.map((day) => day?.steps.map(({ key }) => key))).toEqual([
      ['shell, kit 1', 'lift, kit 2'],
    ]);
    const safe = file.jobKits
      .filter(({ job }) => job === 'gull-point')
      .map(({ kit }) => kits.find(({ key }) => key === kit)?.makeSafeGustMps);
    expect(shared?.work[0]?.makeSafeGustMps).toBe(Math.min(...(safe as number[])));
    expect(shared?.longestHours).toBe(18.5);
  });
});

describe('the odds that a season wants', () => {
  it('are one for jobs that ask for the same at the same site, and none without a record', () => {
    const twin = { ...jobOf(season(), 'gull-point'), key: 'gull-point-2' };
    const file = season({
      jobs: [...season().jobs, twin],
      jobKits: [
        ...season().jobKits,
        ...season()
          .jobKits.filter(({ job }) => job === 'gull-point')
          .map((row) => ({ ...row, job: twin.key })),
      ],
    });
    const needs = windowNeeds(file, { recordOfSite });
    expect(needs.map(({ jobs, site, record: of }) => [jobs, site, of])).toEqual([
      [['gull-point', 'gull-point-2'], 'gull-point', 'station.gull'],
    ]);
    expect(needs[0]?.content).toMatchObject({
      year: 2027,
      shift: { from: '08:00', to: '19:00', zone: 'America/Halifax' },
    });
    expect(windowNeeds(file, { recordOfSite: new Map() })).toEqual([]);
  });

  it('are other content when anything changes that they depend on', () => {
    const text = (file: SeasonFile, options = {}) =>
      JSON.stringify(windowNeeds(file, { recordOfSite, ...options })[0]?.content);
    const as = text(season());
    expect(text(season({ season: { name: 'Other name' } }))).toBe(as);
    expect(text(season({ steps: [step('wren-build', 'shell', 1, 11)] }))).not.toBe(as);
    expect(text(season({ season: { workdayStart: '06:30' } }))).not.toBe(as);
    expect(text(season(), { reserveConfidence: 0.9 })).not.toBe(as);
    expect(text(season(), { inARow: true })).not.toBe(as);
  });
});

describe('odds from a record', () => {
  const [need] = windowNeeds(season(), { recordOfSite }) as [WindowNeed];

  it('are those of its days: gusts of each third day stop the shell, in working hours only', () => {
    // Mean wind 8 m/s x 1.4 = 11.2 m/s of gust, above the 10 m/s of the shell; at night it stops nobody.
    const windy = record([2019, 2020, 2021], (hour, day) =>
      day % 3 === 0 && hour >= 6 && hour < 20 ? 8 : 2,
    );
    const { rows, reserveDays, basis, years } = computeWindow(need.content, windy);
    expect(rows).toHaveLength(366);
    // Around 15 June, 8 to 22: the days 9, 12, 15, 18 and 21 of fifteen.
    const june = rows[166];
    expect([june?.month, june?.dayOfMonth, june?.goodShare]).toEqual([6, 15, expect.closeTo(10 / 15, 6)]);
    // One in three visits begins on a bad day and loses just that one.
    expect(june?.lostMean).toBeCloseTo(1 / 3, 1);
    expect(reserveDays[166]).toBe(1);
    expect(basis).toMatchObject({
      gustFactor: 1.4,
      gustEstimatedHours: basis.hours,
      typicalYear: false,
    });
    expect(years).toBe(3);
    const nights = record([2019, 2020], (hour) => (hour >= 6 && hour < 20 ? 2 : 12));
    expect(computeWindow(need.content, nights).rows[166]).toMatchObject({ goodShare: 1, lostMean: 0 });
    expect(JSON.parse(JSON.stringify(rows))).toEqual(rows);
  });

  it('become tables of the planner, which say where the weather came from', () => {
    const file = season();
    const result = computeWindow(
      need.content,
      record([2019, 2020, 2021], (_hour, day) => (day % 2 === 0 ? 12 : 2)),
    );
    const windowTables: WindowTables = {
      'gull-point': { id: 'abc', record: 'station.gull', result, warnings: need.warnings },
    };
    const { problem, warnings } = buildSeasonProblem(file, { windowTables });
    const job = problem.jobs.find(({ id }) => id === 'gull-point');
    expect(job?.weatherTable).toBe('record.abc');
    const table = problem.weatherTables['record.abc'];
    expect(table?.expectedLostDays).toHaveLength(problem.lastDay - problem.firstDay + 1);
    // 3 May to 30 July: one day in two is lost, and one held back is enough.
    expect(table?.expectedLostDays[40]).toBeCloseTo(0.5, 1);
    expect(new Set(table?.reserveDays)).toEqual(new Set([1]));
    expect(warnings.filter(({ code }) => code === 'weather-from-record')).toEqual([
      expect.objectContaining({
        table: 'weatherStations',
        key: 'gull',
        message: expect.stringMatching(
          /gull-point is counted from .* 3 years, gusts of 100 % .* 1\.4 times.*thunder is not in it/,
        ),
        data: { years: 3, typicalYear: 0, gustFactor: 1.4, gustEstimatedPct: 100 },
      }),
    ]);
    expect(warnings.some(({ code, key }) => code === 'weather-assumed' && key === 'gull-point')).toBe(false);
  });

  it('that do not cover the season give way to the monthly figures, and say so', () => {
    const place = { name: 'Gull', lat: 44.65, lon: -63.57, elevationM: 3 };
    const hours = Array.from({ length: 24 * 40 }, () => ({ tempC: 15, dewPointC: 5, rainMm: 0, windMps: 2 }));
    const short = recordOf({
      place,
      source: 'x',
      standardOffsetMin: -240,
      typicalYear: false,
      start: '2021-05-01',
      hours,
    });
    const result = computeWindow(need.content, short);
    const window = { id: 'abc', record: 'site.gull-point', result, warnings: [] };
    const { problem, warnings } = buildSeasonProblem(season(), { windowTables: { 'gull-point': window } });
    expect(problem.jobs.find(({ id }) => id === 'gull-point')?.weatherTable).toMatch(/^area\./);
    expect(warnings).toContainEqual(
      expect.objectContaining({ code: 'weather-record-short', table: 'sites', key: 'gull-point' }),
    );
    expect(warnings.some(({ code }) => code === 'weather-from-record')).toBe(false);
  });

  it('of rain that is noted as totals at night are not planned with, and say so', () => {
    const first = hourIndexOf(2021, 1, 1, 0);
    const place = { name: 'Gull', lat: 44.65, lon: -63.57, elevationM: 3 };
    // Each day's rain stands at six in the morning, as some stations note it.
    const hours = Array.from({ length: 24 * 365 }, (_, at) => ({
      tempC: 15,
      dewPointC: 5,
      windMps: 2,
      rainMm: hourOfDay(first + at) === 6 && at % 72 < 24 ? 4 : 0,
    }));
    const totals = recordOf({
      place,
      source: 'x',
      standardOffsetMin: -240,
      typicalYear: false,
      start: '2021-01-01',
      hours,
    });
    const result = computeWindow(need.content, totals);
    expect([result.rainAtFixedHours, result.rows[166]?.goodShare]).toEqual([true, 1]);
    const window = { id: 'abc', record: 'station.gull', result, warnings: [] };
    const { problem, warnings } = buildSeasonProblem(season(), { windowTables: { 'gull-point': window } });
    expect(problem.jobs.find(({ id }) => id === 'gull-point')?.weatherTable).toMatch(/^area\./);
    expect(warnings).toContainEqual(
      expect.objectContaining({
        code: 'weather-record-rain',
        message: expect.stringMatching(/odds are too good/),
      }),
    );
  });

  it('of an hour without rain are unknown, never good', () => {
    const place = { name: 'Gull', lat: 44.65, lon: -63.57, elevationM: 3 };
    const hours = Array.from({ length: 24 * 365 }, () => ({ tempC: 15, dewPointC: 5, windMps: 2 }));
    const dry = recordOf({
      place,
      source: 'x',
      standardOffsetMin: -240,
      typicalYear: false,
      start: '2021-01-01',
      hours,
    });
    const result = computeWindow(need.content, dry);
    expect(result.rows.every(({ goodShare, lostMean }) => goodShare === null && lostMean === null)).toBe(
      true,
    );
    expect(result.reserveDays.every((days) => days === null)).toBe(true);
  });
});
