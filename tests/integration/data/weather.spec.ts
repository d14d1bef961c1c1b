// Hours of records and forecasts on a real PostgreSQL: what goes in comes out, the same twice changes nothing.
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import {
  listIssues,
  pruneForecasts,
  readForecast,
  storeForecast,
  yearsOfForecast,
} from '../../../libs/data/src/weather/forecasts.repository.ts';
import { readRecord, storeRecord } from '../../../libs/data/src/weather/observations.repository.ts';
import {
  ensureSeries,
  type SeriesFacts,
  seriesFingerprint,
  seriesYears,
  type WeatherSeries,
} from '../../../libs/data/src/weather/series.repository.ts';
import { ensureWeatherYears } from '../../../libs/data/src/weather/weather-columns.ts';
import {
  contentKey,
  countWindows,
  forgetWindows,
  keepWindow,
  readWindows,
} from '../../../libs/data/src/weather/window-cache.repository.ts';
import { addMinutes, type Instant } from '../../../libs/kernel/src/index.ts';
import {
  type Forecast,
  type HourlyRecord,
  type HoursFrom,
  recordOf,
} from '../../../libs/weather/src/index.ts';
import { actor, openStage, type Stage } from './stage.ts';

let stage: Stage;
let made = 0;
beforeAll(async () => {
  stage = await openStage();
}, 60_000);
afterAll(() => stage.close());

const place = { name: 'Invented Head', lat: 44.65, lon: -63.57, elevationM: 30 };

function record(start: string, hours: HoursFrom['hours'], changes: Partial<HoursFrom> = {}): HourlyRecord {
  return recordOf({
    place,
    source: 'made for a test',
    standardOffsetMin: -240,
    typicalYear: false,
    start,
    hours,
    ...changes,
  });
}
async function series(changes: Partial<SeriesFacts> = {}): Promise<WeatherSeries> {
  made += 1;
  const facts: SeriesFacts = {
    organisationId: stage.organisationId,
    key: `station.s${made}`,
    kind: 'record',
    name: place.name,
    lat: place.lat,
    lon: place.lon,
    elevationM: place.elevationM,
    zone: 'America/Halifax',
    source: 'made for a test',
    standardOffsetMin: -240,
    typicalYear: false,
    ...changes,
  };
  return stage.db.transaction((tx) => ensureSeries(tx, facts, actor));
}
const yearsOf = async (of: WeatherSeries) => (await seriesYears(stage.db, [of.id])).get(of.id) ?? [];
const fingerprint = async (of: WeatherSeries) => seriesFingerprint(of, await yearsOf(of));

describe('the record of a series', () => {
  const mild = { tempC: 12.5, dewPointC: 9.1, rainMm: 0.2, windMps: 3.3, gustMps: 7.7, thunder: false };

  it('comes back as it went in, over the turn of the year, missing as missing, gaps as gaps', async () => {
    const of = await series();
    const given = record('1999-12-31T18', [
      mild,
      { rainMm: 0 },
      null,
      { thunder: true, windMps: 11.25 },
      {},
      mild,
    ]);
    expect(await storeRecord(stage.db, { series: of, record: given })).toEqual({
      added: 5,
      changed: 0,
      same: 0,
      removed: 0,
    });
    expect(await readRecord(stage.db, { series: of })).toEqual(given);
    // 18:00 on a clock four hours behind UTC is 22:00 UTC: two hours of 1999, then a gap, then the rest of 2000.
    const { db } = stage;
    const parts = await db.client.$queryRaw<{ part: string; hours: number }[]>`
      SELECT tableoid::regclass::text AS part, count(*)::int AS hours FROM weather_observations
      WHERE series_id = ${of.id}::uuid GROUP BY 1 ORDER BY 1`;
    expect(parts).toEqual([
      { part: 'weather_parts.observations_1999', hours: 2 },
      { part: 'weather_parts.observations_2000', hours: 3 },
    ]);
    expect(await yearsOf(of)).toMatchObject([
      { year: 1999, hours: 2, gaps: 0, rainHours: 2, windHours: 1, gustHours: 1 },
      { year: 2000, hours: 3, gaps: 0, rainHours: 1, windHours: 2, gustHours: 1 },
    ]);
  });

  it('is read in part by moments, and on a clock of half hours', async () => {
    const of = await series({ standardOffsetMin: 330, zone: 'Asia/Kolkata' });
    const given = record('2020-06-01T00', [mild, { rainMm: 1 }, { rainMm: 2 }], { standardOffsetMin: 330 });
    await storeRecord(stage.db, { series: of, record: given });
    expect((await readRecord(stage.db, { series: of })).hourIndex).toEqual(given.hourIndex);
    // 01:00 at +5:30 is 19:30 UTC of the day before.
    const from = '2020-05-31T19:30:00.000Z' as Instant;
    const part = await readRecord(stage.db, { series: of, from, to: addMinutes(from, 60) });
    expect([...part.rainMm]).toEqual([1]);
    const otherClock = record('2020-06-01T00', [mild]);
    await expect(storeRecord(stage.db, { series: of, record: otherClock })).rejects.toMatchObject({
      code: 'invalid-input',
    });
  });

  it('that comes twice changes nothing; what is new is counted, and a missing value wipes nothing', async () => {
    const of = await series();
    const hours = Array.from({ length: 48 }, (_, at) => ({ ...mild, rainMm: at / 10 }));
    await storeRecord(stage.db, { series: of, record: record('2021-03-01', hours) });
    const before = await fingerprint(of);
    expect(await storeRecord(stage.db, { series: of, record: record('2021-03-01', hours) })).toEqual({
      added: 0,
      changed: 0,
      same: 48,
      removed: 0,
    });
    expect(await fingerprint(of)).toBe(before);
    const later = record('2021-03-02T22', [
      { ...mild, gustMps: null, rainMm: 5 },
      { gustMps: null },
      { tempC: 1 },
    ]);
    expect(await storeRecord(stage.db, { series: of, record: later })).toMatchObject({
      added: 1,
      changed: 1,
      same: 1,
    });
    const now = await readRecord(stage.db, { series: of, from: '2021-03-03T02:00:00.000Z' as Instant });
    expect([...now.rainMm]).toEqual([5, Math.fround(4.7), Number.NaN]);
    expect([...now.gustMps]).toEqual([Math.fround(7.7), Math.fround(7.7), Number.NaN]);
    expect(await fingerprint(of)).not.toBe(before);
  });

  it('has a fingerprint of its content alone: the order in which it came does not matter', async () => {
    const [one, two] = [await series(), await series()];
    const [first, second] = [record('2022-01-01', [mild, mild]), record('2022-01-01T02', [{ rainMm: 3 }])];
    for (const part of [first, second]) await storeRecord(stage.db, { series: one, record: part });
    for (const part of [second, first]) await storeRecord(stage.db, { series: two, record: part });
    expect(await fingerprint(one)).toBe(await fingerprint(two));
  });

  it('can be replaced, which also lets a made-up year give way to real ones', async () => {
    const of = await series({ typicalYear: true });
    await storeRecord(stage.db, {
      series: of,
      record: record('2003-05-01', [mild, mild], { typicalYear: true }),
    });
    const real = record('2024-05-01', [{ rainMm: 1 }]);
    await expect(storeRecord(stage.db, { series: of, record: real })).rejects.toMatchObject({
      code: 'invalid-input',
      data: { field: 'typicalYear' },
    });
    expect(await storeRecord(stage.db, { series: of, record: real, replace: true })).toEqual({
      added: 1,
      changed: 0,
      same: 0,
      removed: 2,
    });
    expect((await yearsOf(of)).map(({ year }) => year)).toEqual([2024]);
  });

  it('of a year that nobody had before may come from several at once', async () => {
    const [one, two] = [await series(), await series()];
    const given = record('1951-05-01', [mild]);
    const stored = await Promise.all(
      [one, two].map((of) => storeRecord(stage.db, { series: of, record: given })),
    );
    expect(stored.map(({ added }) => added)).toEqual([1, 1]);
  });

  it('of ten years goes in and out whole', async () => {
    const of = await series();
    const hours = 10 * 8766;
    const start = record('2014-01-01', [mild]).hourIndex[0] as number;
    const float = (of: (at: number) => number) => Float32Array.from({ length: hours }, (_, at) => of(at));
    const given: HourlyRecord = {
      ...record('2014-01-01', [mild]),
      hourIndex: Int32Array.from({ length: hours }, (_, at) => start + at),
      tempC: float((at) => at % 30),
      dewPointC: float(() => Number.NaN),
      rainMm: float((at) => (at % 7 === 0 ? at / 1000 : 0)),
      windMps: float((at) => (at % 100) / 7),
      gustMps: float(() => Number.NaN),
      thunder: new Int8Array(hours).fill(-1),
    };
    const seen: number[] = [];
    const stored = await storeRecord(stage.db, {
      series: of,
      record: given,
      onProgress: (done) => seen.push(done),
    });
    expect(stored).toMatchObject({ added: hours, changed: 0 });
    expect(seen.at(-1)).toBe(hours);
    const back = await readRecord(stage.db, { series: of });
    expect(back.hourIndex).toEqual(given.hourIndex);
    expect(back.windMps).toEqual(given.windMps);
    expect(back.rainMm).toEqual(given.rainMm);
  }, 120_000);
});

describe('forecasts of a series', () => {
  const forecast = (issuedAt: string, rains: readonly number[], start = '2026-06-08T00'): Forecast => ({
    source: 'made for a test',
    issuedAt: issuedAt as Instant,
    members: rains.map((rainMm) =>
      record(start, [{ rainMm, windMps: 4 }, { rainMm: 0 }], { standardOffsetMin: 0 }),
    ),
  });
  const store = async (of: WeatherSeries, given: Forecast) => {
    await ensureWeatherYears(stage.db, yearsOfForecast(given));
    const fetchedAt = addMinutes(given.issuedAt, 30);
    return stage.db.transaction((tx) => storeForecast(tx, { seriesId: of.id, forecast: given, fetchedAt }));
  };

  it('are kept once each, with their members, and read as they were issued', async () => {
    const of = await series({ kind: 'forecast', standardOffsetMin: 0 });
    const given = forecast('2026-06-07T06:00:00.000Z', [1, 2, 3]);
    expect(await store(of, given)).toBe(true);
    await store(of, forecast('2026-06-07T06:00:00.000Z', [9, 9, 9]));
    const back = await readForecast(stage.db, { series: of, issuedAt: given.issuedAt });
    expect(back).toEqual(given);
    const oneHour = {
      from: '2026-06-08T01:00:00.000Z' as Instant,
      to: '2026-06-08T02:00:00.000Z' as Instant,
    };
    const part = await readForecast(stage.db, { series: of, issuedAt: given.issuedAt, ...oneHour });
    expect(part?.members.map((member) => [...member.rainMm])).toEqual([[0], [0], [0]]);
    expect(await store(of, { ...given, members: [] })).toBe(false);
  });

  it('are found by when they were issued and which hours they are about', async () => {
    const of = await series({ kind: 'forecast', standardOffsetMin: 0 });
    for (const at of ['2026-06-06T00:00:00.000Z', '2026-06-07T00:00:00.000Z', '2026-06-07T12:00:00.000Z']) {
      await store(of, forecast(at, [1]));
    }
    const found = async (query: object) =>
      (await listIssues(stage.db, { seriesIds: [of.id], ...query })).map(({ issuedAt }) =>
        issuedAt.slice(5, 13),
      );
    expect(await found({})).toEqual(['06-07T12', '06-07T00', '06-06T00']);
    expect(await found({ issuedBy: '2026-06-07T00:00:00.000Z', limit: 1 })).toEqual(['06-07T00']);
    expect(await found({ from: '2026-06-08T01:30:00.000Z', to: '2026-06-09T00:00:00.000Z' })).toHaveLength(3);
    expect(await found({ from: '2026-06-08T02:00:00.000Z' })).toEqual([]);
    expect(await found({ to: '2026-06-08T00:00:00.000Z' })).toEqual([]);
  });

  it('that are old are thinned to the first of each day, and dropped after three years', async () => {
    const of = await series({ kind: 'forecast', standardOffsetMin: 0 });
    const moments = [
      '2023-05-01T00:00:00.000Z',
      '2026-06-07T00:00:00.000Z',
      '2026-06-07T12:00:00.000Z',
      '2026-06-20T00:00:00.000Z',
      '2026-06-20T12:00:00.000Z',
    ];
    for (const at of moments) await store(of, forecast(at, [1, 2]));
    await pruneForecasts(stage.db, '2026-06-25T00:00:00.000Z' as Instant);
    const left = await listIssues(stage.db, { seriesIds: [of.id] });
    expect(left.map(({ issuedAt }) => issuedAt)).toEqual([moments[4], moments[3], moments[1]]);
    const rows = await stage.db.client.weatherForecast.count({ where: { seriesId: of.id } });
    expect(rows).toBe(3 * 2 * 2);
  });
});

describe('what was computed from a series', () => {
  const now = '2026-06-01T00:00:00.000Z' as Instant;

  it('is kept by its content, once, and thrown away when nobody used it for long', async () => {
    const of = await series();
    const key = contentKey({ series: 'abc', limits: { gustMps: 9 } });
    expect(contentKey({ limits: { gustMps: 9 }, series: 'abc' })).toBe(key);
    expect(contentKey({ limits: { gustMps: 10 }, series: 'abc' })).not.toBe(key);
    const keep = (result: unknown) =>
      keepWindow(stage.db, { contentKey: key, seriesId: of.id, kind: 'odds-by-date', result, now });
    await keep({ days: [1, 2] });
    await keep({ days: [3] });
    const read = (at: Instant) => readWindows(stage.db, { contentKeys: [key, contentKey('other')], now: at });
    expect(await read(now)).toEqual(new Map([[key, { days: [1, 2] }]]));
    expect(await countWindows(stage.db, [of.id])).toEqual(new Map([[of.id, 1]]));
    const later = addMinutes(now, 10 * 1440);
    await read(later);
    expect(await forgetWindows(stage.db, addMinutes(now, 5 * 1440))).toBe(0);
    expect(await forgetWindows(stage.db, addMinutes(later, 1))).toBe(1);
  });
});
