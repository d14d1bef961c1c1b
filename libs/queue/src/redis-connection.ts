import { Redis } from 'ioredis';
import type { QueueLog } from './queue.port.ts';
import { QueueError, reasonOf } from './queue-error.ts';

const CONNECT_MS = 3_000;
const READY_MS = 5_000;

/**
 * A connected client. The first connection must succeed within `READY_MS` or `queue-unreachable` is thrown; once
 * connected it reconnects for ever. `failFast` clients refuse commands while there is no connection, the others
 * keep them waiting (BullMQ workers need that).
 */
export async function connectRedis(
  redisUrl: string,
  name: string,
  failFast: boolean,
  log: QueueLog,
): Promise<Redis> {
  let connectedOnce = false;
  let lastError: unknown;
  const redis = new Redis(redisUrl, {
    lazyConnect: true,
    connectTimeout: CONNECT_MS,
    // BullMQ insists on null where a worker may block; the producer gives up after one reconnection.
    maxRetriesPerRequest: failFast ? 1 : null,
    enableOfflineQueue: !failFast,
    retryStrategy: (times) => (connectedOnce ? Math.min(250 * times, 3_000) : null),
    // A blocking worker connection may rightly be silent for long; the sender may not.
    ...(failFast ? { commandTimeout: READY_MS } : {}),
    connectionName: `${name}-${failFast ? 'send' : 'work'}`,
  });
  redis.on('error', (error) => {
    lastError = error;
    if (connectedOnce) log.warn({ reason: reasonOf(error) }, 'queue cannot reach Redis');
  });
  redis.on('ready', () => {
    if (connectedOnce) log.info({}, 'queue reaches Redis again');
    connectedOnce = true;
  });
  let timer: NodeJS.Timeout | undefined;
  try {
    // connectTimeout covers the socket only; a server that accepts and stays silent would be waited for for ever.
    const silent = new Promise<never>((_resolve, reject) => {
      timer = setTimeout(() => reject(new Error(`no answer within ${READY_MS} ms`)), READY_MS);
    });
    await Promise.race([redis.connect(), silent]);
    return redis;
  } catch (error) {
    redis.disconnect();
    throw new QueueError(
      'queue-unreachable',
      `Redis does not answer: ${reasonOf(lastError ?? error)}`,
      error,
    );
  } finally {
    clearTimeout(timer);
  }
}
