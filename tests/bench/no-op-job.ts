import { z } from 'zod';
import { defineJob } from '../../libs/contracts/src/jobs/index.ts';

/** Of the same retry class as messages, so that as many run at once. */
export const noOpJob = defineJob({
  name: 'bench.nothing',
  version: 1,
  payload: z.strictObject({ deliveryId: z.uuid() }),
  retry: 'mail',
});

export const NO_OP_JOBS = [noOpJob] as const;

const nothing = (): void => undefined;
export const silentLog = { info: nothing, warn: nothing, error: nothing };
