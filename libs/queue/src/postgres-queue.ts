import type { JobDefinition, PayloadOf } from '../../contracts/src/jobs/index.ts';
import { sealJobs } from './envelope.ts';
import { PostgresLoop } from './postgres-loop.ts';
import { PostgresStore } from './postgres-store.ts';
import type {
  ConsumeOptions,
  DeadJob,
  EnqueueItem,
  EnqueueOptions,
  JobHandlers,
  Queue,
  QueueHealth,
  QueueLog,
} from './queue.port.ts';
import { QueueError, reasonOf } from './queue-error.ts';
import { RETRY_RULES } from './retry-class.ts';
import { pairHandlers } from './run-job.ts';

const EXPIRE_EVERY_MS = 3_000;
const TIDY_EVERY_MS = 3_600_000;

/** The queue inside the program's own PostgreSQL database, in a schema of its own. */
export class PostgresQueue<Jobs extends readonly JobDefinition[]> implements Queue<Jobs> {
  readonly backend = 'postgres';
  readonly #jobs: Jobs;
  readonly #store: PostgresStore;
  readonly #log: QueueLog;
  #loops: PostgresLoop[] = [];
  #timers: NodeJS.Timeout[] = [];
  #closed = false;

  private constructor(jobs: Jobs, store: PostgresStore, log: QueueLog) {
    this.#jobs = jobs;
    this.#store = store;
    this.#log = log;
  }

  static async open<Jobs extends readonly JobDefinition[]>(
    jobs: Jobs,
    databaseUrl: string,
    schema: string,
    log: QueueLog,
  ): Promise<PostgresQueue<Jobs>> {
    const store = new PostgresStore(databaseUrl, schema, log);
    try {
      await store.start(jobs);
    } catch (error) {
      await store.stop();
      if (error instanceof QueueError) throw error;
      throw new QueueError('queue-unreachable', `The queue could not be set up: ${reasonOf(error)}`, error);
    }
    return new PostgresQueue(jobs, store, log);
  }

  async enqueue<Job extends Jobs[number]>(
    job: Job,
    payload: PayloadOf<Job>,
    options: EnqueueOptions,
  ): Promise<void> {
    await this.enqueueMany(job, [{ ...options, payload }]);
  }

  async enqueueMany<Job extends Jobs[number]>(job: Job, items: readonly EnqueueItem<Job>[]): Promise<void> {
    if (this.#closed) throw new QueueError('queue-closed', 'The queue is closed.');
    if (!this.#jobs.includes(job))
      throw new QueueError('queue-job-unknown', `${job.name} is not in the list of jobs.`);
    const sealed = sealJobs(job, items);
    if (sealed.length === 0) return;
    await this.#store.insert(
      sealed.map(({ jobId, envelope, runAt }) => {
        const base = { id: jobId, name: job.name, data: envelope };
        return runAt ? { ...base, startAfter: runAt.toISOString() } : base;
      }),
      job.name,
    );
    for (const loop of this.#loops) if (loop.name === job.name) loop.wake();
  }

  async consume(handlers: JobHandlers<Jobs>, options: ConsumeOptions = {}): Promise<void> {
    if (this.#closed) throw new QueueError('queue-closed', 'The queue is closed.');
    for (const [name, entry] of pairHandlers(this.#jobs, handlers)) {
      const concurrency = options.concurrency?.[name] ?? RETRY_RULES[entry.job.retry].concurrency;
      if (concurrency > 0)
        this.#loops.push(new PostgresLoop(this.#store, entry, concurrency, options, this.#log));
    }
    for (const loop of this.#loops) loop.start();
    const expire = () => void this.#store.expire().catch((error) => this.#maintenanceFailed(error));
    const tidy = () => void this.#store.tidy().catch((error) => this.#maintenanceFailed(error));
    this.#timers = [setInterval(expire, EXPIRE_EVERY_MS), setInterval(tidy, TIDY_EVERY_MS)];
  }

  #maintenanceFailed(error: unknown): void {
    this.#log.warn({ reason: reasonOf(error) }, 'queue maintenance failed');
  }

  async deadJobs(limit = 100): Promise<DeadJob[]> {
    return this.#store.dead(
      this.#jobs.map((job) => job.name),
      limit,
    );
  }

  async health(): Promise<QueueHealth> {
    try {
      const jobs = await this.#store.counts(this.#jobs.map((job) => job.name));
      return { backend: this.backend, reachable: true, jobs };
    } catch (error) {
      return { backend: this.backend, reachable: false, reason: reasonOf(error) };
    }
  }

  async close(drainMs = 20_000): Promise<void> {
    if (this.#closed) return;
    this.#closed = true;
    await Promise.all(this.#loops.map((loop) => loop.stopTaking()));
    if (!(await this.#idleWithin(drainMs))) {
      for (const loop of this.#loops) loop.abortAll();
      if (!(await this.#idleWithin(2_000))) this.#log.warn({}, 'the queue closes while jobs still run');
    }
    for (const loop of this.#loops) loop.dispose();
    for (const timer of this.#timers) clearInterval(timer);
    await this.#store.stop();
  }

  async #idleWithin(ms: number): Promise<boolean> {
    const until = Date.now() + ms;
    while (this.#loops.some((loop) => loop.runningCount > 0)) {
      if (Date.now() >= until) return false;
      await new Promise((resolve) => setTimeout(resolve, 25));
    }
    return true;
  }
}
