import { randomUUID } from 'node:crypto';
import type { AssignmentModel } from '../../generated/models/Assignment.ts';
import { revokeLinks } from '../action-link.repository.ts';
import { dateFromDatabase, dateToDatabase } from '../season-tables.ts';
import type { PersonPlace, Span, VisitPlace } from './places.ts';
import type { PublishTarget } from './write-visits.ts';

/** The visit whose people or machines are written; `place` is null when the visit is cancelled. */
export interface VisitInput {
  readonly target: PublishTarget;
  readonly visitId: string;
  readonly place: VisitPlace | null;
  /** Whether the days or the crew of the visit changed. */
  readonly seen: boolean;
}

export interface AssignmentChange {
  readonly assignmentId: string;
  readonly visitId: string;
  readonly person: string;
  readonly what: 'added' | 'changed' | 'cancelled';
  /** The days that the person was told before; null when added. */
  readonly before: Span | null;
}

type Note = (
  row: { id: string; person: string },
  what: AssignmentChange['what'],
  before: Span | null,
) => void;

/**
 * Makes the assignments of a visit those of its place. What a person accepted stays accepted as long as nothing changes
 * that the person would see; else the person is asked again, under the same calendar uid with a higher sequence.
 */
export async function writeAssignments(
  input: VisitInput,
  old: readonly AssignmentModel[],
): Promise<AssignmentChange[]> {
  const wanted = new Map((input.place?.people ?? []).map((person) => [person.person, person]));
  const changes: AssignmentChange[] = [];
  const note: Note = (row, what, before) => {
    changes.push({ assignmentId: row.id, visitId: input.visitId, person: row.person, what, before });
  };
  for (const row of old) {
    const person = wanted.get(row.person);
    wanted.delete(row.person);
    if (person) await keepAssignment(input, row, person, note);
    else if (row.state !== 'cancelled') {
      await input.target.tx.assignment.update({
        where: { id: row.id },
        data: { state: 'cancelled', icalSequence: row.icalSequence + 1 },
      });
      await revokeLinks(input.target.tx, { subjectKind: 'assignment', subjectIds: [row.id] });
      // Somebody who declined is not told that it is off.
      if (row.state !== 'declined') note(row, 'cancelled', spanOf(row));
    }
  }
  for (const person of wanted.values()) {
    const id = randomUUID();
    await input.target.tx.assignment.create({
      data: {
        id,
        seasonId: input.target.seasonId,
        visitId: input.visitId,
        person: person.person,
        role: person.role,
        fromDay: dateToDatabase(person.from),
        toDay: dateToDatabase(person.to),
        icalUid: `assignment-${id}@${input.target.mailDomain}`,
      },
    });
    note({ id, person: person.person }, 'added', null);
  }
  return changes;
}

async function keepAssignment(
  input: VisitInput,
  row: AssignmentModel,
  person: PersonPlace,
  note: Note,
): Promise<void> {
  const same =
    !input.seen &&
    row.state !== 'cancelled' &&
    row.role === person.role &&
    dateFromDatabase(row.fromDay) === person.from &&
    dateFromDatabase(row.toDay) === person.to;
  if (same) return;
  await input.target.tx.assignment.update({
    where: { id: row.id },
    data: {
      role: person.role,
      fromDay: dateToDatabase(person.from),
      toDay: dateToDatabase(person.to),
      state: 'asked',
      answeredAt: null,
      answerNote: null,
      icalSequence: row.icalSequence + 1,
    },
  });
  if (row.state === 'cancelled') note(row, 'added', null);
  else note(row, 'changed', spanOf(row));
}

function spanOf(row: AssignmentModel): Span {
  return { from: dateFromDatabase(row.fromDay), to: dateFromDatabase(row.toDay) };
}
