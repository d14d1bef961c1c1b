// A fresh backend for each test of a file. Apart from queue-bench.ts, which also runs outside Jest.
import { afterEach, beforeEach } from '@jest/globals';
import type { Queue, QueueLog } from '../../../libs/queue/src/queue.port.ts';
import { QueueError } from '../../../libs/queue/src/queue-error.ts';
import { type Backend, recordingLog, type TEST_JOBS } from './queue-bench.ts';

export type TestQueue = Queue<typeof TEST_JOBS>;

/** A handler for the job that a test is not about. */
export const nothing = async () => undefined;

/** The code that the work is refused with; undefined when it is not refused by the queue. */
export async function codeOf(work: Promise<unknown>): Promise<string | undefined> {
  const error = await work.then(
    () => undefined,
    (thrown: unknown) => thrown,
  );
  return error instanceof QueueError ? error.code : undefined;
}

export interface QueueStage {
  /** The backend of the present test; each test gets a fresh one. */
  readonly backend: Backend;
  open(log?: QueueLog): Promise<TestQueue>;
  freshKey(): string;
}

/** Gives each test of a file an empty backend and closes what it opened. */
export function queueStage(create: () => Promise<Backend>): QueueStage {
  let backend: Backend | undefined;
  const opened: TestQueue[] = [];
  let nextKey = 0;
  beforeEach(async () => {
    backend = await create();
  });
  afterEach(async () => {
    await Promise.all(opened.splice(0).map((queue) => queue.close(0)));
    await backend?.destroy();
  });
  const present = (): Backend => {
    if (!backend) throw new Error('only within a test');
    return backend;
  };
  return {
    get backend() {
      return present();
    },
    open: async (log = recordingLog()) => {
      const queue = await present().open(log);
      opened.push(queue);
      return queue;
    },
    freshKey: () => {
      nextKey += 1;
      return `key:${nextKey}`;
    },
  };
}
