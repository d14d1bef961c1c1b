import { randomUUID } from 'node:crypto';
import type { EquipmentHoldModel } from '../../generated/models/EquipmentHold.ts';
import type { LiftHoldModel } from '../../generated/models/LiftHold.ts';
import { revokeLinks } from '../action-link.repository.ts';
import { dateFromDatabase, dateToDatabase } from '../season-tables.ts';
import type { Span } from './places.ts';
import type { VisitInput } from './write-assignments.ts';

export interface LiftChange {
  readonly holdId: string;
  readonly visitId: string;
  readonly lift: string;
  readonly what: 'added' | 'changed' | 'cancelled';
  /** The days that the hire firm was told before; null when added. */
  readonly before: Span | null;
}

/** Makes the lift hold of a visit that of its place; other days must be agreed with the hire firm anew. */
export async function writeLift(input: VisitInput, old: readonly LiftHoldModel[]): Promise<LiftChange[]> {
  const { tx, seasonId } = input.target;
  const wanted = input.place?.lift ?? null;
  const changes: LiftChange[] = [];
  const note = (holdId: string, lift: string, what: LiftChange['what'], before: Span | null) =>
    changes.push({ holdId, visitId: input.visitId, lift, what, before });
  for (const row of old.filter((hold) => hold.lift !== wanted?.lift && hold.state !== 'off')) {
    await tx.liftHold.update({ where: { id: row.id }, data: { state: 'off' } });
    await revokeLinks(tx, { subjectKind: 'liftHold', subjectIds: [row.id] });
    if (row.state !== 'needed' && row.state !== 'declined') note(row.id, row.lift, 'cancelled', spanOf(row));
  }
  if (!wanted) return changes;
  const row = old.find((hold) => hold.lift === wanted.lift);
  if (!row) {
    const id = randomUUID();
    await tx.liftHold.create({
      data: { id, seasonId, visitId: input.visitId, lift: wanted.lift, ...daysOf(wanted) },
    });
    note(id, wanted.lift, 'added', null);
  } else if (row.state === 'off' || !sameDays(row, wanted)) {
    await tx.liftHold.update({
      where: { id: row.id },
      data: { ...daysOf(wanted), state: 'needed', answeredAt: null, reference: null },
    });
    if (row.state === 'off') note(row.id, wanted.lift, 'added', null);
    else note(row.id, wanted.lift, 'changed', spanOf(row));
  }
  return changes;
}

/** Makes the equipment holds of a visit those of its place. */
export async function writeEquipment(input: VisitInput, old: readonly EquipmentHoldModel[]): Promise<void> {
  const { tx, seasonId } = input.target;
  const wanted = new Map((input.place?.equipment ?? []).map((hold) => [hold.unit, hold]));
  for (const row of old) {
    const hold = wanted.get(row.unit);
    wanted.delete(row.unit);
    if (hold && (row.state === 'off' || !sameDays(row, hold))) {
      await tx.equipmentHold.update({ where: { id: row.id }, data: { ...daysOf(hold), state: 'held' } });
    } else if (!hold && row.state !== 'off') {
      await tx.equipmentHold.update({ where: { id: row.id }, data: { state: 'off' } });
    }
  }
  for (const hold of wanted.values()) {
    await tx.equipmentHold.create({
      data: { seasonId, visitId: input.visitId, unit: hold.unit, ...daysOf(hold) },
    });
  }
}

function daysOf(span: Span): { fromDay: Date; toDay: Date } {
  return { fromDay: dateToDatabase(span.from), toDay: dateToDatabase(span.to) };
}

function sameDays(row: { fromDay: Date; toDay: Date }, span: Span): boolean {
  return dateFromDatabase(row.fromDay) === span.from && dateFromDatabase(row.toDay) === span.to;
}

function spanOf(row: LiftHoldModel): Span {
  return { from: dateFromDatabase(row.fromDay), to: dateFromDatabase(row.toDay) };
}
