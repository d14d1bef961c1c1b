import type { JobDefinition } from '../../contracts/src/jobs/index.ts';
import { openEnvelope } from './envelope.ts';
import type { ConsumeOptions, JobHandler, JobRun, QueueLog } from './queue.port.ts';
import { GiveUp, PutBack } from './queue.port.ts';
import { QueueError, reasonOf } from './queue-error.ts';

/** How one run of a job ended; the adapter writes it down. */
export type RunOutcome =
  | { readonly is: 'done' }
  | { readonly is: 'failed'; readonly reason: string }
  | { readonly is: 'dead'; readonly reason: string }
  | { readonly is: 'put-back'; readonly runAt: Date; readonly reason: string };

export type AnyHandler = JobHandler<JobDefinition>;
export type HandlerMap = ReadonlyMap<string, { readonly job: JobDefinition; readonly handler: AnyHandler }>;

/** Pairs each definition with its handler; throws `queue-handlers-incomplete` naming all that lack the other half. */
export function pairHandlers(jobs: readonly JobDefinition[], handlers: object): HandlerMap {
  const given = new Map(Object.entries(handlers).filter(([, handler]) => typeof handler === 'function'));
  const unhandled = jobs.filter((job) => !given.has(job.name)).map((job) => job.name);
  const undefinedOnes = Object.keys(handlers).filter((name) => !jobs.some((job) => job.name === name));
  if (unhandled.length > 0 || undefinedOnes.length > 0) {
    const parts = [
      ...unhandled.map((name) => `${name} has a definition but no handler`),
      ...undefinedOnes.map((name) => `${name} has a handler but no definition`),
    ];
    throw new QueueError('queue-handlers-incomplete', `Jobs and handlers do not match: ${parts.join('; ')}.`);
  }
  return new Map(jobs.map((job) => [job.name, { job, handler: given.get(job.name) as AnyHandler }]));
}

/** Opens the envelope, runs the handler and says how it ended; never throws. */
export async function runJob(
  { job, handler }: { job: JobDefinition; handler: AnyHandler },
  raw: unknown,
  run: JobRun,
  log: QueueLog,
  options: ConsumeOptions,
): Promise<RunOutcome> {
  const where = { job: run.jobName, jobId: run.jobId, attempt: run.attempt };
  const opened = openEnvelope(job, raw);
  if ('dead' in opened) {
    log.error({ ...where, reason: opened.dead }, 'job is dead');
    return { is: 'dead', reason: opened.dead };
  }
  options.onStart?.(run);
  try {
    await handler(opened.payload, run);
    return { is: 'done' };
  } catch (error) {
    const reason = reasonOf(error);
    if (error instanceof PutBack) return { is: 'put-back', runAt: error.runAt, reason };
    if (error instanceof GiveUp || run.lastAttempt) {
      log.error({ ...where, reason }, 'job is dead');
      return error instanceof GiveUp ? { is: 'dead', reason } : { is: 'failed', reason };
    }
    log.warn({ ...where, reason }, 'job failed and will be tried again');
    return { is: 'failed', reason };
  } finally {
    options.onEnd?.(run);
  }
}
