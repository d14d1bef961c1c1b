// Sites with a visit within reach get their forecasts from a service of our own on this machine; a worker that dies loses nothing.
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, jest } from '@jest/globals';
import { readConfig } from '../../../apps/worker/src/config.ts';
import { forecastSourcesOf } from '../../../apps/worker/src/forecast-sources.ts';
import { retryAt, weatherFetchHandler } from '../../../apps/worker/src/jobs/weather-fetch.handler.ts';
import { weatherFeedsSweep } from '../../../apps/worker/src/sweeps/weather-feeds.sweep.ts';
import { startWorker } from '../../../apps/worker/src/worker.ts';
import { claimFeed } from '../../../libs/data/src/weather/feeds.repository.ts';
import { listIssues, readForecast } from '../../../libs/data/src/weather/forecasts.repository.ts';
import { findSeries } from '../../../libs/data/src/weather/series.repository.ts';
import { weatherStatus } from '../../../libs/data/src/weather/weather-status.ts';
import { addMinutes, type Clock, type Instant } from '../../../libs/kernel/src/index.ts';
import type { JobRun } from '../../../libs/queue/src/queue.port.ts';
import { hill, openStage, publish, type Stage } from '../data/stage.ts';
import { ensembleAnswer, type ForecastServer, metAnswer, startForecastServer } from './forecast-server.ts';
import { recordedLog, until } from './worker-bench.ts';

jest.setTimeout(120_000);

const start = '2026-06-03T06:00:00.000Z' as Instant;
const KEY = 'forecast.met-norway.45.0000.-64.0000';
const { log, lines } = recordedLog();
let stage: Stage;
let service: ForecastServer;
let now: Instant;
const clock: Clock = { now: () => now };
const run = { signal: new AbortController().signal } as JobRun;

const config = () =>
  readConfig({
    DATABASE_URL: stage.url,
    DRYSPELL_PUBLIC_URL: 'https://plan.example.org',
    DRYSPELL_SECRET: 'a-secret-of-the-test-that-is-long-enough',
    DRYSPELL_FORECAST_MET_URL: service.url,
    DRYSPELL_FORECAST_CONTACT: 'office@example.org',
  });
const later = (minutes: number) => {
  now = addMinutes(now, minutes);
};
const common = () => ({ db: stage.db, clock, log, sources: forecastSourcesOf(config().forecasts, clock) });
const sweep = () => weatherFeedsSweep({ ...common(), reachDays: 10 }).run();
const handle = (feedId: string) => weatherFetchHandler({ ...common(), random: () => 0.5 })({ feedId }, run);
const jobs = async () =>
  (
    await stage.db.client.outboxRow.findMany({ where: { topic: 'weather.fetch' }, orderBy: { id: 'asc' } })
  ).map(({ payload }) => (payload as { feedId: string }).feedId);
const feed = () => stage.db.client.weatherFeed.findFirstOrThrow();
const series = async () => {
  const [found] = await findSeries(stage.db, { organisationId: stage.organisationId, keys: [KEY] });
  if (!found) throw new Error('there is no series');
  return found;
};
const words = async () => {
  const all = await weatherStatus(stage.db, { organisationId: stage.organisationId, now });
  return all.find((each) => each.series.key === KEY)?.words;
};

beforeAll(async () => {
  service = await startForecastServer();
});
afterAll(() => service.stop());
beforeEach(async () => {
  now = start;
  stage = await openStage();
  await stage.db.client.site.updateMany({ where: { key: 'hill' }, data: { lat: 45, lon: -64 } });
  (service.asked as unknown[]).length = 0;
  service.answer = () => ({
    status: 200,
    headers: { expires: 'Wed, 03 Jun 2026 06:40:00 GMT', 'last-modified': 'Wed, 03 Jun 2026 05:30:00 GMT' },
    body: metAnswer('2026-06-03T05:00:00.000Z' as Instant, 60, { rainMm: 1.5, gustMps: 11 }),
  });
}, 60_000);
afterEach(() => stage.close());

describe('feeds of forecasts', () => {
  it('are made for sites with a visit within reach, and asked for once until they are due again', async () => {
    await sweep();
    expect(await jobs()).toEqual([]);
    await publish(stage, [hill]);
    await sweep();
    await sweep();
    const asked = await jobs();
    expect(asked).toHaveLength(1);
    await handle(asked[0] as string);
    await sweep();
    expect(await jobs()).toHaveLength(1);
    expect(service.asked[0]?.url).toBe('/complete?lat=45&lon=-64');
    expect(service.asked[0]?.headers['user-agent']).toBe('Dryspell/1 office@example.org');
    later(50);
    await sweep();
    expect(await jobs()).toHaveLength(2);
  });

  it('are not made for a visit that is far away, called off, or over', async () => {
    await publish(stage, [
      { ...hill, days: ['2026-07-08', '2026-07-09'], reserve: ['2026-07-10'], deliveryDay: '2026-07-06' },
    ]);
    await sweep();
    expect(await jobs()).toEqual([]);
    now = '2026-07-01T06:00:00.000Z' as Instant;
    await stage.db.client.visit.updateMany({ data: { state: 'cancelled' } });
    await sweep();
    expect(await jobs()).toEqual([]);
    await stage.db.client.visit.updateMany({ data: { state: 'planned' } });
    await sweep();
    expect(await jobs()).toHaveLength(1);
    now = '2026-07-13T06:00:00.000Z' as Instant;
    await sweep();
    expect(await jobs()).toHaveLength(1);
  });

  it('keep what was issued, send back what they were told, and bear running twice', async () => {
    await publish(stage, [hill]);
    await sweep();
    const [id] = (await jobs()) as [string];
    await handle(id);
    await handle(id);
    expect(service.asked).toHaveLength(1);
    const of = await series();
    const stored = await readForecast(stage.db, {
      series: of,
      issuedAt: '2026-06-03T05:00:00.000Z' as Instant,
    });
    expect(stored?.members).toHaveLength(1);
    expect(stored?.members[0]?.hourIndex).toHaveLength(60);
    expect([stored?.members[0]?.rainMm[0], stored?.members[0]?.gustMps[0]]).toEqual([1.5, 11]);
    expect(await words()).toMatch(/^forecast of 2026-06-03 05:00 UTC; next try 2026-06-03 06:4/);
    later(60);
    service.answer = () => ({ status: 304, headers: { expires: 'Wed, 03 Jun 2026 07:40:00 GMT' } });
    await sweep();
    await handle(id);
    expect(service.asked[1]?.headers['if-modified-since']).toBe('Wed, 03 Jun 2026 05:30:00 GMT');
    expect(await listIssues(stage.db, { seriesIds: [of.id] })).toHaveLength(1);
    expect(await feed()).toMatchObject({
      tries: 0,
      fault: null,
      lastModified: 'Wed, 03 Jun 2026 05:30:00 GMT',
    });
  });

  it('that fail say why, wait longer each time, and say since when there is none', async () => {
    await publish(stage, [hill]);
    await sweep();
    const [id] = (await jobs()) as [string];
    service.answer = () => ({ status: 403 });
    await handle(id);
    expect(await feed()).toMatchObject({
      tries: 1,
      nextDueAt: new Date('2026-06-03T06:05:00Z'),
      lastGoodAt: null,
    });
    expect(await words()).toMatch(/^no forecast yet: .* answered 403/);
    later(6);
    await sweep();
    await handle(id);
    expect(await feed()).toMatchObject({ tries: 2, nextDueAt: new Date('2026-06-03T06:16:00Z') });
    service.answer = () => ({
      status: 200,
      body: metAnswer('2026-06-03T06:00:00.000Z' as Instant, 20, { rainMm: 0, gustMps: 3 }),
    });
    later(15);
    await sweep();
    await handle(id);
    expect(await feed()).toMatchObject({ tries: 0, fault: null, faultSince: null });
    service.answer = () => ({ status: 200, body: '{"type": "Fea' });
    later(13 * 60);
    await handle(id);
    expect(await words()).toMatch(
      /^no forecast since 2026-06-03 06:21 UTC; the last try failed: .* cannot be read/,
    );
    expect(await listIssues(stage.db, { seriesIds: [(await series()).id] })).toHaveLength(1);
  });

  it('that a dead worker had in hand are fetched by another', async () => {
    await publish(stage, [hill]);
    await sweep();
    const [id] = (await jobs()) as [string];
    expect(await claimFeed(stage.db, { id, now, holdMin: 3 })).not.toBeNull();
    await handle(id);
    expect(service.asked).toHaveLength(0);
    later(11);
    await sweep();
    expect(await jobs()).toEqual([id, id]);
    await handle(id);
    expect(await listIssues(stage.db, { seriesIds: [(await series()).id] })).toHaveLength(1);
  });

  it('are fetched by a running worker without anybody asking', async () => {
    await publish(stage, [hill]);
    const worker = await startWorker(config(), log, clock);
    try {
      const done = async () => (await stage.db.client.weatherForecastIssue.count()) === 1;
      await until('the forecast is there', done, 60_000);
    } finally {
      await worker.stop();
    }
    // The messages of this small season lack what they need; that is another test's matter.
    expect(lines.filter(({ level, delivery }) => level >= 50 && delivery === undefined)).toEqual([]);
  });

  it('of an ensemble keep every member, beside those of the other service', async () => {
    await publish(stage, [hill]);
    const url = service.url.replace('/complete', '/v1/ensemble');
    const ensemble = { url, model: 'gfs_seamless', apiKey: undefined };
    const both = forecastSourcesOf({ ...config().forecasts, ensemble }, clock);
    service.answer = (request) => ({
      status: 200,
      body: request.url?.startsWith('/v1/')
        ? ensembleAnswer(start, 30, [0, 0.4, 2])
        : metAnswer(start, 30, { rainMm: 1, gustMps: 8 }),
    });
    await weatherFeedsSweep({ db: stage.db, clock, log, sources: both, reachDays: 10 }).run();
    const handler = weatherFetchHandler({ db: stage.db, sources: both, clock, random: () => 0.5, log });
    for (const feedId of await jobs()) await handler({ feedId }, run);
    const keys = [KEY, KEY.replace('met-norway', 'open-meteo')];
    const [met, open] = await findSeries(stage.db, { organisationId: stage.organisationId, keys });
    expect(open?.source).toBe('Ensemble gfs_seamless by Open-Meteo.com (CC BY 4.0)');
    const [issue] = await listIssues(stage.db, { seriesIds: [open?.id as string] });
    expect(issue).toMatchObject({ members: 3, issuedAt: start });
    const stored = await readForecast(stage.db, {
      series: open as NonNullable<typeof open>,
      issuedAt: start,
    });
    expect(stored?.members.map(({ rainMm }) => rainMm[0])).toEqual([0, Math.fround(0.4), 2]);
    expect(await listIssues(stage.db, { seriesIds: [met?.id as string] })).toHaveLength(1);
  });

  it('are wanted for longer when a visit moves back, and wake up when one comes after a rest', async () => {
    await publish(stage, [hill]);
    await sweep();
    await handle((await jobs())[0] as string);
    const until = async (day: string) => {
      await stage.db.client.visit.updateMany({
        data: { startDay: new Date(day), endDay: new Date(day), releaseDay: new Date(day) },
      });
      await sweep();
      return (await feed()).wantedUntil.toISOString().slice(0, 10);
    };
    expect(await until('2026-06-12')).toBe('2026-06-12');
    expect(await until('2026-06-11')).toBe('2026-06-12');
    now = '2026-08-01T06:00:00.000Z' as Instant;
    await sweep();
    expect(await jobs()).toHaveLength(1);
    expect(await until('2026-08-05')).toBe('2026-08-05');
    expect(await jobs()).toHaveLength(2);
  });

  it('are not fetched at all where no service is set up', async () => {
    await publish(stage, [hill]);
    const none = { ...config().forecasts, metUrl: null };
    await weatherFeedsSweep({
      db: stage.db,
      clock,
      log,
      sources: forecastSourcesOf(none, clock),
      reachDays: 10,
    }).run();
    expect(await stage.db.client.weatherFeed.count()).toBe(0);
  });
});

describe('the wait after a failure', () => {
  it('doubles up to six hours, differs by chance, and never cuts short what the service asks for', () => {
    const wait = (tries: number, chance = 0.5, retryAfter: Instant | null = null) =>
      (Date.parse(retryAt({ now: start, tries, retryAfter, chance })) - Date.parse(start)) / 60_000;
    expect([1, 2, 3, 4].map((tries) => wait(tries))).toEqual([5, 10, 20, 40]);
    expect(wait(30)).toBe(360);
    expect([wait(1, 0), wait(1, 0.999)]).toEqual([3.75, expect.closeTo(6.2475, 3)]);
    expect(wait(1, 0.5, addMinutes(start, 90))).toBe(90);
    expect(wait(3, 0.5, addMinutes(start, 1))).toBe(20);
  });
});
