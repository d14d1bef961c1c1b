// A worker process is killed at each step of sending. Afterwards every mail is there exactly once, or is shown as
// uncertain; none is there twice.
import { randomUUID } from 'node:crypto';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, jest } from '@jest/globals';
import { Redis } from 'ioredis';
import pg from 'pg';
import { decideDelivery } from '../../../libs/data/src/delivery-desk.repository.ts';
import { addDeliveries } from '../../../libs/data/src/new-delivery.ts';
import type { Instant } from '../../../libs/kernel/src/index.ts';
import { testRedisUrl } from '../../builders/test-services.ts';
import { actor, linkSecret, mailDomain, openStage, type Stage } from '../data/stage.ts';
import { type MailServer, refusal, startMailServer } from './mail-server.ts';
import { until } from './worker-bench.ts';
import { startWorkerProcess, type WorkerProcess } from './worker-process.ts';

// Long, for a machine that is busy with other tests: a worker needs some seconds of computing to start.
jest.setTimeout(300_000);
const PATIENCE_MS = 120_000;

/** A database number of our own on the shared Redis, so that it can be emptied. */
const REDIS_DATABASE = 9;

function redisUrl(): string {
  const url = new URL(testRedisUrl());
  url.pathname = `/${REDIS_DATABASE}`;
  return url.href;
}

describe.each(['postgres', 'redis'])('a killed worker, with the queue on %s', (backend) => {
  let stage: Stage;
  let server: MailServer;
  let workers: WorkerProcess[] = [];
  const clients: pg.Client[] = [];

  beforeAll(async () => {
    stage = await openStage();
  });
  beforeEach(async () => {
    server = await startMailServer();
    if (backend === 'redis') await emptyRedis();
    await stage.db.client.delivery.deleteMany();
    await stage.db.client.outboxRow.deleteMany();
  });
  afterEach(async () => {
    await Promise.all(workers.map((worker) => worker.kill()));
    workers = [];
    await Promise.all(clients.splice(0).map((client) => client.end()));
    await server.close();
  });
  afterAll(() => stage.close());

  async function connect(): Promise<pg.Client> {
    const client = new pg.Client({ connectionString: stage.url });
    await client.connect();
    clients.push(client);
    return client;
  }

  async function emptyRedis(): Promise<void> {
    const redis = new Redis(redisUrl());
    await redis.flushdb();
    redis.disconnect();
  }

  async function start(): Promise<WorkerProcess> {
    const worker = await startWorkerProcess({
      DATABASE_URL: stage.url,
      ...(backend === 'redis' ? { REDIS_URL: redisUrl() } : {}),
      DRYSPELL_PUBLIC_URL: 'https://plan.example.org',
      DRYSPELL_SECRET: linkSecret,
      DRYSPELL_SMTP_URL: server.url,
      DRYSPELL_MAIL_FROM: 'plan@larchandloon.test',
    });
    workers.push(worker);
    return worker;
  }

  /** Messages with their outbox rows in one transaction, as everything that causes a message writes them. */
  function addMessages(count: number): Promise<string[]> {
    const wanted = Array.from({ length: count }, (_, i) => ({
      organisationId: stage.organisationId,
      seasonId: null,
      channel: 'mail' as const,
      recipient: { kind: 'user' as const, key: `user-${i}` },
      address: `user-${i}@example.org`,
      language: 'en',
      template: 'sign-in-link',
      data: {
        organisation: 'Larch & Loon Domes (invented)',
        isDemo: true,
        name: `User ${i}`,
        expires: { at: '2099-01-01T00:00:00.000Z', zone: 'America/Halifax' },
        links: [{ id: randomUUID(), purpose: 'sign-in' }],
      },
      dedupeKey: randomUUID(),
      notBefore: new Date().toISOString() as Instant,
    }));
    return stage.db.transaction((tx) => addDeliveries(tx, mailDomain, wanted));
  }

  const rows = () => stage.db.client.delivery.findMany({ orderBy: { recipientKey: 'asc' } });
  const stateOf = async (id: string) =>
    (await stage.db.client.delivery.findUniqueOrThrow({ where: { id } })).state;
  const becomes = (id: string, state: string) =>
    until(`the message is ${state}`, async () => (await stateOf(id)) === state, PATIENCE_MS);
  const timesTaken = async (id: string) => {
    const { messageId } = await stage.db.client.delivery.findUniqueOrThrow({ where: { id } });
    return server.taken.filter((mail) => mail.messageId === messageId).length;
  };
  /** Resolves when the server comes to that step for the first time; it then waits for ever. */
  const holdAt = (step: 'connect' | 'rcptTo' | 'dataBegins' | 'beforeAnswer') =>
    new Promise<void>((resolve) => {
      const hold = () => {
        server.hooks = {};
        resolve();
        return new Promise<void>(() => undefined);
      };
      server.hooks = { [step]: hold };
    });

  it.each(['connect', 'rcptTo'] as const)(
    'before anything of the message left (%s): sent once afterwards',
    async (step) => {
      const reached = holdAt(step);
      const worker = await start();
      const [id = ''] = await addMessages(1);
      await reached;
      expect(await stateOf(id)).toBe('sending');
      await worker.kill();
      await start();
      await becomes(id, 'sent');
      expect(await timesTaken(id)).toBe(1);
    },
  );

  it('after the text but before "handing over" was noted: sent once afterwards', async () => {
    const begun = new Promise<void>((resolve) => {
      server.hooks = { dataBegins: async () => resolve() };
    });
    const atRecipient = new Promise<() => void>((resolve) => {
      server.hooks.rcptTo = () => new Promise<void>((goOn) => resolve(goOn));
    });
    const worker = await start();
    const [id = ''] = await addMessages(1);
    const goOn = await atRecipient;
    // Holding the row keeps the worker from noting anything. Two connections: in a transaction the view of what others
    // do stands still.
    const [holder, watcher] = await Promise.all([connect(), connect()]);
    await holder.query('BEGIN');
    await holder.query('SELECT 1 FROM deliveries WHERE id = $1 FOR UPDATE', [id]);
    goOn();
    await begun;
    const noting = `FROM pg_stat_activity WHERE datname = current_database() AND wait_event_type = 'Lock'
                    AND query ILIKE 'UPDATE%deliveries%'`;
    await until(
      'the worker wants to note it',
      async () => (await watcher.query(`SELECT 1 ${noting}`)).rowCount === 1,
      PATIENCE_MS,
    );
    await worker.kill();
    server.hooks = {};
    // The statement is still in the database server, which would carry it out for a client that is gone.
    await watcher.query(`SELECT pg_terminate_backend(pid) ${noting}`);
    await holder.query('ROLLBACK');
    expect(await stateOf(id)).toBe('sending');
    expect(await timesTaken(id)).toBe(0);
    await start();
    await becomes(id, 'sent');
    expect(await timesTaken(id)).toBe(1);
  });

  it('while the server has the whole message and has not answered: uncertain, and never sent again by itself', async () => {
    const reached = holdAt('beforeAnswer');
    const worker = await start();
    const [id = ''] = await addMessages(1);
    await reached;
    expect(await stateOf(id)).toBe('handing_over');
    await worker.kill();
    const second = await start();
    await becomes(id, 'uncertain');
    // Time enough for any queue to bring the job back: its lock, the pause, the sweep for waiting messages.
    await new Promise((resolve) => setTimeout(resolve, 20_000));
    expect(await stateOf(id)).toBe('uncertain');
    expect(await timesTaken(id)).toBe(1);
    // A person looks and decides to send it again: the same Message-ID, so that mail programs can see the twin.
    const row = await stage.db.client.delivery.findUniqueOrThrow({ where: { id } });
    const now = new Date().toISOString() as Instant;
    const { organisationId } = stage;
    await decideDelivery(stage.db, { organisationId, id, version: row.version, as: 'send', actor, now });
    await becomes(id, 'sent');
    expect(await timesTaken(id)).toBe(2);
    expect(second.log.filter((line) => line.level >= 50)).toEqual([]);
  });

  it('again and again in the middle of much work: no message is lost, none is there twice', async () => {
    server.hooks = { rcptTo: () => new Promise((resolve) => setTimeout(resolve, 60)) };
    const ids = await addMessages(40);
    for (let life = 0; life < 4; life += 1) {
      const worker = await start();
      const before = server.taken.length;
      await until(
        'some were sent',
        () => server.taken.length >= before + 4 || server.taken.length >= 40,
        PATIENCE_MS,
      );
      await worker.kill();
    }
    await start();
    await until(
      'all have an end',
      async () => (await rows()).every((row) => row.state === 'sent' || row.state === 'uncertain'),
      PATIENCE_MS,
    );
    const ends = await rows();
    expect(ends.length).toBe(40);
    for (const id of ids) {
      const state = ends.find((row) => row.id === id)?.state;
      const times = await timesTaken(id);
      // Uncertain: it may be there or not. Sent: it is there, once.
      if (state === 'uncertain') expect(times).toBeLessThanOrEqual(1);
      else expect([id, state, times]).toEqual([id, 'sent', 1]);
    }
  });

  it('that is told to stop in the middle of sending ends that message first', async () => {
    const reached = new Promise<() => void>((resolve) => {
      server.hooks = { beforeAnswer: () => new Promise<void>((goOn) => resolve(goOn)) };
    });
    const worker = await start();
    const [id = ''] = await addMessages(1);
    const goOn = await reached;
    const stopped = worker.stop();
    setTimeout(goOn, 400);
    expect(await stopped).toBe(0);
    expect(await stateOf(id)).toBe('sent');
    expect(await timesTaken(id)).toBe(1);
  });

  it('ends by itself when its parent is gone', async () => {
    const worker = await start();
    expect(await worker.abandon()).toBe(0);
  });

  if (backend === 'redis') {
    it('is not needed to lose jobs: an emptied Redis loses no message and sends none twice', async () => {
      server.hooks = { rcptTo: () => new Promise((resolve) => setTimeout(resolve, 100)) };
      const ids = await addMessages(60);
      await start();
      await until('some were sent', () => server.taken.length >= 8, PATIENCE_MS);
      await emptyRedis();
      await until(
        'all were sent',
        async () => (await rows()).every((row) => row.state === 'sent'),
        PATIENCE_MS,
      );
      for (const id of ids) expect(await timesTaken(id)).toBe(1);
    });
  } else {
    it('or none: a server that asks to come later gets each message once, later', async () => {
      let refusals = 0;
      server.hooks = {
        beforeAnswer: async () => {
          refusals += 1;
          if (refusals === 1) throw refusal(451, 'come back later');
        },
      };
      await start();
      const [id = ''] = await addMessages(1);
      await becomes(id, 'sent');
      expect(await timesTaken(id)).toBe(1);
      const tries = await stage.db.client.deliveryAttempt.findMany({
        where: { deliveryId: id },
        orderBy: { attempt: 'asc' },
      });
      expect(tries.map((row) => row.outcome)).toEqual(['again', 'sent']);
      expect(tries[0]?.response).toContain('451');
    });

    it('or none: an address that the server does not know fails for good and says why', async () => {
      server.hooks = {
        rcptTo: async () => {
          throw refusal(550, 'no such person here');
        },
      };
      await start();
      const [id = ''] = await addMessages(1);
      await becomes(id, 'failed');
      const row = await stage.db.client.delivery.findUniqueOrThrow({ where: { id } });
      expect(row.lastFault).toContain('no such person here');
      expect(row.attempts).toBe(1);
    });
  }
});
