import { describe, expect, it } from '@jest/globals';
import { type Instant, minutesBetween } from '../../../../libs/kernel/src/index.ts';
import { retryAfter } from './retry-after.ts';

const now = '2026-06-09T12:00:00.000Z' as Instant;

describe('the pause before a message is tried again', () => {
  it('grows and never shrinks', () => {
    const pauses = Array.from({ length: 99 }, (_, i) =>
      minutesBetween(now, retryAfter(i + 1, now) as Instant),
    );
    expect(pauses.slice(0, 8)).toEqual([0.1, 0.5, 2, 5, 15, 30, 30, 30]);
    for (const [i, pause] of pauses.entries()) expect(pause).toBeGreaterThanOrEqual(pauses[i - 1] ?? 0);
  });

  it('comes to between one and four days in all, then there is no other try', () => {
    let at = now;
    let attempt = 1;
    for (let next = retryAfter(attempt, at); next !== null; next = retryAfter(attempt, at)) {
      at = next;
      attempt += 1;
    }
    const days = minutesBetween(now, at) / (24 * 60);
    expect(days).toBeGreaterThan(1);
    expect(days).toBeLessThan(4);
  });
});
