// An uploaded weather file is read in by a worker: all of it or nothing, once, and after a crash by another worker.
import { afterAll, beforeAll, describe, expect, it, jest } from '@jest/globals';
import { weatherImportHandler } from '../../../apps/worker/src/jobs/weather-import.handler.ts';
import { weatherImportsSweep } from '../../../apps/worker/src/sweeps/weather-imports.sweep.ts';
import { addImportPart } from '../../../libs/data/src/weather/import-bytes.ts';
import {
  getImport,
  openImport,
  queueImport,
  startImport,
  type WeatherImport,
} from '../../../libs/data/src/weather/imports.repository.ts';
import { readRecord } from '../../../libs/data/src/weather/observations.repository.ts';
import { findSeries } from '../../../libs/data/src/weather/series.repository.ts';
import { addMinutes, type Clock, type Instant } from '../../../libs/kernel/src/index.ts';
import type { JobRun } from '../../../libs/queue/src/queue.port.ts';
import { epwText } from '../../builders/epw-file.ts';
import { actor, openStage, type Stage } from '../data/stage.ts';
import { recordedLog, until } from './worker-bench.ts';
import { startWorkerProcess } from './worker-process.ts';

jest.setTimeout(120_000);
let stage: Stage;
let now = '2026-06-03T06:00:00.000Z' as Instant;
const clock: Clock = { now: () => now };
const { log } = recordedLog();
const run = { signal: new AbortController().signal } as JobRun;

beforeAll(async () => {
  stage = await openStage();
  await stage.db.client.weatherStation.create({
    data: {
      seasonId: stage.seasonId,
      key: 'gull-point',
      name: 'Gull Point (invented)',
      lat: 45.9,
      lon: -64.3,
      zone: 'America/Halifax',
    },
  });
}, 60_000);
afterAll(() => stage.close());

const text = epwText({ rainMm: ({ hour }) => (hour === 6 ? 1.5 : 0), windMps: ({ month }) => month });

interface Upload {
  readonly text: string;
  readonly key?: string;
  readonly options?: object;
  /** Bytes of one part. */
  readonly partBytes?: number;
}
async function receive({
  text: file,
  key = 'gull-point',
  options = {},
  partBytes = 100_001,
}: Upload): Promise<WeatherImport> {
  const { db, organisationId } = stage;
  const bytes = Buffer.from(file);
  const facts = {
    targetKind: 'station',
    targetKey: key,
    season: 'small',
    fileName: 'gull.epw',
    bytesTotal: null,
  } as const;
  const opened = await openImport(db, { organisationId, ...facts, options, actor, now });
  for (let part = 0; part * partBytes < bytes.length; part += 1) {
    const piece = bytes.subarray(part * partBytes, (part + 1) * partBytes);
    await addImportPart(db, { id: opened.id, part, bytes: piece, now });
  }
  return opened;
}
async function upload(of: Upload): Promise<WeatherImport> {
  const { id } = await receive(of);
  return queueImport(stage.db, { id, now });
}
const handle = (importId: string) => weatherImportHandler({ db: stage.db, clock, log })({ importId }, run);
const sweep = () => weatherImportsSweep({ db: stage.db, clock, log }).run();
const row = ({ id }: WeatherImport) => getImport(stage.db, stage.organisationId, id);
const read = async (of: Upload) => {
  const queued = await upload(of);
  await handle(queued.id);
  return row(queued);
};
const record = async (key = 'station.gull-point') => {
  const [series] = await findSeries(stage.db, { organisationId: stage.organisationId, keys: [key] });
  return series ? readRecord(stage.db, { series }) : null;
};
const parts = ({ id }: WeatherImport) => stage.db.client.weatherImportPart.count({ where: { importId: id } });

describe('a weather file that was uploaded', () => {
  it('is read in whole, with what was found, and its bytes go', async () => {
    const queued = await upload({ text });
    expect(queued).toMatchObject({ state: 'queued', bytesTotal: Buffer.byteLength(text), bytesDone: 0 });
    expect(await parts(queued)).toBeGreaterThan(5);
    await handle(queued.id);
    const done = await row(queued);
    expect(done).toMatchObject({
      state: 'done',
      fault: null,
      attempts: 1,
      bytesDone: Buffer.byteLength(text),
      linesDone: 8768,
      badLineCount: 0,
      result: { hours: 8760, added: 8760, changed: 0, same: 0, removed: 0, from: '2023-01-01T04:00:00.000Z' },
    });
    expect(await parts(queued)).toBe(0);
    const stored = await record();
    expect(stored?.hourIndex).toHaveLength(8760);
    expect([stored?.rainMm[6], stored?.windMps[0], stored?.gustMps[0]]).toEqual([1.5, 1, Number.NaN]);
  });

  it('twice changes nothing', async () => {
    expect((await read({ text })).result).toMatchObject({ added: 0, changed: 0, same: 8760 });
  });

  it('with a bad line is refused with the line, unless the good ones are to be kept', async () => {
    const lines = text.split('\n');
    lines[99] = (lines[99] as string).replace(/^2023,1,\d+,\d+/, '2023,1,4,99');
    lines[100] = 'cut';
    const bad = { text: lines.join('\n') };
    const refused = await read(bad);
    expect(refused).toMatchObject({
      state: 'failed',
      badLineCount: 2,
      badLines: [{ line: 100 }, { line: 101 }],
      result: null,
    });
    expect(refused.fault).toMatch(
      /^2 lines cannot be read; the first is line 100: .* keep the 8758 good hours/,
    );
    const kept = await read({ ...bad, options: { keepGood: true } });
    expect(kept).toMatchObject({ state: 'done', badLineCount: 2, result: { hours: 8758, same: 8758 } });
  });

  it('that is something else changes nothing and says what it is', async () => {
    const before = await record();
    const refused = await read({
      text: '<!doctype html><title>not found</title>',
      options: { format: 'epw' },
    });
    expect(refused).toMatchObject({ state: 'failed', fault: /web page/ });
    expect(await record()).toEqual(before);
  });

  it('for a station that is gone is refused', async () => {
    expect(await read({ text, key: 'nowhere' })).toMatchObject({
      state: 'failed',
      fault: /no longer in the season/,
    });
  });

  it('is read by another worker where one died with it', async () => {
    const queued = await upload({ text });
    expect(await startImport(stage.db, { id: queued.id, now })).toMatchObject({
      state: 'running',
      attempts: 1,
    });
    await sweep();
    expect((await row(queued)).state).toBe('running');
    now = addMinutes(now, 2);
    await sweep();
    expect((await row(queued)).state).toBe('queued');
    await handle(queued.id);
    await handle(queued.id);
    expect(await row(queued)).toMatchObject({ state: 'done', attempts: 2, result: { same: 8760 } });
    const keys = await stage.db.client.outboxRow.findMany({ where: { key: { contains: queued.id } } });
    expect(keys).toHaveLength(2);
  });

  it('that takes three workers with it is given up, and one whose upload stopped says so', async () => {
    const deadly = await upload({ text });
    await stage.db.client.weatherImport.update({ where: { id: deadly.id }, data: { attempts: 3 } });
    const half = await receive({ text });
    now = addMinutes(now, 2);
    await sweep();
    expect(await row(deadly)).toMatchObject({ state: 'failed', fault: /several workers/ });
    expect(await row(half)).toMatchObject({ state: 'failed', fault: /upload the file again/ });
    expect([await parts(deadly), await parts(half)]).toEqual([0, 0]);
    await expect(
      addImportPart(stage.db, { id: half.id, part: 99, bytes: Buffer.from('x'), now }),
    ).rejects.toMatchObject({
      code: 'state-conflict',
    });
  });

  it('may be a table whose columns, units and clock are named by hand', async () => {
    const table = { text: 'When;Wind;Note\n03/06/2025 14:00;36,0;x\n03/06/2025 15:00;18,0;y\n' };
    const refused = await read({ ...table, options: { format: 'csv' } });
    expect(refused).toMatchObject({ state: 'failed', badLineCount: 1 });
    const options = {
      columns: 'When=time;Wind=windMps:km/h',
      utcOffsetMin: -240,
      dateOrder: 'dmy',
      stampIs: 'end',
    };
    const done = await read({ ...table, options });
    expect(done).toMatchObject({ state: 'done', result: { added: 2, from: '2025-06-03T17:00:00.000Z' } });
    const stored = await record();
    expect([...(stored?.windMps.slice(-2) ?? [])]).toEqual([10, 5]);
    const odd = await read({ ...table, options: { columns: 'Wind=windspeed' } });
    expect(odd.fault).toMatch(/^"Wind=windspeed" names no column: write Header=field/);
  });

  it('that a killed process had in hand is read whole by the next, without an hour twice', async () => {
    const lines = ['time,wind (m/s)'];
    const firstMs = Date.UTC(2005, 0, 1);
    const hours = 15 * 8766;
    for (let at = 0; at < hours; at += 1) {
      lines.push(`${new Date(firstMs + at * 3_600_000).toISOString().slice(0, 16)}Z,${at % 9}`);
    }
    const environment = {
      DATABASE_URL: stage.url,
      DRYSPELL_PUBLIC_URL: 'https://plan.example.org',
      DRYSPELL_SECRET: 'a-secret-of-the-test-that-is-long-enough',
    };
    const first = await startWorkerProcess(environment);
    now = new Date().toISOString() as Instant;
    const queued = await upload({ text: lines.join('\n'), options: { replace: true }, partBytes: 1_000_000 });
    await until('it is being read', async () => (await row(queued)).linesDone > 0, 60_000);
    await first.kill();
    const killed = await row(queued);
    expect([killed.state, killed.attempts]).toEqual(['running', 1]);
    // As if a minute had passed: nothing was heard of it.
    await stage.db.client.weatherImport.update({
      where: { id: queued.id },
      data: { heartbeatAt: new Date(Date.now() - 120_000) },
    });
    const second = await startWorkerProcess(environment);
    await until('it is read', async () => (await row(queued)).finishedAt !== null, 90_000);
    expect(await row(queued)).toMatchObject({ state: 'done', attempts: 2, result: { hours, added: hours } });
    expect((await record())?.hourIndex).toHaveLength(hours);
    expect(await second.stop()).toBe(0);
  });
});
