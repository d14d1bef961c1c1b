import { randomUUID } from 'node:crypto';
import type { EquipmentHoldModel } from '../../generated/models/EquipmentHold.ts';
import type { LiftHoldModel } from '../../generated/models/LiftHold.ts';
import { dateFromDatabase, dateToDatabase } from '../season-tables.ts';
import type { Span } from './places.ts';
import type { VisitStep } from './visit-changes.ts';

export interface LiftChange {
  readonly holdId: string;
  readonly visitId: string;
  readonly lift: string;
  readonly what: 'added' | 'changed' | 'cancelled';
  /** The days that the hire firm was told before; null when added. */
  readonly before: Span | null;
}

/** Makes the lift hold of a visit that of its place; other days must be agreed with the hire firm anew. */
export function changeLift(step: VisitStep, old: readonly LiftHoldModel[]): void {
  const wanted = step.place?.lift ?? null;
  const note = (holdId: string, lift: string, what: LiftChange['what'], before: Span | null) =>
    step.written.lifts.push({ holdId, visitId: step.visitId, lift, what, before });
  for (const row of old.filter((hold) => hold.lift !== wanted?.lift && hold.state !== 'off')) {
    step.batch.liftHolds.push({ id: row.id, ...daysOf(spanOf(row)), state: 'off' });
    step.batch.endedLinks.push(row.id);
    if (row.state !== 'needed' && row.state !== 'declined') note(row.id, row.lift, 'cancelled', spanOf(row));
  }
  if (!wanted) return;
  const row = old.find((hold) => hold.lift === wanted.lift);
  if (!row) {
    const id = randomUUID();
    step.batch.newLiftHolds.push({
      id,
      seasonId: step.target.seasonId,
      visitId: step.visitId,
      lift: wanted.lift,
      fromDay: dateToDatabase(wanted.from),
      toDay: dateToDatabase(wanted.to),
    });
    note(id, wanted.lift, 'added', null);
  } else if (row.state === 'off' || !sameDays(row, wanted)) {
    step.batch.liftHolds.push({ id: row.id, ...daysOf(wanted), state: 'needed' });
    if (row.state === 'off') note(row.id, wanted.lift, 'added', null);
    else note(row.id, wanted.lift, 'changed', spanOf(row));
  }
}

/** Makes the equipment holds of a visit those of its place. */
export function changeEquipment(step: VisitStep, old: readonly EquipmentHoldModel[]): void {
  const wanted = new Map((step.place?.equipment ?? []).map((hold) => [hold.unit, hold]));
  for (const row of old) {
    const hold = wanted.get(row.unit);
    wanted.delete(row.unit);
    if (hold && (row.state === 'off' || !sameDays(row, hold))) {
      step.batch.equipmentHolds.push({ id: row.id, ...daysOf(hold), state: 'held' });
    } else if (!hold && row.state !== 'off') {
      step.batch.equipmentHolds.push({ id: row.id, ...daysOf(spanOf(row)), state: 'off' });
    }
  }
  for (const hold of wanted.values()) {
    step.batch.newEquipmentHolds.push({
      seasonId: step.target.seasonId,
      visitId: step.visitId,
      unit: hold.unit,
      fromDay: dateToDatabase(hold.from),
      toDay: dateToDatabase(hold.to),
    });
  }
}

function daysOf(span: Span): { fromDay: Span['from']; toDay: Span['to'] } {
  return { fromDay: span.from, toDay: span.to };
}

function spanOf(row: { fromDay: Date; toDay: Date }): Span {
  return { from: dateFromDatabase(row.fromDay), to: dateFromDatabase(row.toDay) };
}

function sameDays(row: { fromDay: Date; toDay: Date }, span: Span): boolean {
  const old = spanOf(row);
  return old.from === span.from && old.to === span.to;
}
