import { randomUUID } from 'node:crypto';
import { DryspellError } from '../../../kernel/src/index.ts';
import type { Prisma } from '../../generated/client.ts';
import type { Tx } from '../database.ts';
import { dateFromDatabase, dateToDatabase } from '../season-tables.ts';
import type { VisitPlace } from './places.ts';
import { type AssignmentChange, writeAssignments } from './write-assignments.ts';
import { type LiftChange, writeEquipment, writeLift } from './write-holds.ts';

export interface PublishTarget {
  readonly tx: Tx;
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

export type OldVisit = Prisma.VisitGetPayload<{
  include: { days: true; assignments: true; liftHolds: true; equipmentHolds: true };
}>;

/**
 * Makes the visits of the season those of the plan. A visit keeps its row, id and uid for good; its sequence rises only
 * when its days, its crew or its being at all change. Throws `state-conflict` when the plan moves a visit that has begun.
 */
export async function writeVisits(target: PublishTarget, places: readonly VisitPlace[]): Promise<Written> {
  const { tx, seasonId } = target;
  const rows = await tx.visit.findMany({
    where: { seasonId },
    include: { days: { orderBy: { day: 'asc' } }, assignments: true, liftHolds: true, equipmentHolds: true },
  });
  const old = new Map(rows.map((row) => [row.job, row]));
  const planned = new Set(places.map((place) => place.job));
  const written: Written = { visits: [], assignments: [], lifts: [], unchanged: 0 };
  // Cancelled ones first, so that what they held is free before others claim it.
  for (const row of rows.filter((visit) => !planned.has(visit.job))) await cancelVisit(target, row, written);
  for (const place of places) {
    const row = old.get(place.job);
    if (row && (row.state === 'underway' || row.state === 'done'))
      await keepBegun(target, row, place, written);
    else await writeVisit(target, row ?? null, place, written);
  }
  return written;
}

async function writeVisit(
  target: PublishTarget,
  old: OldVisit | null,
  place: VisitPlace,
  written: Written,
): Promise<void> {
  const { tx, seasonId, planId } = target;
  const before = old === null || old.state === 'cancelled' ? null : placeOf(old);
  const after = seenOf(place);
  const seen = before === null || JSON.stringify(before) !== JSON.stringify(after);
  const id = old?.id ?? randomUUID();
  const data = {
    planId,
    crew: place.crew,
    state: 'planned',
    startDay: dateToDatabase(place.startDay),
    endDay: dateToDatabase(place.endDay),
    releaseDay: dateToDatabase(place.releaseDay),
    deliveryDay: place.deliveryDay && dateToDatabase(place.deliveryDay),
    fromBase: place.fromBase,
    cancelledAt: null,
  };
  if (old === null) {
    await tx.visit.create({
      data: { id, seasonId, job: place.job, uid: `visit-${id}@${target.mailDomain}`, ...data },
    });
  } else {
    await tx.visit.update({ where: { id }, data: { ...data, sequence: old.sequence + (seen ? 1 : 0) } });
  }
  await writeDays(tx, id, place, old);
  if (seen)
    written.visits.push({ visitId: id, job: place.job, what: before ? 'changed' : 'added', before, after });
  else written.unchanged += 1;
  const input = { target, visitId: id, place, seen };
  written.assignments.push(...(await writeAssignments(input, old?.assignments ?? [])));
  written.lifts.push(...(await writeLift(input, old?.liftHolds ?? [])));
  await writeEquipment(input, old?.equipmentHolds ?? []);
}

async function writeDays(tx: Tx, visitId: string, place: VisitPlace, old: OldVisit | null): Promise<void> {
  const data = [
    ...place.siteDays.map((day, at) => ({
      visitId,
      day: dateToDatabase(day),
      kind: 'site',
      dayNumber: at + 1,
      outside: place.work[at]?.outside ?? null,
      hours: place.work[at]?.hours ?? null,
    })),
    ...place.reserveDays.map((day, at) => ({
      visitId,
      day: dateToDatabase(day),
      kind: 'reserve',
      dayNumber: at + 1,
      outside: null,
      hours: null,
    })),
  ];
  if (old) {
    const text = (day: { day: Date; kind: string; outside: boolean | null; hours: number | null }) =>
      `${dateFromDatabase(day.day)} ${day.kind} ${day.outside} ${day.hours}`;
    if (old.days.map(text).join() === data.map(text).join()) return;
    await tx.visitDay.deleteMany({ where: { visitId } });
  }
  await tx.visitDay.createMany({ data });
}

async function cancelVisit(target: PublishTarget, old: OldVisit, written: Written): Promise<void> {
  if (old.state === 'cancelled' || old.state === 'done') return;
  if (old.state === 'underway') throw new DryspellError('state-conflict', { job: old.job, state: old.state });
  await target.tx.visit.update({
    where: { id: old.id },
    data: { state: 'cancelled', cancelledAt: new Date(), planId: target.planId, sequence: old.sequence + 1 },
  });
  written.visits.push({
    visitId: old.id,
    job: old.job,
    what: 'cancelled',
    before: placeOf(old),
    after: null,
  });
  const input = { target, visitId: old.id, place: null, seen: true };
  written.assignments.push(...(await writeAssignments(input, old.assignments)));
  written.lifts.push(...(await writeLift(input, old.liftHolds)));
  await writeEquipment(input, old.equipmentHolds);
}

/** A visit that has begun stays as it is; a plan that says otherwise is refused. */
async function keepBegun(
  target: PublishTarget,
  old: OldVisit,
  place: VisitPlace,
  written: Written,
): Promise<void> {
  const start = dateFromDatabase(old.startDay);
  if (start !== place.startDay || old.crew !== place.crew) {
    throw new DryspellError('state-conflict', { job: old.job, state: old.state, start, crew: old.crew });
  }
  await target.tx.visit.update({ where: { id: old.id }, data: { planId: target.planId } });
  written.unchanged += 1;
}

/** What people see of a visit. */
function seenOf(place: VisitPlace): object {
  return { crew: place.crew, siteDays: place.siteDays };
}

function placeOf(old: OldVisit): object {
  const siteDays = old.days.filter((day) => day.kind === 'site').map((day) => dateFromDatabase(day.day));
  return { crew: old.crew, siteDays };
}
