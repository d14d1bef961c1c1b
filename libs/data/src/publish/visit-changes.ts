import { randomUUID } from 'node:crypto';
import { DryspellError } from '../../../kernel/src/index.ts';
import type { Prisma } from '../../generated/client.ts';
import type { Tx } from '../database.ts';
import { dateFromDatabase, dateToDatabase } from '../season-tables.ts';
import { type AssignmentChange, changeAssignments } from './assignment-changes.ts';
import { type Batch, emptyBatch, writeBatch } from './batch.ts';
import { changeEquipment, changeLift, type LiftChange } from './hold-changes.ts';
import type { VisitPlace } from './places.ts';

export interface PublishTarget {
  readonly seasonId: string;
  readonly planId: string;
  readonly mailDomain: string;
}

export interface VisitChange {
  readonly visitId: string;
  readonly job: string;
  readonly what: 'added' | 'changed' | 'cancelled';
  readonly before: object | null;
  readonly after: object | null;
}

export interface Written {
  readonly visits: VisitChange[];
  readonly assignments: AssignmentChange[];
  readonly lifts: LiftChange[];
  unchanged: number;
}

/** One visit on its way from what it was to its place in the plan; `place` is null when it is cancelled. */
export interface VisitStep {
  readonly target: PublishTarget;
  readonly batch: Batch;
  readonly written: Written;
  readonly visitId: string;
  readonly place: VisitPlace | null;
  /** Whether the days, the crew or the being of the visit changed. */
  readonly seen: boolean;
}

type OldVisit = Prisma.VisitGetPayload<{
  include: { days: true; assignments: true; liftHolds: true; equipmentHolds: true };
}>;

/**
 * Makes the visits of the season those of the plan. A visit keeps its row, id and uid for good; its sequence rises only
 * when its days, its crew or its being at all change. Throws `state-conflict` when the plan moves a visit that has begun.
 */
export async function writeVisits(
  tx: Tx,
  target: PublishTarget,
  places: readonly VisitPlace[],
): Promise<Written> {
  const rows = await tx.visit.findMany({
    where: { seasonId: target.seasonId },
    include: { days: { orderBy: { day: 'asc' } }, assignments: true, liftHolds: true, equipmentHolds: true },
  });
  const old = new Map(rows.map((row) => [row.job, row]));
  const planned = new Set(places.map((place) => place.job));
  const written: Written = { visits: [], assignments: [], lifts: [], unchanged: 0 };
  const common = { target, batch: emptyBatch(), written };
  for (const row of rows.filter((visit) => !planned.has(visit.job))) cancelVisit(common, row);
  for (const place of places) {
    const row = old.get(place.job);
    if (row && (row.state === 'underway' || row.state === 'done')) keepBegun(common, row, place);
    else placeVisit(common, row ?? null, place);
  }
  await writeBatch(tx, target.planId, common.batch);
  return written;
}

type Common = Pick<VisitStep, 'target' | 'batch' | 'written'>;

function placeVisit(common: Common, old: OldVisit | null, place: VisitPlace): void {
  const { batch, written, target } = common;
  const before = old === null || old.state === 'cancelled' ? null : placeOf(old);
  const after = { crew: place.crew, siteDays: place.siteDays };
  const seen = before === null || JSON.stringify(before) !== JSON.stringify(after);
  const visitId = old?.id ?? randomUUID();
  const { crew, startDay, endDay, releaseDay, deliveryDay, fromBase } = place;
  if (old === null) {
    batch.newVisits.push({
      id: visitId,
      seasonId: target.seasonId,
      job: place.job,
      planId: target.planId,
      uid: `visit-${visitId}@${target.mailDomain}`,
      crew,
      startDay: dateToDatabase(startDay),
      endDay: dateToDatabase(endDay),
      releaseDay: dateToDatabase(releaseDay),
      deliveryDay: deliveryDay && dateToDatabase(deliveryDay),
      fromBase,
    });
  } else {
    const sequence = old.sequence + (seen ? 1 : 0);
    const days = { startDay, endDay, releaseDay, deliveryDay };
    batch.visits.push({ id: visitId, crew, state: 'planned', ...days, fromBase, sequence });
  }
  placeDays(batch, visitId, place, old);
  if (seen)
    written.visits.push({ visitId, job: place.job, what: before ? 'changed' : 'added', before, after });
  else written.unchanged += 1;
  const step: VisitStep = { ...common, visitId, place, seen };
  changeAssignments(step, old?.assignments ?? []);
  changeLift(step, old?.liftHolds ?? []);
  changeEquipment(step, old?.equipmentHolds ?? []);
}

function placeDays(batch: Batch, visitId: string, place: VisitPlace, old: OldVisit | null): void {
  const site = place.siteDays.map((day, at) => {
    const { outside, hours } = place.work[at] as { outside: boolean; hours: number };
    return { visitId, day: dateToDatabase(day), kind: 'site', dayNumber: at + 1, outside, hours };
  });
  const reserve = place.reserveDays.map((day, at) => {
    return {
      visitId,
      day: dateToDatabase(day),
      kind: 'reserve',
      dayNumber: at + 1,
      outside: null,
      hours: null,
    };
  });
  const data = [...site, ...reserve];
  if (old) {
    const text = (day: { day: Date; kind: string; outside: boolean | null; hours: number | null }) =>
      `${dateFromDatabase(day.day)} ${day.kind} ${day.outside} ${day.hours}`;
    if (old.days.map(text).join() === data.map(text).join()) return;
    batch.clearedDays.push(visitId);
  }
  batch.days.push(...data);
}

function cancelVisit(common: Common, old: OldVisit): void {
  if (old.state === 'cancelled' || old.state === 'done') return;
  if (old.state === 'underway') throw new DryspellError('state-conflict', { job: old.job, state: old.state });
  common.batch.visits.push({
    id: old.id,
    crew: old.crew,
    state: 'cancelled',
    startDay: dateFromDatabase(old.startDay),
    endDay: dateFromDatabase(old.endDay),
    releaseDay: dateFromDatabase(old.releaseDay),
    deliveryDay: old.deliveryDay && dateFromDatabase(old.deliveryDay),
    fromBase: old.fromBase,
    sequence: old.sequence + 1,
  });
  common.written.visits.push({
    visitId: old.id,
    job: old.job,
    what: 'cancelled',
    before: placeOf(old),
    after: null,
  });
  const step: VisitStep = { ...common, visitId: old.id, place: null, seen: true };
  changeAssignments(step, old.assignments);
  changeLift(step, old.liftHolds);
  changeEquipment(step, old.equipmentHolds);
}

/** A visit that has begun stays as it is; a plan that says otherwise is refused. */
function keepBegun(common: Common, old: OldVisit, place: VisitPlace): void {
  const start = dateFromDatabase(old.startDay);
  if (start !== place.startDay || old.crew !== place.crew) {
    throw new DryspellError('state-conflict', { job: old.job, state: old.state, start, crew: old.crew });
  }
  common.batch.keptVisits.push(old.id);
  common.written.unchanged += 1;
}

/** What people see of a visit as it was published before. */
function placeOf(old: OldVisit): object {
  const siteDays = old.days.filter((day) => day.kind === 'site').map((day) => dateFromDatabase(day.day));
  return { crew: old.crew, siteDays };
}
