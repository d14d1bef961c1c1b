import { addMinutes, type Instant } from '../../../../libs/kernel/src/index.ts';

/**
 * Pauses after the first, second, ... temporary failure of one message; the last one repeats. Short at first for a
 * server that restarts, then half hours as RFC 5321 section 4.5.4.1 advises.
 */
const PAUSES_MIN = [0.1, 0.5, 2, 5, 15, 30];
/** About two days in all. RFC 5321 has relays give up after four or five; a date for a visit is of no use by then. */
const MOST_ATTEMPTS = 100;

/** When a message is tried again after its n-th try failed; null: no more, it has failed for good. */
export function retryAfter(attempt: number, now: Instant): Instant | null {
  if (attempt >= MOST_ATTEMPTS) return null;
  return addMinutes(now, PAUSES_MIN[Math.min(attempt, PAUSES_MIN.length) - 1] as number);
}
