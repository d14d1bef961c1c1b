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

/** Fetch the forecast of one feed. */
export const weatherFetch = defineJob({
  name: 'weather.fetch',
  version: 1,
  payload: z.strictObject({ feedId: z.uuid() }),
  retry: 'quick',
});

/** Read one uploaded weather file in. */
export const weatherImport = defineJob({
  name: 'weather.import',
  version: 1,
  payload: z.strictObject({ importId: z.uuid() }),
  retry: 'long',
});

/** Every job there is. A worker without a handler for one of these does not start. */
export const JOBS = [deliverySend, planRun, weatherFetch, weatherImport] as const;

export type JobName = (typeof JOBS)[number]['name'];
