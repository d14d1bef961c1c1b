import { placeFixed } from './bindings.ts';
import type { PlanState } from './plan-state.ts';
import { barTo } from './reasons.ts';

/** Jobs in the order in which they come: pinned and frozen ones, then by the day of goods (or site), then by promise, then as listed. */
export function firstComeOrder(state: PlanState): number[] {
  const { problem, jobs } = state.season;
  const come = (job: number): number => {
    const facts = problem.jobs[job]!;
    return facts.goods ? Math.max(facts.siteReadyFrom, facts.goods.goodsFrom) : facts.siteReadyFrom;
  };
  const promised = (job: number): number => problem.jobs[job]!.promisedBy ?? Number.MAX_SAFE_INTEGER;
  return jobs
    .map((_, job) => job)
    .sort(
      (a, b) =>
        Number(jobs[b]!.mandatory) - Number(jobs[a]!.mandatory) ||
        come(a) - come(b) ||
        promised(a) - promised(b) ||
        a - b,
    );
}

/**
 * First come, first served: each job of the order that is not planned yet goes to its first valid start, on the crew that can start it
 * first (the first listed of several), those before it staying where they are. A job without a valid place is left out.
 */
export function placeFirstCome(state: PlanState, order: readonly number[]): void {
  const { season } = state;
  for (const job of order) {
    if (state.placements.isPlanned(job)) continue;
    search: for (let start = 0; start < season.dayCount; start += 1) {
      for (let crew = 0; crew < season.crewCount; crew += 1) {
        if (barTo(state, crew, job, start)) continue;
        placeFixed(state, crew, job, start);
        break search;
      }
    }
  }
}

/** Puts each job that had a published place there, as far as that is still free; the earliest first. */
export function placePublished(state: PlanState): void {
  const { problem, crews } = state.season;
  const published = problem.jobs
    .flatMap((job, index) =>
      job.published && !state.placements.isPlanned(index) ? [{ index, ...job.published }] : [],
    )
    .sort((a, b) => a.start - b.start || a.index - b.index);
  for (const { index, start, crew } of published) {
    const crewIndex = crews.findIndex((each) => each.id === crew);
    const day = start - problem.firstDay;
    if (crewIndex < 0 || day < 0 || day >= state.season.dayCount) continue;
    if (!barTo(state, crewIndex, index, day)) placeFixed(state, crewIndex, index, day);
  }
}
