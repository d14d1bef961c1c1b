import { type Job as BullJob, Queue as BullQueue, DelayedError, UnrecoverableError, Worker } from 'bullmq';
import type { Redis } from 'ioredis';
import type { JobDefinition, PayloadOf } from '../../contracts/src/jobs/index.ts';
import { type Envelope, sealJobs } from './envelope.ts';
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
import { connectRedis } from './redis-connection.ts';
import { RedisRuns } from './redis-runs.ts';
import { RETRY_RULES } from './retry-class.ts';
import { type HandlerMap, pairHandlers, runJob } from './run-job.ts';

const KEEP_DEAD = { age: 14 * 86_400, count: 10_000 };

/** The queue in Redis, through BullMQ. Redis may lose everything at any moment: it is filled again from the database. */
export class RedisQueue<Jobs extends readonly JobDefinition[]> implements Queue<Jobs> {
  readonly backend = 'redis';
  readonly #queues: ReadonlyMap<JobDefinition, BullQueue>;
  readonly #runs: RedisRuns;
  #workers: Worker[] = [];
  #closed = false;

  private constructor(
    private readonly jobs: Jobs,
    private readonly sender: Redis,
    private readonly working: Redis,
    private readonly prefix: string,
    private readonly log: QueueLog,
  ) {
    this.#runs = new RedisRuns();
    this.#queues = new Map(
      jobs.map((job) => {
        const queue = new BullQueue(job.name, { connection: sender, prefix });
        queue.on('error', (error) => log.warn({ job: job.name, reason: reasonOf(error) }, 'queue error'));
        return [job, queue];
      }),
    );
  }

  static async open<Jobs extends readonly JobDefinition[]>(
    jobs: Jobs,
    redisUrl: string,
    prefix: string,
    log: QueueLog,
  ): Promise<RedisQueue<Jobs>> {
    const sender = await connectRedis(redisUrl, prefix, true, log);
    try {
      return new RedisQueue(jobs, sender, await connectRedis(redisUrl, prefix, false, log), prefix, log);
    } catch (error) {
      sender.disconnect();
      throw error;
    }
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
    const queue = this.#queues.get(job);
    if (!queue) throw new QueueError('queue-job-unknown', `${job.name} is not in the list of jobs.`);
    const sealed = sealJobs(job, items);
    if (sealed.length === 0) return;
    const rule = RETRY_RULES[job.retry];
    try {
      await this.#removeDead(
        queue,
        sealed.map(({ jobId }) => jobId),
      );
      await queue.addBulk(
        sealed.map(({ jobId, envelope, runAt }) => ({
          name: job.name,
          data: envelope,
          opts: {
            jobId,
            delay: runAt ? Math.max(0, runAt.getTime() - Date.now()) : 0,
            attempts: rule.attempts,
            // Half of it random: between firstPauseSec x 2^(k-1) and twice that, as pg-boss does.
            backoff: { type: 'exponential', delay: rule.firstPauseSec * 2_000, jitter: 0.5 },
            removeOnComplete: true,
            removeOnFail: KEEP_DEAD,
            stackTraceLimit: 1,
          },
        })),
      );
    } catch (error) {
      throw new QueueError('queue-unreachable', `The job could not be added: ${reasonOf(error)}`, error);
    }
  }

  /** BullMQ takes an id that still lies among the failed for a duplicate. */
  async #removeDead(queue: BullQueue, jobIds: string[]): Promise<void> {
    const failed = queue.toKey('failed');
    const pipeline = this.sender.pipeline();
    for (const jobId of jobIds) pipeline.zscore(failed, jobId);
    const scores = (await pipeline.exec()) ?? [];
    for (const [i, [error, score]] of scores.entries()) {
      if (error) throw error;
      if (score !== null) await queue.remove(jobIds[i] as string);
    }
  }

  async consume(handlers: JobHandlers<Jobs>, options: ConsumeOptions = {}): Promise<void> {
    if (this.#closed) throw new QueueError('queue-closed', 'The queue is closed.');
    for (const [name, entry] of pairHandlers(this.jobs, handlers)) {
      const concurrency = options.concurrency?.[name] ?? RETRY_RULES[entry.job.retry].concurrency;
      if (concurrency > 0) this.#workers.push(this.#work(entry, concurrency, options));
    }
    await Promise.all(this.#workers.map((worker) => worker.waitUntilReady()));
  }

  #work(
    entry: NonNullable<ReturnType<HandlerMap['get']>>,
    concurrency: number,
    options: ConsumeOptions,
  ): Worker {
    const { job: definition } = entry;
    const rule = RETRY_RULES[definition.retry];
    const lockMs = rule.lockSec * 1000;
    const worker = new Worker<Envelope, void>(
      definition.name,
      async (job, token) => this.#process(entry, job, token ?? '', options),
      {
        connection: this.working,
        prefix: this.prefix,
        concurrency,
        lockDuration: lockMs,
        lockRenewTime: lockMs / 3,
        stalledInterval: lockMs / 3,
        maxStalledCount: rule.attempts,
        runRetryDelay: 1_000,
        drainDelay: 2,
        removeOnComplete: { count: 0 },
        removeOnFail: KEEP_DEAD,
      },
    );
    const where = { job: definition.name };
    worker.on('error', (error) => this.log.warn({ ...where, reason: reasonOf(error) }, 'queue worker error'));
    worker.on('stalled', (jobId) =>
      this.log.warn({ ...where, jobId }, 'a job was taken from a silent worker'),
    );
    worker.on('lockRenewalFailed', (jobIds) => this.#runs.abort(definition.name, jobIds, 'lost'));
    worker.on('locksRenewed', ({ jobIds }) => this.#runs.renewed(definition.name, jobIds));
    this.#runs.watch(definition.name, lockMs);
    return worker;
  }

  async #process(
    entry: NonNullable<ReturnType<HandlerMap['get']>>,
    job: BullJob<Envelope>,
    token: string,
    options: ConsumeOptions,
  ): Promise<void> {
    const putBack = async (runAt: Date): Promise<never> => {
      await job.moveToDelayed(Math.max(runAt.getTime(), Date.now() + 1), token);
      throw new DelayedError();
    };
    // A job that arrived while the worker was being closed has done nothing yet.
    if (this.#closed) return putBack(new Date());
    const attempt = job.attemptsMade + 1;
    const signal = this.#runs.begin(job.queueName, job.id as string);
    try {
      const lastAttempt = attempt >= (job.opts.attempts ?? 1);
      const run = { jobId: job.id as string, jobName: job.queueName, attempt, lastAttempt, signal };
      const outcome = await runJob(entry, job.data, run, this.log, options);
      if (outcome.is === 'put-back') return await putBack(outcome.runAt);
      if (outcome.is === 'dead') throw new UnrecoverableError(outcome.reason);
      if (outcome.is === 'failed') throw new Error(outcome.reason);
    } finally {
      this.#runs.end(job.queueName, job.id as string, signal);
    }
  }

  async deadJobs(limit = 100): Promise<DeadJob[]> {
    const lists = await Promise.all([...this.#queues.values()].map((queue) => queue.getFailed(0, limit - 1)));
    return lists
      .flat()
      .filter((job) => job !== undefined)
      .map((job) => ({
        jobId: job.id as string,
        jobName: job.queueName,
        dedupeKey: (job.data as Partial<Envelope> | undefined)?.dedupeKey ?? '',
        payload: (job.data as Partial<Envelope> | undefined)?.payload,
        reason: job.failedReason ?? '',
        attempts: job.attemptsMade,
        diedAt: new Date(job.finishedOn ?? 0),
      }))
      .sort((a, b) => b.diedAt.getTime() - a.diedAt.getTime())
      .slice(0, limit);
  }

  async health(): Promise<QueueHealth> {
    try {
      const entries = await Promise.all(
        [...this.#queues].map(async ([job, queue]) => {
          const n = await queue.getJobCounts('wait', 'prioritized', 'delayed', 'active', 'failed');
          const waiting = (n.wait ?? 0) + (n.prioritized ?? 0);
          return [
            job.name,
            { waiting, delayed: n.delayed ?? 0, active: n.active ?? 0, dead: n.failed ?? 0 },
          ] as const;
        }),
      );
      return { backend: this.backend, reachable: true, jobs: Object.fromEntries(entries) };
    } catch (error) {
      return { backend: this.backend, reachable: false, reason: reasonOf(error) };
    }
  }

  async close(drainMs = 20_000): Promise<void> {
    if (this.#closed) return;
    this.#closed = true;
    const closing = Promise.all(this.#workers.map((worker) => worker.close()));
    if (!(await within(closing, drainMs))) {
      this.#runs.abortAll('closing');
      if (!(await within(closing, 2_000))) {
        this.log.warn({}, 'the queue closes while jobs still run');
        await within(Promise.all(this.#workers.map((worker) => worker.disconnect())), 1_000);
      }
    }
    this.#runs.dispose();
    await within(Promise.all([...this.#queues.values()].map((queue) => queue.close())), 1_000);
    this.sender.disconnect();
    this.working.disconnect();
  }
}

/** Whether the promise was fulfilled within the time. */
async function within(promise: Promise<unknown>, ms: number): Promise<boolean> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<false>((resolve) => {
    timer = setTimeout(resolve, ms, false);
  });
  try {
    return await Promise.race([promise.then(() => true as const), late]);
  } finally {
    clearTimeout(timer);
  }
}
