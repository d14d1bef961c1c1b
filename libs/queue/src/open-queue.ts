import type { JobDefinition } from '../../contracts/src/jobs/index.ts';
import { PostgresQueue } from './postgres-queue.ts';
import type { Queue, QueueLog } from './queue.port.ts';
import { RedisQueue } from './redis-queue.ts';

export interface OpenQueueOptions<Jobs extends readonly JobDefinition[]> {
  readonly jobs: Jobs;
  /** The program's database; carries the queue when there is no Redis. */
  readonly databaseUrl: string;
  /** Redis 6.2 or newer with eviction off; absent or empty means the embedded queue. */
  readonly redisUrl?: string | undefined;
  readonly log: QueueLog;
  /** Schema in PostgreSQL or key prefix in Redis, for several queues on one server. */
  readonly space?: string;
}

/** Opens the queue that the addresses name; throws `queue-unreachable` within seconds when it does not answer. */
export async function openQueue<Jobs extends readonly JobDefinition[]>({
  jobs,
  databaseUrl,
  redisUrl,
  log,
  space,
}: OpenQueueOptions<Jobs>): Promise<Queue<Jobs>> {
  return redisUrl
    ? RedisQueue.open(jobs, redisUrl, space ?? 'dryspell', log)
    : PostgresQueue.open(jobs, databaseUrl, space ?? 'queue', log);
}
