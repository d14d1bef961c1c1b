import { type LocalDate, toLocalDate } from '../../kernel/src/index.ts';
import type { PlannedVisit, SeasonPlan } from '../../season/src/plan.ts';

/** Where a job stands in a plan. */
export interface PlanPlace {
  readonly start: LocalDate;
  readonly end: LocalDate;
  readonly crew: string;
}

export interface MovedJob {
  readonly job: string;
  readonly from: PlanPlace;
  readonly to: PlanPlace;
}

/** What one plan changes against another. Two jobs that took each other's place are both in `moved`. */
export interface PlanDifference {
  readonly added: readonly { readonly job: string; readonly to: PlanPlace }[];
  /** Another start or another crew. */
  readonly moved: readonly MovedJob[];
  readonly dropped: readonly { readonly job: string; readonly from: PlanPlace }[];
  readonly unchanged: number;
  /** Null: there was no plan before. */
  readonly fromTotalCents: number | null;
  readonly toTotalCents: number;
}

/** Compares two plans job by job; all lists are in the order of the dates. */
export function comparePlans(from: SeasonPlan | null, to: SeasonPlan): PlanDifference {
  const before = new Map((from?.visits ?? []).map((visit) => [visit.job, placeOf(visit)]));
  const after = new Map(to.visits.map((visit) => [visit.job, placeOf(visit)]));
  const added: { job: string; to: PlanPlace }[] = [];
  const moved: MovedJob[] = [];
  let unchanged = 0;
  for (const [job, place] of after) {
    const old = before.get(job);
    if (!old) added.push({ job, to: place });
    else if (old.start !== place.start || old.crew !== place.crew) moved.push({ job, from: old, to: place });
    else unchanged += 1;
  }
  const dropped = [...before]
    .filter(([job]) => !after.has(job))
    .map(([job, place]) => ({ job, from: place }));
  return {
    added: added.sort((a, b) => byStart(a.to, b.to)),
    moved: moved.sort((a, b) => byStart(a.to, b.to)),
    dropped: dropped.sort((a, b) => byStart(a.from, b.from)),
    unchanged,
    fromTotalCents: from?.totalCents ?? null,
    toTotalCents: to.totalCents,
  };
}

function placeOf(visit: PlannedVisit): PlanPlace {
  return {
    start: toLocalDate(visit.days[0] as number),
    end: toLocalDate(visit.days.at(-1) as number),
    crew: visit.crew,
  };
}

function byStart(a: PlanPlace, b: PlanPlace): number {
  return a.start < b.start ? -1 : a.start > b.start ? 1 : 0;
}
