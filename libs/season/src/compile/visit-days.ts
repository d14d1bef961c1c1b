import type { Job } from '../problem.ts';

/** The days of one visit, counted from the first day of the horizon. */
export interface VisitDays {
  /** Site days followed by reserve days: w1..w(n+m). */
  readonly chain: readonly number[];
  /** How many of them are reserve days (m). */
  readonly reserve: number;
}

export type VisitDaysAnswer = VisitDays | 'crewCalendar' | 'horizon';

/**
 * The chain of a visit of `job` that starts on `start` for a crew with these working days (rules 1 and 2 of the lib's README),
 * or the rule that forbids it: the calendar (no working day, a gap that is too long or lies before an outside day) or the horizon.
 */
export function visitDays(job: Job, works: Uint8Array, start: number, reserveDays: number): VisitDaysAnswer {
  if (!works[start]) return 'crewCalendar';
  const chain = [start];
  const siteDays = job.pattern.length;
  for (let k = 1; k < siteDays + reserveDays; k += 1) {
    const last = chain[k - 1]!;
    let day = last + 1;
    while (day < works.length && !works[day]) day += 1;
    if (k < siteDays) {
      const gap = day - last - 1;
      if (gap > 0 && (job.pattern[k]!.outside || gap > job.maxGapDays)) return 'crewCalendar';
    }
    if (day >= works.length) return 'horizon';
    chain.push(day);
  }
  return { chain, reserve: reserveDays };
}
