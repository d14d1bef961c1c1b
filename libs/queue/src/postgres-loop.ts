import type { PostgresStore, TakenJob } from './postgres-store.ts';
import type { ConsumeOptions, JobRun, QueueLog } from './queue.port.ts';
import { reasonOf } from './queue-error.ts';
import { RETRY_RULES } from './retry-class.ts';
import type { HandlerMap, RunOutcome } from './run-job.ts';
import { runJob } from './run-job.ts';

/** How long an idle loop waits before it looks again, unless woken. */
const POLL_MS = 500;

interface Running {
  readonly taken: TakenJob;
  readonly abort: AbortController;
}

/** Takes jobs of one kind from PostgreSQL and runs up to `concurrency` of them at once. */
export class PostgresLoop {
  readonly name: string;
  readonly #running = new Map<string, Running>();
  #wake: (() => void) | undefined;
  #woken = false;
  #stopped = false;
  #lastRenewal = Date.now();
  #renewTimer: NodeJS.Timeout | undefined;
  #loop: Promise<void> = Promise.resolve();

  constructor(
    private readonly store: PostgresStore,
    private readonly entry: NonNullable<ReturnType<HandlerMap['get']>>,
    private readonly concurrency: number,
    private readonly options: ConsumeOptions,
    private readonly log: QueueLog,
  ) {
    this.name = entry.job.name;
  }

  start(): void {
    this.#loop = this.#run();
    const everyMs = (RETRY_RULES[this.entry.job.retry].lockSec * 1000) / 3;
    this.#renewTimer = setInterval(() => void this.#renew(), everyMs);
  }

  /** Ends a wait for work at once. */
  wake(): void {
    this.#woken = true;
    this.#wake?.();
  }

  get runningCount(): number {
    return this.#running.size;
  }

  async #run(): Promise<void> {
    while (!this.#stopped) {
      this.#woken = false;
      const free = this.concurrency - this.#running.size;
      const taken = free > 0 ? await this.store.take(this.name, free) : [];
      for (const job of taken) this.#begin(job);
      // A full batch hints at more; a freed place or a new job wakes.
      if (taken.length === 0 || taken.length === free) await this.#pause(POLL_MS);
    }
  }

  #pause(ms: number): Promise<void> {
    if (this.#stopped || this.#woken) return Promise.resolve();
    return new Promise((resolve) => {
      const timer = setTimeout(resolve, ms);
      this.#wake = () => {
        clearTimeout(timer);
        resolve();
      };
    });
  }

  #begin(taken: TakenJob): void {
    const abort = new AbortController();
    const run: JobRun = {
      jobId: taken.id,
      jobName: this.name,
      attempt: taken.retryCount + 1,
      lastAttempt: taken.retryCount >= taken.retryLimit,
      signal: abort.signal,
    };
    // A job taken while the loop was being stopped has done nothing yet.
    const outcome: Promise<RunOutcome> = this.#stopped
      ? Promise.resolve({ is: 'put-back', runAt: new Date(), reason: 'closing' })
      : runJob(this.entry, taken.data, run, this.log, this.options);
    if (this.#running.size === 0) this.#lastRenewal = Date.now();
    this.#running.set(taken.id, { taken, abort });
    void outcome
      .then((end) => this.#finish(taken, end))
      .finally(() => {
        if (this.#running.get(taken.id)?.taken === taken) this.#running.delete(taken.id);
        this.wake();
      });
  }

  async #finish(taken: TakenJob, outcome: RunOutcome): Promise<void> {
    const where = { job: this.name, jobId: taken.id };
    for (let tries = 1; tries <= 5; tries += 1) {
      try {
        if (!(await this.store.finish(this.name, taken, outcome))) {
          this.log.warn(where, 'the job had been given to another worker before its end could be written');
        }
        return;
      } catch (error) {
        this.log.warn({ ...where, reason: reasonOf(error), tries }, 'the end of a job could not be written');
        await new Promise((resolve) => setTimeout(resolve, 500 * tries));
      }
    }
    this.log.error(where, 'the end of a job stays unwritten; the job will run again');
  }

  async #renew(): Promise<void> {
    const mine = [...this.#running.values()];
    if (mine.length === 0) return;
    const lockMs = RETRY_RULES[this.entry.job.retry].lockSec * 1000;
    const startedAt = Date.now();
    try {
      const kept = await this.store.renew(
        this.name,
        mine.map(({ taken }) => taken),
      );
      this.#lastRenewal = startedAt;
      for (const { taken, abort } of mine) {
        // A run that ended during the statement is no longer in the map, and not lost either.
        if (!kept.has(taken.id) && this.#running.get(taken.id)?.taken === taken) abort.abort('lost');
      }
    } catch {
      // The store has logged it. After a whole lock span without contact others may take these jobs.
      if (Date.now() - this.#lastRenewal > lockMs) for (const { abort } of mine) abort.abort('lost');
    }
  }

  /** Takes no further job; resolves when no fetch is under way. */
  async stopTaking(): Promise<void> {
    this.#stopped = true;
    this.wake();
    await this.#loop;
  }

  abortAll(): void {
    for (const { abort } of this.#running.values()) abort.abort('closing');
  }

  dispose(): void {
    clearInterval(this.#renewTimer);
  }
}
