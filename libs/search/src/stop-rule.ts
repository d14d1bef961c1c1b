/** Milliseconds on a clock that only moves forward; pure code is handed one and never asks the machine. */
export type MillisecondClock = () => number;

/** Tells a search how much of its budget is used. */
export interface StopRule {
  /** Share of the budget used after this many iterations: 0 at the start, 1 or more when the search must end. */
  fraction(iterations: number): number;
}

/** Ends after a number of iterations (>= 0); the same on every machine. */
export function afterIterations(limit: number): StopRule {
  return { fraction: (iterations) => (limit <= 0 ? 1 : iterations / limit) };
}

/** Ends when `clock` has moved on by `durationMs` (>= 0) from now; how many iterations that is depends on the machine. */
export function afterDuration(clock: MillisecondClock, durationMs: number): StopRule {
  const start = clock();
  return { fraction: () => (durationMs <= 0 ? 1 : (clock() - start) / durationMs) };
}

/** Ends when `isStopped` says so; uses up nothing by itself. */
export function whenStopped(isStopped: () => boolean): StopRule {
  return { fraction: () => (isStopped() ? 1 : 0) };
}

/** Ends with the first of several rules. Without rules it never ends. */
export function firstOf(...rules: readonly StopRule[]): StopRule {
  return {
    fraction: (iterations) => rules.reduce((most, rule) => Math.max(most, rule.fraction(iterations)), 0),
  };
}
