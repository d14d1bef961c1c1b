import { randomUUID } from 'node:crypto';
import type { AssignmentModel } from '../../generated/models/Assignment.ts';
import { dateFromDatabase, dateToDatabase } from '../season-tables.ts';
import type { PersonPlace, Span } from './places.ts';
import type { VisitStep } from './visit-changes.ts';

export interface AssignmentChange {
  readonly assignmentId: string;
  readonly visitId: string;
  readonly person: string;
  readonly what: 'added' | 'changed' | 'cancelled';
  /** The days that the person was told before; null when added. */
  readonly before: Span | null;
}

/**
 * Makes the assignments of a visit those of its place. What a person accepted stays accepted as long as nothing changes
 * that the person would see; else the person is asked again, under the same calendar uid with a higher sequence.
 */
export function changeAssignments(step: VisitStep, old: readonly AssignmentModel[]): void {
  const wanted = new Map((step.place?.people ?? []).map((person) => [person.person, person]));
  for (const row of old) {
    const person = wanted.get(row.person);
    wanted.delete(row.person);
    if (person) keepAssignment(step, row, person);
    else if (row.state !== 'cancelled') cancelAssignment(step, row);
  }
  for (const person of wanted.values()) {
    const id = randomUUID();
    step.batch.newAssignments.push({
      id,
      seasonId: step.target.seasonId,
      visitId: step.visitId,
      person: person.person,
      role: person.role,
      fromDay: dateToDatabase(person.from),
      toDay: dateToDatabase(person.to),
      icalUid: `assignment-${id}@${step.target.mailDomain}`,
    });
    note(step, { id, person: person.person }, 'added', null);
  }
}

function cancelAssignment(step: VisitStep, row: AssignmentModel): void {
  const { from, to } = spanOf(row);
  const icalSequence = row.icalSequence + 1;
  step.batch.assignments.push({
    id: row.id,
    role: row.role,
    fromDay: from,
    toDay: to,
    state: 'cancelled',
    icalSequence,
  });
  step.batch.endedLinks.push(row.id);
  // Somebody who declined is not told that it is off.
  if (row.state !== 'declined') note(step, row, 'cancelled', { from, to });
}

function keepAssignment(step: VisitStep, row: AssignmentModel, person: PersonPlace): void {
  const before = spanOf(row);
  const same = row.role === person.role && before.from === person.from && before.to === person.to;
  if (!step.seen && row.state !== 'cancelled' && same) return;
  step.batch.assignments.push({
    id: row.id,
    role: person.role,
    fromDay: person.from,
    toDay: person.to,
    state: 'asked',
    icalSequence: row.icalSequence + 1,
  });
  if (row.state === 'cancelled') note(step, row, 'added', null);
  else note(step, row, 'changed', before);
}

function note(
  step: VisitStep,
  row: { id: string; person: string },
  what: AssignmentChange['what'],
  before: Span | null,
): void {
  const { id: assignmentId, person } = row;
  step.written.assignments.push({ assignmentId, visitId: step.visitId, person, what, before });
}

function spanOf(row: AssignmentModel): Span {
  return { from: dateFromDatabase(row.fromDay), to: dateFromDatabase(row.toDay) };
}
