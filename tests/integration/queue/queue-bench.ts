// What the queue tests share: two real backends, jobs that exist only here, a log that remembers.
import { randomBytes } from 'node:crypto';
import { Redis } from 'ioredis';
import pg from 'pg';
import { z } from 'zod';
import { defineJob } from '../../../libs/contracts/src/jobs/index.ts';
import { openQueue } from '../../../libs/queue/src/open-queue.ts';
import type { Queue, QueueLog } from '../../../libs/queue/src/queue.port.ts';
import { createEmptyDatabase } from '../../builders/test-database.ts';
import { testPostgresUrl, testRedisUrl } from '../../builders/test-services.ts';

const payload = z.strictObject({ thingId: z.string().min(1) });
export const quickJob = defineJob({ name: 'test.quick', version: 1, payload, retry: 'quick' });
export const mailJob = defineJob({ name: 'test.mail', version: 1, payload, retry: 'mail' });
export const TEST_JOBS = [quickJob, mailJob] as const;
/** The same job as a newer program would define it. */
export const quickJobV2 = defineJob({ name: 'test.quick', version: 2, payload, retry: 'quick' });

export interface RecordingLog extends QueueLog {
  readonly lines: { level: string; fields: object; message: string }[];
}

export function recordingLog(): RecordingLog {
  const lines: RecordingLog['lines'] = [];
  const at = (level: string) => (fields: object, message: string) =>
    void lines.push({ level, fields, message });
  return { lines, info: at('info'), warn: at('warn'), error: at('error') };
}

export interface Backend {
  readonly databaseUrl: string;
  readonly redisUrl?: string;
  readonly space: string;
  open(log?: QueueLog): Promise<Queue<typeof TEST_JOBS>>;
  /** Cuts the connections of the queue as a restart of its server does. */
  cutConnections(): Promise<void>;
  destroy(): Promise<void>;
}

export const BACKENDS = {
  async postgres(): Promise<Backend> {
    const { url: databaseUrl, name, drop } = await createEmptyDatabase();
    return {
      databaseUrl,
      space: 'queue',
      open: (log = recordingLog()) => openQueue({ jobs: TEST_JOBS, databaseUrl, log }),
      cutConnections: () =>
        withClient(testPostgresUrl(), async (client) => {
          await client.query('SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = $1', [
            name,
          ]);
        }),
      destroy: drop,
    };
  },

  async redis(): Promise<Backend> {
    const redisUrl = testRedisUrl();
    const space = `test-${randomBytes(6).toString('hex')}`;
    const databaseUrl = 'postgres://unused.invalid/unused';
    return {
      databaseUrl,
      redisUrl,
      space,
      open: (log = recordingLog()) => openQueue({ jobs: TEST_JOBS, databaseUrl, redisUrl, log, space }),
      cutConnections: () =>
        withRedis(redisUrl, async (redis) => {
          // Only this queue's: other test files use the same server.
          const clients = String(await redis.call('CLIENT', 'LIST')).split('\n');
          const own = clients.filter((line) => line.includes(` name=${space}`));
          if (own.length < 3)
            throw new Error(`expected the connections of a consuming queue, saw ${own.length}`);
          for (const line of own) {
            await redis.call('CLIENT', 'KILL', 'ID', /\bid=(\d+)/.exec(line)?.[1] ?? '');
          }
        }),
      destroy: () =>
        withRedis(redisUrl, async (redis) => {
          const keys = await redis.keys(`${space}:*`);
          if (keys.length > 0) await redis.del(...keys);
        }),
    };
  },
};

async function withClient<T>(url: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}

async function withRedis<T>(url: string, work: (redis: Redis) => Promise<T>): Promise<T> {
  const redis = new Redis(url);
  try {
    return await work(redis);
  } finally {
    redis.disconnect();
  }
}

/** Resolves once the condition holds; rejects, naming it, when it does not within the time. */
export async function until(
  what: string,
  holds: () => boolean | Promise<boolean>,
  withinMs = 15_000,
): Promise<void> {
  const end = Date.now() + withinMs;
  while (!(await holds())) {
    if (Date.now() > end) throw new Error(`Did not happen within ${withinMs} ms: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

/** A promise and its resolver. */
export function gate(): { opened: Promise<void>; open: () => void } {
  let open = (): void => undefined;
  const opened = new Promise<void>((resolve) => {
    open = resolve;
  });
  return { opened, open };
}
