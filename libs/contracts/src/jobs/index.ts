import { z } from 'zod';
import { defineJob } from './define-job.ts';

export type { JobDefinition, PayloadOf, RetryClass } from './define-job.ts';
export { defineJob } from './define-job.ts';

/** Hand one prepared message over to its channel. */
export const deliverySend = defineJob({
  name: 'delivery.send',
  version: 1,
  payload: z.strictObject({ deliveryId: z.uuid() }),
  retry: 'mail',
});

/** Compute one requested season plan. */
export const planRun = defineJob({
  name: 'plan.run',
  version: 1,
  payload: z.strictObject({ planRunId: z.uuid() }),
  retry: 'long',
});

/** Every job there is. A worker without a handler for one of these does not start. */
export const JOBS = [deliverySend, planRun] as const;

export type JobName = (typeof JOBS)[number]['name'];
