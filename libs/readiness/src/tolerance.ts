import type { Verdict } from '../../kernel/src/index.ts';

/**
 * Whether a measured value lies within its tolerance, both ends included. An end that is null is not set.
 * Cannot say when nothing was measured, or when neither end is set: an unknown never passes.
 */
export function judgeValue(value: number | null, low: number | null, high: number | null): Verdict {
  if (value === null || Number.isNaN(value) || (low === null && high === null)) return 'cannot say';
  return (low === null || value >= low) && (high === null || value <= high) ? 'ok' : 'not ok';
}
