import type { JobDefinition, PayloadOf } from '../../contracts/src/jobs/index.ts';

/** Where the queue says what it noticed; pino fits. */
export interface QueueLog {
  info(fields: object, message: string): void;
  warn(fields: object, message: string): void;
  error(fields: object, message: string): void;
}

export interface EnqueueOptions {
  /**
   * While a job of the same kind with the same key waits or runs, another one is not added. The key is free again
   * once that job is done; a dead job with the key is replaced by the new one.
   */
  readonly dedupeKey: string;
  /** Not before this instant; now when absent. */
  readonly runAt?: Date;
}

export interface EnqueueItem<Job extends JobDefinition> extends EnqueueOptions {
  readonly payload: PayloadOf<Job>;
}

/** What a handler is told about the run it is in. */
export interface JobRun {
  readonly jobId: string;
  readonly jobName: string;
  /** 1 on the first try. */
  readonly attempt: number;
  /** True when a failure now makes the job dead. */
  readonly lastAttempt: boolean;
  /**
   * Aborted with reason `'lost'` when another worker may have taken the job over, with `'closing'` when the process
   * has waited as long as it may for running jobs. A handler then stops at the next safe place and throws.
   */
  readonly signal: AbortSignal;
}

export type JobHandler<Job extends JobDefinition> = (payload: PayloadOf<Job>, run: JobRun) => Promise<void>;

/** One handler for each definition. */
export type JobHandlers<Jobs extends readonly JobDefinition[]> = {
  readonly [Job in Jobs[number] as Job['name']]: JobHandler<Job>;
};

/** Thrown by a handler to be run again at a given instant without that counting as a failure. */
export class PutBack extends Error {
  override readonly name = 'PutBack';
  readonly runAt: Date;

  constructor(runAt: Date, why: string) {
    super(why);
    this.runAt = runAt;
  }
}

/** Thrown by a handler when trying again is useless: the job is dead at once, with this reason. */
export class GiveUp extends Error {
  override readonly name = 'GiveUp';
}

export interface DeadJob {
  readonly jobId: string;
  readonly jobName: string;
  readonly dedupeKey: string;
  readonly payload: unknown;
  readonly reason: string;
  readonly attempts: number;
  readonly diedAt: Date;
}

export interface QueueHealth {
  readonly backend: 'postgres' | 'redis';
  readonly reachable: boolean;
  /** Why it is not reachable. */
  readonly reason?: string;
  /** Counts per kind of job; absent when unreachable. */
  readonly jobs?: Readonly<
    Record<string, { waiting: number; delayed: number; active: number; dead: number }>
  >;
}

export interface ConsumeOptions {
  /** Jobs of a kind run at once by this process; 0 leaves the kind to other processes. */
  readonly concurrency?: Readonly<Record<string, number>>;
  /** Called around each run, for a stall monitor. */
  readonly onStart?: (run: JobRun) => void;
  readonly onEnd?: (run: JobRun) => void;
}

/** One queue; two adapters behave the same (tests/integration/queue). */
export interface Queue<Jobs extends readonly JobDefinition[] = readonly JobDefinition[]> {
  readonly backend: 'postgres' | 'redis';
  /** Adds one job. Throws `queue-payload-invalid`, `queue-job-unknown`, `queue-unreachable`, `queue-closed`. */
  enqueue<Job extends Jobs[number]>(
    job: Job,
    payload: PayloadOf<Job>,
    options: EnqueueOptions,
  ): Promise<void>;
  /** Adds up to `MAX_BATCH` jobs of one kind; `queue-batch-too-large` above. */
  enqueueMany<Job extends Jobs[number]>(job: Job, items: readonly EnqueueItem<Job>[]): Promise<void>;
  /** Starts to work. Throws `queue-handlers-incomplete` unless handlers and definitions match one to one. */
  consume(handlers: JobHandlers<Jobs>, options?: ConsumeOptions): Promise<void>;
  /** Jobs that will not be tried again, newest first. */
  deadJobs(limit?: number): Promise<DeadJob[]>;
  health(): Promise<QueueHealth>;
  /**
   * Takes no new job, lets running ones finish for `drainMs` (default 20 s), then aborts their signals, waits 2 s
   * more and disconnects. A job that still runs then is found lost and run again by another process.
   */
  close(drainMs?: number): Promise<void>;
}

/** The most jobs that one `enqueueMany` takes; whoever has more pages. */
export const MAX_BATCH = 500;
