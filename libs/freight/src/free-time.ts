import type { Cents, Day } from '../../kernel/src/index.ts';

/**
 * The last day of free time: `freeDays` calendar days after the day of arrival, the day of arrival itself not counted.
 * Lines and terminals count differently (working days, from unloading, from the next shift): put in what the contract says.
 */
export function lastFreeDay(arrivedDay: Day, freeDays: number): Day {
  return (arrivedDay + freeDays) as Day;
}

/** What a container costs if it is handed back on a day: the days after free time at the daily rate, in cents. */
export function containerCostCents(input: {
  arrivedDay: Day;
  freeDays: number;
  dayCostCents: number;
  backOn: Day;
}): Cents {
  const daysOver = Math.max(0, input.backOn - lastFreeDay(input.arrivedDay, input.freeDays));
  return (daysOver * input.dayCostCents) as Cents;
}
