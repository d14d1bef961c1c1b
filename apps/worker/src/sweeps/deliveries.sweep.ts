import { deliverySend, type JOBS } from '../../../../libs/contracts/src/jobs/index.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import {
  claimingWorkers,
  recoverDeliveries,
  unsentDeliveries,
  waitingDeliveries,
} from '../../../../libs/data/src/delivery.repository.ts';
import { type Clock, instantToMs } from '../../../../libs/kernel/src/index.ts';
import type { Queue } from '../../../../libs/queue/src/queue.port.ts';
import { EndedWorkers } from '../alive-lock.ts';
import type { Sweep } from '../leader.ts';
import type { Log } from '../log.ts';

/** Longer than one try can take: three minutes to hand over and ten for the answer, see the mail channel's timeouts. */
const SILENT_MIN = 15;
/** A worker's lock must have been free for so long before its messages are taken back. */
const ENDED_AFTER_MS = 6_000;
/** A message that is due and has not moved for so long has lost its job. */
const WAITING_MIN = 0.5;
const BATCH = 200;

export interface DeliveriesSweepParams {
  readonly db: Database;
  readonly databaseUrl: string;
  readonly queue: Queue<typeof JOBS>;
  readonly workerName: string;
  /** Nothing can be sent from here: messages are held at once, also those that wait for the morning. */
  readonly onlyHolds: boolean;
  readonly clock: Clock;
  readonly log: Log;
}

/** Takes messages back from dead workers, and gives a new job to those whose job was lost. */
export function deliveriesSweep(params: DeliveriesSweepParams): Sweep {
  const { db, queue, clock, log } = params;
  const ended = new EndedWorkers(params.databaseUrl, ENDED_AFTER_MS);
  return {
    name: 'lost messages',
    everyMs: 3_000,
    run: async () => {
      const now = clock.now();
      const others = (await claimingWorkers(db)).filter((name) => name !== params.workerName);
      const endedWorkers = await ended.among(others, instantToMs(now));
      const recovered = await recoverDeliveries(db, { now, silentMin: SILENT_MIN, endedWorkers });
      if (recovered.pending + recovered.uncertain > 0) {
        log.warn({ ...recovered, endedWorkers }, 'messages taken back from silent workers');
      }
      const waiting = params.onlyHolds
        ? await unsentDeliveries(db, BATCH)
        : await waitingDeliveries(db, { now, silentMin: WAITING_MIN, limit: BATCH });
      if (waiting.length === 0) return false;
      // A key of its own: the queue keeps one such job for each message, however often the sweep comes by.
      const items = waiting.map((deliveryId) => ({
        payload: { deliveryId },
        dedupeKey: `delivery.send-${deliveryId}-swept`,
      }));
      await queue.enqueueMany(deliverySend, items);
      log.info({ messages: waiting.length }, 'waiting messages were given a job again');
      return false;
    },
  };
}
