import type { RetryClass } from '../../contracts/src/jobs/index.ts';

/** The figures behind a retry class. */
export interface RetryRule {
  /** How often a job is tried in all before it is dead. */
  readonly attempts: number;
  /** The pause after the k-th failure lies between this times 2^(k-1) and twice that, at random. Whole seconds. */
  readonly firstPauseSec: number;
  /** A running job is taken from a silent worker after this long; the worker renews it three times in this span. */
  readonly lockSec: number;
  /** How many of one kind a process runs at once unless told otherwise. */
  readonly concurrency: number;
}

export const RETRY_RULES: Readonly<Record<RetryClass, RetryRule>> = Object.freeze({
  mail: { attempts: 8, firstPauseSec: 2, lockSec: 12, concurrency: 4 },
  quick: { attempts: 5, firstPauseSec: 1, lockSec: 9, concurrency: 4 },
  long: { attempts: 3, firstPauseSec: 2, lockSec: 15, concurrency: 1 },
});
