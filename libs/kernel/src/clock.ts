import { type Instant, instantFromMs, instantToMs } from './instant.ts';

/** Where the time comes from. Pure code never asks the machine; it is handed one of these or an instant. */
export interface Clock {
  now(): Instant;
}

/** A clock that stands still until it is moved; for tests and for replays. */
export interface FixedClock extends Clock {
  set(instant: Instant): void;
  advanceMin(durationMin: number): void;
}

/** A clock that shows the given instant. */
export function fixedClock(start: Instant): FixedClock {
  let current = start;
  return {
    now: () => current,
    set: (instant) => {
      current = instant;
    },
    advanceMin: (durationMin) => {
      current = instantFromMs(instantToMs(current) + durationMin * 60_000);
    },
  };
}
