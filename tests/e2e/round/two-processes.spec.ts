// The round with PostgreSQL and Redis of one's own: the database is made ready by commands, the API and the worker are two
// processes that nobody watches over, the queue is BullMQ. Redis loses everything in the middle.
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it, jest } from '@jest/globals';
import { Redis } from 'ioredis';
import { freePort } from '../../../apps/cli/src/postgres/free-port.ts';
import { eventually } from '../../builders/eventually.ts';
import { HttpClient } from '../../builders/http-client.ts';
import { type ProgramProcess, spawnProgram, untilHealthy } from '../../builders/program-processes.ts';
import { createEmptyDatabase, type TestDatabase } from '../../builders/test-database.ts';
import { testRedisUrl } from '../../builders/test-services.ts';
import { type MailServer, startMailServer } from '../../integration/worker/mail-server.ts';
import { readCalendar } from '../../reference/calendar/read-calendar.ts';
import { expectedCounts, type PlannedVisit, type SeasonRows } from './expected-mail.ts';
import {
  countsOf,
  linkIn,
  Manager,
  openLink,
  type PublishReport,
  received,
  signIn,
  sorted,
} from './round.ts';

jest.setTimeout(300_000);

const DEMO = path.resolve(import.meta.dirname, '../../../prisma/demo/larch-and-loon-2027.json');
const SEASON = 'larch-loon-2027';
/** A Redis database of our own, so that all that the program has there can be lost and nothing of anybody else. */
const REDIS_DATABASE = 10;

let database: TestDatabase;
let redis: Redis;
let mailServer: MailServer;
let programs: ProgramProcess[] = [];
let environment: Record<string, string>;
let manager: Manager;
let season: SeasonRows;
let visits: readonly PlannedVisit[];
let report: PublishReport;

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

async function command(...args: string[]): Promise<string> {
  const program = spawnProgram('dist/apps/cli/src/main.js', args, environment);
  const code = await program.ended;
  if (code !== 0) throw new Error(`dryspell ${args.join(' ')} ended with ${code}:\n${program.output()}`);
  return program.output();
}

beforeAll(async () => {
  database = await createEmptyDatabase();
  const redisUrl = new URL(testRedisUrl());
  redisUrl.pathname = `/${REDIS_DATABASE}`;
  redis = new Redis(redisUrl.href);
  await redis.flushdb();
  mailServer = await startMailServer();
  const url = `http://127.0.0.1:${await freePort()}`;
  const healthPort = await freePort();
  environment = {
    DATABASE_URL: database.url,
    REDIS_URL: redisUrl.href,
    PORT: new URL(url).port,
    DRYSPELL_PUBLIC_URL: url,
    DRYSPELL_SECRET: 'a secret of this test, long enough for all',
    DRYSPELL_SMTP_URL: mailServer.url,
    DRYSPELL_MAIL_FROM: 'planning@larch-and-loon.example',
    DRYSPELL_WORKER_HEALTH_PORT: String(healthPort),
    DRYSPELL_RATE_PER_MIN: '100000',
    DRYSPELL_LOG_LEVEL: 'warn',
  };
  await command('migrate');
  await command('import', DEMO);
  const person = ['--name', 'Mara Voss', '--email', 'mara@larch-and-loon.example', '--role', 'manager'];
  const added = JSON.parse(await command('user', 'add', ...person, '--json')) as { signInUrl: string };
  const api = spawnProgram('dist/apps/api/src/main.js', [], environment);
  const worker = spawnProgram('dist/apps/worker/src/main.js', [], environment);
  programs = [api, worker];
  await untilHealthy(api, `${url}/health/ready`);
  await untilHealthy(worker, `http://127.0.0.1:${healthPort}/ready`);
  manager = new Manager(await signIn(added.signInUrl), SEASON);
  await manager.dropQuietHours();
  season = await manager.seasonFile();
});

afterAll(async () => {
  const codes = await Promise.all(programs.map((program) => program.end('SIGTERM')));
  await redis?.flushdb();
  await redis?.quit();
  await mailServer?.close();
  await database?.drop();
  expect(codes).toEqual(programs.map(() => 0));
});

/** Redis loses all that the program keeps there; it must have kept something, or the loss would prove nothing. */
async function loseRedis(): Promise<void> {
  expect(await redis.dbsize()).toBeGreaterThan(0);
  await redis.flushdb();
}

describe('two processes with PostgreSQL and Redis', () => {
  it('plan the season and publish the plan', async () => {
    const draft = await manager.planAnew({ iterations: 200, seed: 7 });
    visits = draft.plan.visits;
    expect(visits).toHaveLength(26);
    mailServer.hooks = { beforeAnswer: () => pause(100) };
    report = await manager.publish(draft);
  });

  it('send every message once, and finish another plan, although Redis forgets all jobs in the middle', async () => {
    const path = `/api/v1/seasons/${SEASON}/plan-runs`;
    const asked = await manager.client.post<{ id: string }>(path, { json: { seconds: 5, seed: 7 } });
    expect(asked.status).toBe(202);
    const run = async () =>
      (await manager.client.get<{ state: string; planId: string | null }>(`${path}/${asked.body.id}`)).body;
    await eventually('another plan is being made', async () => (await run()).state === 'running');
    await loseRedis();
    expect((await run()).state).toBe('running');
    const enough = Math.min(report.deliveries / 2, mailServer.taken.length + 20);
    await eventually('more messages have gone', () => mailServer.taken.length >= enough, 90_000);
    await loseRedis();
    expect(mailServer.taken.length).toBeLessThan(report.deliveries);
    mailServer.hooks = {};
    const deliveries = await manager.allSettled(150_000);
    expect(deliveries.filter(({ state }) => state !== 'sent')).toEqual([]);
    expect(deliveries).toHaveLength(report.deliveries);
    expect(sorted(countsOf(mailServer.taken))).toEqual(sorted(expectedCounts(season, visits)));
    expect(new Set(mailServer.taken.map(({ messageId }) => messageId)).size).toBe(report.deliveries);
    await eventually(
      'the other plan is made',
      async () => !['queued', 'running'].includes((await run()).state),
      120_000,
    );
    expect(await run()).toMatchObject({ state: 'done', planId: expect.any(String) });
  });

  it('take an answer by a mailed link and offer the calendar of it', async () => {
    const mails = received(mailServer.taken).filter((mail) => mail.to.startsWith('isla@'));
    const [mail] = mails;
    if (!mail) throw new Error('the lead of the crew Tern got no mail');
    const page = await openLink(linkIn(mail));
    const answered = await page.send('assignment', { answer: 'declined', note: 'at sea' });
    expect(answered.text).toMatch(/Your answer: <strong>no<\/strong>/);
    const next = (await manager.whatNext()).items.filter(({ kind }) => kind === 'assignment-declined');
    expect(next).toHaveLength(1);
    const url = new URL(await manager.feed('person', 'isla'));
    const calendar = readCalendar((await new HttpClient(url.origin).get(url.pathname)).text);
    expect(calendar.events).toHaveLength(mails.length - 1);
    // The manager is told of a no, by the same worker.
    await eventually('the manager is told', () =>
      mailServer.taken.some(({ to }) => to.includes('mara@larch-and-loon.example')),
    );
  });
});
