import type { z } from 'zod';

/**
 * How a job behaves when it fails or its worker dies; the figures behind each word are the queue's (libs/queue).
 * `mail`: talks to a mail server; `quick`: milliseconds of database work; `long`: minutes of computing, few at a time.
 */
export type RetryClass = 'mail' | 'quick' | 'long';

/** The contract of one kind of job. A payload carries ids only: what the job does is read from the database. */
export interface JobDefinition<Name extends string = string, Payload extends z.ZodType = z.ZodType> {
  readonly name: Name;
  /** Raised when an older worker would misread the payload. */
  readonly version: number;
  readonly payload: Payload;
  readonly retry: RetryClass;
}

/** The parsed payload of a job definition. */
export type PayloadOf<Job extends JobDefinition> = z.output<Job['payload']>;

/** Declares a job; throws at once when the name or the version would not survive both queues. */
export function defineJob<Name extends string, Payload extends z.ZodType>(
  definition: JobDefinition<Name, Payload>,
): JobDefinition<Name, Payload> {
  if (!/^[a-z]+(-[a-z]+)*\.[a-z]+(-[a-z]+)*$/.test(definition.name)) {
    throw new Error(`A job is named "thing.action" in lower case; "${definition.name}" is not.`);
  }
  if (!Number.isInteger(definition.version) || definition.version < 1) {
    throw new Error(`Job ${definition.name}: the version is a whole number from 1.`);
  }
  return Object.freeze(definition);
}
