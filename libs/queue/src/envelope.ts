import { createHash } from 'node:crypto';
import { z } from 'zod';
import type { JobDefinition } from '../../contracts/src/jobs/index.ts';
import type { EnqueueItem } from './queue.port.ts';
import { MAX_BATCH } from './queue.port.ts';
import { QueueError } from './queue-error.ts';

/** What lies in the queue for one job. */
export const envelopeSchema = z.object({
  version: z.number().int(),
  dedupeKey: z.string(),
  payload: z.unknown(),
});
export type Envelope = z.output<typeof envelopeSchema>;

/**
 * The id of the one live job for a key, a UUID made from job name and key: the store's own primary key then does
 * the deduplication. (A BullMQ id may hold no ':' and be no whole number; pg-boss wants a UUID.)
 */
export function jobIdFor(jobName: string, dedupeKey: string): string {
  const hex = createHash('sha256').update(jobName).update('\n').update(dedupeKey).digest('hex');
  const variant = ((Number.parseInt(hex.slice(16, 18), 16) & 0x3f) | 0x80).toString(16);
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-${variant}${hex.slice(18, 20)}-${hex.slice(20, 32)}`;
}

export interface SealedJob {
  readonly jobId: string;
  readonly envelope: Envelope;
  readonly runAt?: Date;
}

/** Checks and packs the items of one enqueue; a key given twice is kept once. */
export function sealJobs<Job extends JobDefinition>(
  job: Job,
  items: readonly EnqueueItem<Job>[],
): SealedJob[] {
  if (items.length > MAX_BATCH) {
    throw new QueueError(
      'queue-batch-too-large',
      `${items.length} jobs at once; send them in pages of ${MAX_BATCH}.`,
    );
  }
  const sealed = new Map<string, SealedJob>();
  for (const item of items) {
    const parsed = job.payload.safeParse(item.payload);
    if (!parsed.success) {
      throw new QueueError(
        'queue-payload-invalid',
        `${job.name}: ${z.prettifyError(parsed.error)}`,
        parsed.error,
      );
    }
    if (item.dedupeKey === '')
      throw new QueueError('queue-payload-invalid', `${job.name}: the dedupe key is empty.`);
    const jobId = jobIdFor(job.name, item.dedupeKey);
    if (sealed.has(jobId)) continue;
    const envelope = { version: job.version, dedupeKey: item.dedupeKey, payload: parsed.data };
    sealed.set(jobId, item.runAt ? { jobId, envelope, runAt: item.runAt } : { jobId, envelope });
  }
  return [...sealed.values()];
}

/** The payload that a handler may trust, or the reason why the job is dead. */
export function openEnvelope(job: JobDefinition, raw: unknown): { payload: unknown } | { dead: string } {
  const envelope = envelopeSchema.safeParse(raw);
  if (!envelope.success) return { dead: 'The job is not in the form that this program writes.' };
  if (envelope.data.version !== job.version) {
    return {
      dead: `Payload version ${envelope.data.version}; this program knows version ${job.version} only.`,
    };
  }
  const payload = job.payload.safeParse(envelope.data.payload);
  if (!payload.success) return { dead: `The payload does not fit: ${z.prettifyError(payload.error)}` };
  return { payload: payload.data };
}
