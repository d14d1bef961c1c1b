import { SLOT_BARS } from '../compile/compiled-season.ts';
import type { Binding, BindingKind } from '../plan.ts';
import { type FixedVisit, timeFixedStarts, withVisit } from './fixed-starts.ts';
import type { PlanState } from './plan-state.ts';

/** The visits of a crew as they stand. */
export function fixedVisits(state: PlanState, crew: number): FixedVisit[] {
  return state.placements.sequences[crew]!.map((job) => ({ job, start: state.placements.startOf[job]! }));
}

/**
 * What keeps a job that is out from a place, all others staying where they are: the rule with the ids that it needs. Null if nothing
 * does. Of several rules the one that the job itself brings along is named before those that other jobs cause.
 */
export function barTo(state: PlanState, crew: number, job: number, start: number): Binding | null {
  const { season } = state;
  const slot = (crew * season.jobCount + job) * season.dayCount + start;
  const day = season.problem.firstDay + start;
  const bar = SLOT_BARS[season.slots.bar[slot]!]!;
  const crewId = season.crews[crew]!.id;
  if (bar !== 'open') return { kind: bar, data: { day, crew: crewId } };
  const held = heldElsewhere(state, crew, job, start, slot);
  if (held) return { kind: held.kind, data: { day, crew: crewId, ...held.data } };
  const visits = fixedVisits(state, crew);
  const wanted = withVisit(visits, { job, start });
  if (timeFixedStarts(season, crew, wanted)) return null;
  const alone = timeFixedStarts(season, crew, [{ job, start }], Number.POSITIVE_INFINITY);
  if (!alone) return { kind: 'horizon', data: { day, crew: crewId } };
  if (timeFixedStarts(season, crew, wanted, Number.POSITIVE_INFINITY)) {
    return { kind: 'nightsAway', data: { day, crew: crewId, nights: season.crews[crew]!.maxNights } };
  }
  const busy = visits.find(
    (visit) => !timeFixedStarts(season, crew, withVisit([visit], { job, start }), Number.POSITIVE_INFINITY),
  );
  return {
    kind: 'crewBusy',
    data: { day, crew: crewId, ...(busy ? { job: season.jobs[busy.job]!.id } : {}) },
  };
}

/** A casual hand, lift or equipment unit that would do but is held by another crew. */
function heldElsewhere(
  state: PlanState,
  crew: number,
  job: number,
  start: number,
  slot: number,
): { kind: BindingKind; data: Record<string, string> } | null {
  const { season, holds } = state;
  const release = season.slots.release[slot]!;
  const idOf = (other: number): Record<string, string> => (other >= 0 ? { job: season.jobs[other]!.id } : {});
  const { sets } = season.covers[season.slots.cover[slot]!]!;
  const casualBlockers = sets.map((set) => holds.casualBlocker(set, start, release, crew));
  if (!casualBlockers.some((blocker) => blocker < 0))
    return { kind: 'hands', data: idOf(casualBlockers[0] ?? -1) };
  const { liftType, liftUnits, equipmentChoices } = season.jobs[job]!;
  if (liftType >= 0) {
    const free = liftUnits.some(
      (unit) => holds.lifts.addedCents(unit, slot, crew) !== Number.POSITIVE_INFINITY,
    );
    const blocker =
      liftUnits.map((unit) => holds.lifts.blockerOf(unit, slot, crew)).find((other) => other >= 0) ?? -1;
    if (!free) return { kind: 'lift', data: idOf(blocker) };
  }
  for (const units of equipmentChoices) {
    if (units.some((unit) => state.rows.unitIsFree(unit, crew, job, start, release))) continue;
    const blocker = units
      .map((unit) => holds.unitBlocker(unit, crew, job, start, release))
      .find((other) => other >= 0);
    return { kind: 'equipment', data: { kind: season.equipment[units[0]!]!.kind, ...idOf(blocker ?? -1) } };
  }
  return null;
}
