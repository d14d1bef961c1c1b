// Weather files are uploaded, kept part by part, read by the worker and watched; records and feeds show how they stand.
import http from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { weatherImportHandler } from '../../../apps/worker/src/jobs/weather-import.handler.ts';
import { weatherFeedsSweep } from '../../../apps/worker/src/sweeps/weather-feeds.sweep.ts';
import type { JobRun } from '../../../libs/queue/src/queue.port.ts';
import { epwText } from '../../builders/epw-file.ts';
import { recordedLog } from '../worker/worker-bench.ts';
import { type ApiStage, openApiStage } from './api-stage.ts';

const IMPORTS = '/api/v1/seasons/small/weather-imports';
const query = (changes: Record<string, string> = {}) =>
  new URLSearchParams({ target: 'site', key: 'hill', fileName: 'hill.epw', ...changes }).toString();
const bytes = (text: string, mediaType = 'application/octet-stream') => ({
  mediaType,
  data: Buffer.from(text),
});
const { log } = recordedLog();
const run = { signal: new AbortController().signal } as JobRun;

describe('weather by the API', () => {
  let stage: ApiStage;
  beforeAll(async () => {
    stage = await openApiStage();
  }, 60_000);
  afterAll(() => stage.close());

  const text = epwText({ rainMm: ({ hour }) => (hour === 6 ? 1.5 : 0) });
  const work = async () => {
    const rows = await stage.db.client.outboxRow.findMany({ where: { topic: 'weather.import' } });
    for (const { payload } of rows) {
      await weatherImportHandler({ db: stage.db, clock: stage.clock, log })(
        payload as { importId: string },
        run,
      );
    }
  };

  it('takes a file in, answers where to watch it, and shows what the worker made of it', async () => {
    const sent = await stage.call('POST', `${IMPORTS}?${query()}`, { bytes: bytes(text) });
    expect([sent.status, sent.body.state, sent.headers['location']]).toEqual([
      202,
      'queued',
      `${IMPORTS}/${sent.body.id}`,
    ]);
    expect(sent.body).toMatchObject({
      bytesTotal: Buffer.byteLength(text),
      options: { format: 'auto', keepGood: false },
    });
    await work();
    const done = await stage.call('GET', `${IMPORTS}/${sent.body.id}`);
    expect(done.body).toMatchObject({
      target: 'site',
      key: 'hill',
      state: 'done',
      linesDone: 8768,
      badLines: [],
      result: { hours: 8760, added: 8760, from: '2023-01-01T04:00:00.000Z', to: '2024-01-01T03:00:00.000Z' },
      warnings: expect.arrayContaining([
        {
          code: 'far-away',
          words: 'The record is of a place 103 km from Site hill; judge whether it stands for it.',
        },
      ]),
      requestedBy: 'manager of firm',
    });
    const listed = await stage.call('GET', IMPORTS);
    expect(listed.body.items.map(({ id }: { id: string }) => id)).toEqual([sent.body.id]);
    const watched = await stage.call('GET', `${IMPORTS}/${sent.body.id}/events`);
    expect(watched.headers['content-type']).toMatch(/^text\/event-stream/);
    expect(watched.text).toMatch(/event: run\ndata: \{.*"state":"done"/);
  });

  it('takes what a table does not say itself with it', async () => {
    const table = 'When;Wind\n2025-06-03 14:00;36,0\n';
    const named = {
      target: 'site',
      key: 'cape',
      columns: 'When=time;Wind=windMps:km/h',
      zone: 'America/St_Johns',
    };
    const sent = await stage.call('POST', `${IMPORTS}?${query(named)}`, { bytes: bytes(table, 'text/csv') });
    expect(sent.body.options).toMatchObject({ zone: 'America/St_Johns', columns: named.columns });
    await work();
    const done = await stage.call('GET', `${IMPORTS}/${sent.body.id}`);
    // Newfoundland is 2 h 30 min behind UTC in summer.
    expect(done.body).toMatchObject({
      state: 'done',
      result: { added: 1, from: '2025-06-03T16:30:00.000Z' },
    });
    const other = { ...named, utcOffsetMin: 'two' };
    expect(
      (await stage.call('POST', `${IMPORTS}?${query(other)}`, { bytes: bytes(table, 'text/csv') })).status,
    ).toBe(422);
  });

  it('shows the record and the sites that it stands for, and which have none', async () => {
    const { body } = await stage.call('GET', '/api/v1/seasons/small/weather');
    expect(body.series).toMatchObject([
      { key: 'site.cape', hours: 1 },
      {
        key: 'site.hill',
        kind: 'record',
        hours: 8760,
        missingHours: 0,
        gustHours: 0,
        feed: null,
        words: '2023-01-01 to 2024-01-01, 8760 hours; no gusts: they are estimated from the mean wind',
      },
    ]);
    const words = Object.fromEntries(
      body.sites.map((site: { site: string; words: string }) => [site.site, site.words]),
    );
    expect(words['hill']).toMatch(/8760 hours.*no forecast is fetched/);
    expect(words['lake']).toMatch(/^no hourly record/);
  });

  it('shows the odds of each date at a site, as rows and as a picture, and counts them once', async () => {
    const url = '/api/v1/seasons/small/sites/hill/odds-calendar';
    const { status, body } = await stage.call('GET', url);
    expect(status).toBe(200);
    expect(body).toMatchObject({
      site: 'hill',
      record: { key: 'site.hill' },
      years: 1,
      typicalYear: false,
      gustFactor: 1.4,
      gustEstimatedShare: 1,
      reserveConfidence: 0.8,
    });
    expect(body.rows).toHaveLength(366);
    expect(body.rows[59]).toMatchObject({ date: '02-29' });
    const july = body.rows[183];
    expect(july).toMatchObject({
      date: '07-02',
      years: 1,
      goodShare: expect.any(Number),
      reserveDays: expect.any(Number),
    });
    expect(july.latestStart).toMatch(/^\d\d:\d\d$/);
    expect(body.statements.join(' ')).toMatch(
      /A day is good if .*one year only, gusts of 100 % .*Planning aid/,
    );
    expect(body.statements.join(' ')).toContain('The record is of a place 103 km from Site hill');
    const kept = await stage.db.client.weatherWindow.count();
    const picture = await stage.call('GET', `${url}.svg`);
    expect(picture.headers['content-type']).toMatch(/^image\/svg\+xml/);
    expect(picture.text).toMatch(/^<svg[\s\S]*Site hill: odds of a good day/);
    expect([kept, await stage.db.client.weatherWindow.count()]).toEqual([1, 1]);
    expect((await stage.call('GET', '/api/v1/seasons/small/sites/lake/odds-calendar')).status).toBe(404);
    expect((await stage.call('GET', '/api/v1/seasons/small/sites/nowhere/odds-calendar')).status).toBe(404);
    const odd = await stage.call('GET', `${url}?template=nothing`);
    expect([odd.status, odd.body.code]).toEqual([422, 'invalid-input']);
  });

  it('shows how a feed stands once the worker has one', async () => {
    await stage.publish();
    const source = {
      service: 'met-norway',
      credit: 'invented',
      fetch: async () => ({ state: 'fault', reason: 'x', retryAfter: null }) as const,
    };
    await weatherFeedsSweep({
      db: stage.db,
      clock: stage.clock,
      log,
      sources: [source],
      reachDays: 60,
    }).run();
    const { body } = await stage.call('GET', '/api/v1/seasons/small/weather');
    const feeds = body.series.filter(({ kind }: { kind: string }) => kind === 'forecast');
    expect(feeds.length).toBeGreaterThan(0);
    expect(feeds[0].feed).toMatchObject({
      source: 'met-norway',
      state: 'none',
      tries: 0,
      words: /^no forecast yet; next try/,
    });
  });

  it('refuses what it cannot take: another type, no bytes, an unknown site, an odd query', async () => {
    const post = (search: string, data: ReturnType<typeof bytes>) =>
      stage.call('POST', `${IMPORTS}?${search}`, { bytes: data });
    expect((await post(query(), bytes(text, 'application/zip'))).status).toBe(415);
    expect((await post(query(), bytes(''))).status).toBe(422);
    expect((await post(query({ key: 'nowhere' }), bytes(text))).body.code).toBe('not-found');
    expect((await post(query({ format: 'pdf' }), bytes(text))).status).toBe(422);
    const [last] = (await stage.call('GET', IMPORTS)).body.items;
    expect(last).toMatchObject({ state: 'failed', fault: /no bytes/ });
  });

  it('ends a run whose upload breaks off, and changes nothing', async () => {
    await stage.app.listen(0, '127.0.0.1');
    const { port } = stage.app.getHttpServer().address() as AddressInfo;
    const before = (await stage.call('GET', IMPORTS)).body.items.length;
    await new Promise<void>((resolve) => {
      const request = http.request({
        port,
        host: '127.0.0.1',
        method: 'POST',
        path: `${IMPORTS}?${query()}`,
        headers: {
          authorization: `Bearer ${stage.firm.tokens.manager}`,
          'content-type': 'text/csv',
          'content-length': String(text.length),
        },
      });
      request.on('error', () => resolve());
      request.write(text.slice(0, 200_000), () => setTimeout(() => request.destroy(), 300));
    });
    let items: { state: string; fault: string }[] = [];
    for (let tries = 0; tries < 50 && items[0]?.state !== 'failed'; tries += 1) {
      await new Promise((resolve) => setTimeout(resolve, 100));
      items = (await stage.call('GET', IMPORTS)).body.items;
      if (items.length === before) items = [];
    }
    expect(items[0]).toMatchObject({ state: 'failed', fault: /upload stopped/ });
    expect(await stage.db.client.weatherImportPart.count()).toBe(0);
  });
});
