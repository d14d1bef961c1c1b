import type { JobDefinition } from '../../../libs/contracts/src/jobs/index.ts';
import { JOBS } from '../../../libs/contracts/src/jobs/index.ts';
import type { Database } from '../../../libs/data/src/database.ts';
import { type OutboxRow, relayOutbox } from '../../../libs/data/src/outbox.repository.ts';
import type { Clock } from '../../../libs/kernel/src/index.ts';
import type { EnqueueItem, Queue } from '../../../libs/queue/src/queue.port.ts';
import type { Log } from './log.ts';
import { type SteadyLoop, startSteadyLoop } from './steady-loop.ts';

const BATCH = 200;
const PAUSE_MS = 500;

export interface OutboxRelayParams {
  readonly db: Database;
  readonly queue: Queue<typeof JOBS>;
  readonly clock: Clock;
  readonly log: Log;
}

/**
 * Turns outbox rows into queue jobs. Rows are locked while they are added and marked in the same transaction; if that
 * transaction fails after the queue took the jobs, they are added again under the same key, which the queue knows.
 */
export function startOutboxRelay({ db, queue, clock, log }: OutboxRelayParams): SteadyLoop {
  return startSteadyLoop({
    name: 'outbox relay',
    pauseMs: PAUSE_MS,
    log,
    work: async () => {
      const relayed = await relayOutbox(db, { now: clock.now(), limit: BATCH }, (rows) =>
        addJobs(queue, rows, log),
      );
      if (relayed > 0) log.debug({ relayed }, 'outbox relayed');
      return relayed === BATCH;
    },
  });
}

/** Adds one job for each row. A row that is no job of this program is logged and left behind: it must not stop the others. */
export async function addJobs(
  queue: Queue<typeof JOBS>,
  rows: readonly OutboxRow[],
  log: Log,
): Promise<void> {
  for (const job of JOBS as readonly JobDefinition[]) {
    const items: EnqueueItem<JobDefinition>[] = [];
    for (const { topic, key, payload } of rows) {
      if (topic !== job.name) continue;
      if (job.payload.safeParse(payload).success) items.push({ payload, dedupeKey: key });
      else log.error({ outboxKey: key, topic }, 'an outbox row does not fit its job and was left behind');
    }
    if (items.length > 0) await (queue as Queue).enqueueMany(job, items);
  }
  for (const { topic, key } of rows) {
    if (!JOBS.some((job) => job.name === topic)) {
      log.error({ outboxKey: key, topic }, 'an outbox row names no job of this program and was left behind');
    }
  }
}
