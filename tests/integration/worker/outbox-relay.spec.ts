import { randomUUID } from 'node:crypto';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, jest } from '@jest/globals';
import { startOutboxRelay } from '../../../apps/worker/src/outbox-relay.ts';
import type { SteadyLoop } from '../../../apps/worker/src/steady-loop.ts';
import { JOBS } from '../../../libs/contracts/src/jobs/index.ts';
import { writeOutbox } from '../../../libs/data/src/outbox.repository.ts';
import { openQueue } from '../../../libs/queue/src/open-queue.ts';
import type { Queue } from '../../../libs/queue/src/queue.port.ts';
import { testRedisUrl } from '../../builders/test-services.ts';
import {
  createWorkerDatabase,
  recordedLog,
  systemClock,
  until,
  type WorkerDatabase,
} from './worker-bench.ts';

jest.setTimeout(60_000);

describe('the outbox relay', () => {
  let database: WorkerDatabase;
  let queue: Queue<typeof JOBS>;
  let relays: SteadyLoop[] = [];
  const { log, lines } = recordedLog();

  beforeAll(async () => {
    database = await createWorkerDatabase();
  });
  beforeEach(async () => {
    queue = await openQueue({ jobs: JOBS, databaseUrl: database.url, log });
    lines.length = 0;
  });
  afterEach(async () => {
    await Promise.all(relays.map((relay) => relay.stop()));
    relays = [];
    await queue.close(0);
  });
  afterAll(() => database.destroy());

  const relay = () => {
    const loop = startOutboxRelay({ db: database.db, queue, clock: systemClock, log });
    relays.push(loop);
    return loop;
  };
  const write = (keys: string[], topic = 'delivery.send', notBefore?: string) =>
    database.db.transaction((tx) =>
      writeOutbox(
        tx,
        ...keys.map((key) => ({
          key,
          topic,
          payload: { deliveryId: randomUUID() },
          notBefore: (notBefore ?? null) as never,
        })),
      ),
    );
  const unrelayed = async () =>
    Number(
      (await database.sql<{ n: string }>('SELECT count(*) AS n FROM outbox WHERE relayed_at IS NULL'))[0]?.n,
    );
  const waiting = async () => (await queue.health()).jobs?.['delivery.send']?.waiting;

  it('makes one job of each row, also when three relays share the work', async () => {
    await write(Array.from({ length: 700 }, (_, i) => `many:${i}`));
    for (let i = 0; i < 3; i += 1) relay();
    await until('all rows are relayed', async () => (await unrelayed()) === 0);
    expect(await waiting()).toBe(700);
  });

  it('adds a job once although a row is relayed twice after a crash between queue and commit', async () => {
    const before = (await waiting()) ?? 0;
    await write(['crash:1']);
    relay();
    await until('it is relayed', async () => (await unrelayed()) === 0);
    await database.sql(`UPDATE outbox SET relayed_at = NULL WHERE key = 'crash:1'`);
    await until('it is relayed again', async () => (await unrelayed()) === 0);
    expect(await waiting()).toBe(before + 1);
  });

  it('leaves rows alone until their moment', async () => {
    await write(['later:1'], 'delivery.send', new Date(Date.now() + 3_600_000).toISOString());
    relay();
    await new Promise((resolve) => setTimeout(resolve, 800));
    expect(await unrelayed()).toBe(1);
    await database.sql(`DELETE FROM outbox WHERE key = 'later:1'`);
  });

  it('is not stopped by a row that is no job: it says so and relays the others', async () => {
    const before = (await waiting()) ?? 0;
    await write(['odd:1'], 'nothing.known');
    await write(['odd:2'], 'plan.run');
    await write(['fine:1']);
    relay();
    await until('all rows are dealt with', async () => (await unrelayed()) === 0);
    expect(await waiting()).toBe(before + 1);
    const errors = lines.filter((line) => line.level >= 50).map((line) => line['outboxKey']);
    expect(errors.sort()).toEqual(['odd:1', 'odd:2']);
  });

  it('keeps the rows while the queue cannot be reached and relays them when it is back', async () => {
    const redisUrl = testRedisUrl();
    const broken = await openQueue({
      jobs: JOBS,
      databaseUrl: database.url,
      redisUrl,
      space: 'relay-test',
      log,
    });
    await broken.close(0);
    await write(['kept:1']);
    const stuck = startOutboxRelay({ db: database.db, queue: broken, clock: systemClock, log });
    await until('it failed', () => lines.some((line) => line['loop'] === 'outbox relay'));
    await stuck.stop();
    expect(await unrelayed()).toBe(1);
    relay();
    await until('it is relayed', async () => (await unrelayed()) === 0);
  });
});
