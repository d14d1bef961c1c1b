import { disturbanceWeight } from '../compile/jobs.ts';
import type { CostKind, CostLine } from '../plan.ts';
import type { BayUsage } from './bay-usage.ts';
import { casualCents, routeCents, standbyCents } from './exact-cost.ts';
import type { LiftHire } from './lift-hire.ts';
import type { Placements } from './placements.ts';

const NOTHING = { job: null, crew: null, lift: null, warehouse: null } as const;

/** The cost lines of a plan, one for each kind and subject, without lines of 0; the formulas are those of the README. */
export function costLines(placements: Placements, lifts: LiftHire, bays: BayUsage): CostLine[] {
  const { season } = placements;
  const lines: CostLine[] = [];
  const add = (kind: CostKind, subject: Partial<CostLine>, cents: number): void => {
    if (cents !== 0) lines.push({ kind, ...NOTHING, ...subject, cents });
  };
  for (let job = 0; job < season.jobCount; job += 1) addJobLines(placements, job, add);
  for (const [index, crew] of season.crews.entries()) {
    const route = routeCents(placements, index);
    add('km', { crew: crew.id }, route.km);
    add('nights', { crew: crew.id }, route.nights);
    add('travelDays', { crew: crew.id }, route.travelDays);
  }
  for (const [index, lift] of season.lifts.entries())
    add('liftHire', { lift: lift.id }, lifts.unitCents(index));
  for (const [index, warehouse] of season.warehouses.entries()) {
    const { inside, overflow } = bays.warehouseCents(index);
    add('bays', { warehouse: warehouse.id }, inside);
    add('bayOverflow', { warehouse: warehouse.id }, overflow);
  }
  return lines;
}

function addJobLines(
  placements: Placements,
  job: number,
  add: (kind: CostKind, subject: Partial<CostLine>, cents: number) => void,
): void {
  const { season } = placements;
  const { problem } = season;
  const facts = problem.jobs[job]!;
  const { disturbance } = problem;
  const subject = { job: facts.id };
  const weight = facts.published ? disturbanceWeight(problem, facts.published.start) : 0;
  if (!placements.isPlanned(job)) {
    add('notPlanned', subject, facts.notPlannedCents);
    if (facts.published) add('moved', subject, Math.round(disturbance.movedCents * weight));
    return;
  }
  const slot = placements.slotOf(job);
  const crew = season.crews[placements.crewOf[job]!]!.id;
  if (facts.promisedBy !== null) {
    const lateDays = problem.firstDay + season.slots.lastSiteDay[slot]! - facts.promisedBy;
    add('late', subject, Math.max(0, lateDays) * facts.lateCentsPerDay);
  }
  add('standby', { ...subject, crew }, standbyCents(placements, job));
  add('casualHands', subject, casualCents(placements, job));
  if (!facts.published) return;
  const by = Math.abs(problem.firstDay + placements.startOf[job]! - facts.published.start);
  if (by > 0)
    add('moved', subject, Math.round((disturbance.movedCents + disturbance.movedPerDayCents * by) * weight));
  if (crew !== facts.published.crew) add('crewChanged', subject, disturbance.crewChangedCents);
}
