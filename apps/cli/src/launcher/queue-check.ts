import { JOBS } from '../../../../libs/contracts/src/jobs/index.ts';
import { openQueue } from '../../../../libs/queue/src/open-queue.ts';
import { PlainError, plainLine } from '../program/plain-error.ts';

const quiet = { info: () => {}, warn: () => {}, error: () => {} };

/** Opens the queue once, which also makes its tables. Resolves to how it is shown; throws PlainError. */
export async function checkQueue(databaseUrl: string, redisUrl: string | undefined): Promise<string> {
  if (redisUrl !== undefined && !/^rediss?:\/\/[^/]/.test(redisUrl)) {
    throw new PlainError(
      'REDIS_URL is not an address. Write it as redis://host:6379, or leave it out to use PostgreSQL.',
    );
  }
  try {
    const queue = await openQueue({ jobs: JOBS, databaseUrl, redisUrl, log: quiet });
    const health = await queue.health();
    await queue.close(0);
    if (!health.reachable) throw new Error(health.reason ?? 'no answer');
  } catch (error) {
    const where = redisUrl === undefined ? 'on PostgreSQL' : `on Redis at ${new URL(redisUrl).host}`;
    const step =
      redisUrl === undefined
        ? 'Check the database.'
        : 'Start Redis, mend REDIS_URL, or leave it out to use PostgreSQL.';
    throw new PlainError(`the queue ${where} cannot be used: ${plainLine(error)}. ${step}`);
  }
  return redisUrl === undefined ? 'on PostgreSQL' : `on Redis at ${new URL(redisUrl).host}`;
}
