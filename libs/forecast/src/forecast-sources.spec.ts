// Both sources against a server of our own on this machine: what services do well, and what goes wrong on the way.
import http from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, afterEach, beforeAll, describe, expect, it } from '@jest/globals';
import { fixedClock, type Instant, instantToMs } from '../../kernel/src/index.ts';
import { type Forecast, recordOf } from '../../weather/src/index.ts';
import { ensembleSource } from './ensemble.source.ts';
import type {
  FetchSurroundings,
  ForecastPlace,
  ForecastReader,
  ForecastSource,
} from './forecast-source.port.ts';
import { metLocationforecast } from './met-locationforecast.source.ts';

interface Reply {
  readonly status?: number;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string;
  /** Says nothing at all. */
  readonly silent?: boolean;
}

const now = '2026-06-01T06:00:00.000Z' as Instant;
const place: ForecastPlace = { name: 'Invented Head', lat: 44.648_812_3, lon: -63.575_277, elevationM: 30.4 };
const asked: http.IncomingMessage[] = [];
let replies: Reply[] = [];
let server: http.Server;
let base: string;

beforeAll(async () => {
  server = http.createServer((request, response) => {
    asked.push(request);
    const { status = 200, headers = {}, body = '', silent = false } = replies.shift() ?? { status: 500 };
    if (silent) return;
    response.writeHead(status, { 'content-type': 'application/json', ...headers });
    response.end(body);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  base = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
});
afterEach(() => {
  asked.length = 0;
  replies = [];
});
afterAll(async () => {
  server.closeAllConnections();
  await new Promise((resolve) => server.close(resolve));
});

const waits: number[] = [];
const around = (random = 0.5): FetchSurroundings => ({
  clock: fixedClock(now),
  random: () => random,
  pause: async (durationMs) => void waits.push(durationMs),
});

/** Stands in for the readers: one hour of rain as `{"rain": 1}`. */
const read: ForecastReader = (text, { place: { name, lat, lon, elevationM }, fetchedAt }): Forecast => {
  const { rain } = JSON.parse(text) as { rain?: number };
  const head = {
    place: { name, lat, lon, elevationM },
    source: 'made for a test',
    standardOffsetMin: 0,
    typicalYear: false,
  };
  const hours = rain === undefined ? [] : [{ rainMm: rain }];
  return {
    source: 'made for a test',
    issuedAt: fetchedAt,
    members: [recordOf({ ...head, start: '2026-06-01T07', hours })],
  };
};
const met = (random?: number, timeoutMs = 2_000): ForecastSource =>
  metLocationforecast(
    { url: `${base}/complete`, userAgent: 'Dryspell/test x@example.org', read, timeoutMs },
    around(random),
  );
const minutesAfter = (instant: Instant) => (instantToMs(instant) - instantToMs(now)) / 60_000;

describe('MET Norway as a source', () => {
  // Rules of the service: api.met.no, terms of service, "Identification", "Cache", "Bandwidth".
  it('is asked with who we are, four decimals and whole metres, and its forecast and headers are kept', async () => {
    replies = [
      {
        body: '{"rain": 1.5}',
        headers: {
          expires: 'Mon, 01 Jun 2026 06:40:00 GMT',
          'last-modified': 'Mon, 01 Jun 2026 05:58:11 GMT',
          etag: '"a"',
        },
      },
    ];
    const got = await met(0).fetch(place, null);
    expect(asked[0]?.url).toBe('/complete?lat=44.6488&lon=-63.5753&altitude=30');
    expect(asked[0]?.headers).toMatchObject({
      'user-agent': 'Dryspell/test x@example.org',
      accept: 'application/json',
    });
    expect(asked[0]?.headers['if-modified-since']).toBeUndefined();
    expect(got).toMatchObject({ state: 'new', etag: '"a"', lastModified: 'Mon, 01 Jun 2026 05:58:11 GMT' });
    expect(got.state === 'new' && [...(got.forecast.members[0]?.rainMm ?? [])]).toEqual([1.5]);
    expect(got.state === 'new' && got.nextFetchAfter).toBe('2026-06-01T06:40:00.000Z');
  });

  it('is sent the text of Last-Modified and the ETag back, and "unchanged" is an answer', async () => {
    const kept = { etag: '"a"', lastModified: 'Mon, 01 Jun 2026 05:58:11 GMT' };
    replies = [{ status: 304, headers: { expires: 'Mon, 01 Jun 2026 07:00:00 GMT' } }];
    const got = await met().fetch(place, kept);
    expect(asked[0]?.headers).toMatchObject({
      'if-none-match': '"a"',
      'if-modified-since': kept.lastModified,
    });
    // Half of the six minutes by which everybody is spread.
    expect(got).toEqual({ state: 'unchanged', ...kept, nextFetchAfter: '2026-06-01T07:03:00.000Z' });
  });

  it('is never asked sooner than after a quarter of an hour, nor left for longer than three hours', async () => {
    const next = async (expires: string) => {
      replies = [{ body: '{"rain": 0}', headers: { expires } }];
      const got = await met(0).fetch(place, null);
      return got.state === 'new' ? minutesAfter(got.nextFetchAfter) : got;
    };
    expect(await next('Mon, 01 Jun 2026 05:00:00 GMT')).toBe(15);
    expect(await next('0')).toBe(15);
    expect(await next('Tue, 02 Jun 2026 05:00:00 GMT')).toBe(180);
  });

  it('that asks for patience is left alone until then', async () => {
    replies = [{ status: 429, headers: { 'retry-after': '600' } }];
    const got = await met().fetch(place, null);
    expect(got).toMatchObject({
      state: 'fault',
      retryAfter: '2026-06-01T06:10:00.000Z',
      reason: /429.*too often/,
    });
    expect(asked).toHaveLength(1);
    replies = [{ status: 503, headers: { 'retry-after': 'Mon, 01 Jun 2026 08:00:00 GMT' } }];
    expect(await met().fetch(place, null)).toMatchObject({
      state: 'fault',
      retryAfter: '2026-06-01T08:00:00.000Z',
    });
  });

  it('that refuses us is a fault that says what to check, and is not asked again at once', async () => {
    replies = [{ status: 403 }];
    expect(await met().fetch(place, null)).toMatchObject({
      state: 'fault',
      reason: /403.*contact/,
      retryAfter: null,
    });
    expect(asked).toHaveLength(1);
  });

  it('that stumbles is asked again after a wait that grows and differs by chance', async () => {
    waits.length = 0;
    replies = [{ status: 500 }, { status: 502 }, { body: '{"rain": 2}' }];
    expect(await met(0.5).fetch(place, null)).toMatchObject({ state: 'new' });
    expect(waits).toEqual([1000, 2000]);
    waits.length = 0;
    replies = [{ status: 500 }, { status: 500 }, { status: 500 }];
    expect(await met(0.9).fetch(place, null)).toMatchObject({ state: 'fault', reason: /500.*tried 3 times/ });
    expect(waits).toEqual([1400, 2800]);
  });

  it('that does not answer in time, or is not there, is a fault', async () => {
    replies = [{ silent: true }, { silent: true }, { silent: true }];
    expect(await met(0.5, 60).fetch(place, null)).toMatchObject({
      state: 'fault',
      reason: /did not answer in time/,
    });
    const gone = metLocationforecast({ url: 'http://127.0.0.1:1/complete', userAgent: 'x', read }, around());
    expect(await gone.fetch(place, null)).toMatchObject({
      state: 'fault',
      reason: /127\.0\.0\.1:1 cannot be reached/,
    });
  });

  it('that sends something else is a fault: cut off, no JSON, no hours, far too much', async () => {
    const reasonOf = async (reply: Reply) => {
      replies = [reply];
      const got = await met().fetch(place, null);
      return got.state === 'fault' ? got.reason : got.state;
    };
    expect(await reasonOf({ body: '{"rain": 1' })).toMatch(/cannot be read as a forecast/);
    expect(
      await reasonOf({ body: '<html>', headers: { 'content-type': 'text/html; charset=utf-8' } }),
    ).toMatch(/text\/html/);
    expect(await reasonOf({ body: '{}' })).toMatch(/without hours/);
    expect(await reasonOf({ body: `{"rain": ${'1'.repeat(8_000_001)}}` })).toMatch(/more than 8000000 bytes/);
  });

  it('is given up when the process ends', async () => {
    replies = [{ silent: true }];
    const ending = new AbortController();
    const fetching = met().fetch(place, null, ending.signal);
    setTimeout(() => ending.abort(new Error('ending')), 30);
    await expect(fetching).rejects.toThrow('ending');
  });
});

describe('the ensemble as a source', () => {
  // Parameters of the service: open-meteo.com/en/docs/ensemble-api.
  it('is asked for units by name, for one model, and is left alone for three hours', async () => {
    const common = {
      url: `${base}/v1/ensemble`,
      userAgent: 'x',
      model: 'gfs_seamless',
      forecastDays: 10,
      read,
    };
    replies = [
      { body: '{"rain": 1}' },
      { body: '{"rain": 1}', headers: { 'cache-control': 'public, max-age=60' } },
    ];
    const first = await ensembleSource(common, around(0)).fetch(place, null);
    const query = new URL(asked[0]?.url ?? '', base).searchParams;
    expect(Object.fromEntries(query)).toEqual({
      latitude: '44.6488',
      longitude: '-63.5753',
      elevation: '30',
      hourly: 'temperature_2m,dew_point_2m,precipitation,wind_speed_10m,wind_gusts_10m,weather_code',
      models: 'gfs_seamless',
      temperature_unit: 'celsius',
      wind_speed_unit: 'ms',
      precipitation_unit: 'mm',
      timezone: 'GMT',
      forecast_days: '10',
    });
    expect(first.state === 'new' && minutesAfter(first.nextFetchAfter)).toBe(180);
    const keyed = ensembleSource({ ...common, apiKey: 'secret-key' }, around(0));
    const second = await keyed.fetch({ ...place, elevationM: null }, null);
    expect(second.state === 'new' && minutesAfter(second.nextFetchAfter)).toBe(180);
    const again = new URL(asked[1]?.url ?? '', base).searchParams;
    expect([again.get('apikey'), again.get('elevation')]).toEqual(['secret-key', null]);
    replies = [{ status: 403 }];
    expect(JSON.stringify(await keyed.fetch(place, null))).not.toContain('secret-key');
  });
});
