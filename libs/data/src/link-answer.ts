import { DryspellError, type Instant, type LocalDate, localDateAt } from '../../kernel/src/index.ts';
import type { Answer, AnswerSubject } from './answer.ts';
import type { Tx } from './database.ts';
import { dateFromDatabase, dateToDatabase } from './season-tables.ts';
import type { VisitState } from './visit-facts.ts';

/** Why a link takes no answer any more: what it asks was called off or done, or its first day has begun. */
export type ClosedBecause = 'called-off' | 'done' | 'begun';

/** What decides whether an answer by link can still be taken. */
export interface AnswerWindow {
  readonly kind: AnswerSubject;
  /** State of the subject itself; `null` for a visit. */
  readonly state: string | null;
  /** State of the visit that it belongs to; `null` where there is none. */
  readonly visitState: VisitState | null;
  /** First day that is asked for, in the time of the site. */
  readonly firstDay: LocalDate | null;
  readonly zone: string;
}

/**
 * Why an answer is not taken any more; null: it is. On the day itself a "no" by mail would be read too late, so it must be
 * said by telephone; what a customer has made ready may be told until the visit is over.
 */
export function closedBecause(window: AnswerWindow, now: Instant): ClosedBecause | null {
  const { kind, state, visitState, firstDay, zone } = window;
  if (visitState === 'cancelled' || state === 'cancelled' || state === 'off') return 'called-off';
  if (visitState === 'done' || (kind === 'deliveryRun' && state === 'done')) return 'done';
  if (kind === 'readinessItem') return null;
  const begun = visitState === 'underway' && kind !== 'deliveryRun';
  return begun || (firstDay !== null && localDateAt(now, zone) >= firstDay) ? 'begun' : null;
}

/** How a subject stands before it is answered by link. Throws `not-found`. */
export interface Standing {
  readonly window: AnswerWindow;
  readonly visitId: string | null;
}

const ofVisit = { select: { id: true, state: true, jobRow: { select: { siteRow: true } } } } as const;

/** Reads how a subject stands. Throws `not-found`. */
export async function standingOf(tx: Tx, subject: { kind: AnswerSubject; id: string }): Promise<Standing> {
  const found = await find(tx, subject);
  if (!found) throw new DryspellError('not-found', { [subject.kind]: subject.id });
  return {
    visitId: found.visit?.id ?? null,
    window: {
      kind: subject.kind,
      state: found.state,
      visitState: (found.visit?.state as VisitState | undefined) ?? null,
      firstDay: found.day && dateFromDatabase(found.day),
      zone: found.zone,
    },
  };
}

interface FoundSubject {
  readonly state: string | null;
  readonly day: Date | null;
  readonly zone: string;
  readonly visit: { readonly id: string; readonly state: string } | null;
}

async function find(tx: Tx, { kind, id }: { kind: AnswerSubject; id: string }): Promise<FoundSubject | null> {
  const where = { where: { id } };
  if (kind === 'assignment' || kind === 'liftHold') {
    const row =
      kind === 'assignment'
        ? await tx.assignment.findUnique({ ...where, include: { visit: ofVisit } })
        : await tx.liftHold.findUnique({ ...where, include: { visit: ofVisit } });
    if (!row) return null;
    return { state: row.state, day: row.fromDay, zone: row.visit.jobRow.siteRow.zone, visit: row.visit };
  }
  if (kind === 'visit') {
    const row = await tx.visit.findUnique({
      ...where,
      include: { jobRow: { select: { siteRow: true } } },
    });
    return row && { state: null, day: row.startDay, zone: row.jobRow.siteRow.zone, visit: row };
  }
  const include = { jobRow: { include: { visit: true, siteRow: true } } } as const;
  const row =
    kind === 'deliveryRun'
      ? await tx.deliveryRun.findUnique({ ...where, include })
      : await tx.readinessItem.findUnique({ ...where, include });
  if (!row) return null;
  const { visit, siteRow } = row.jobRow;
  return { state: row.state, day: 'day' in row ? row.day : null, zone: siteRow.zone, visit };
}

/** What is kept of an answer beside its word. */
export interface KeptWords {
  readonly value: number | null;
  readonly reference: string | null;
  readonly note: string | null;
  /** State of the subject after the answer. */
  readonly state: string;
}

/**
 * The confirmation that an answer repeats: the last word on the subject came by the same link, said the same, and nothing has
 * changed since. Null: it says something new.
 */
export async function findRepeated(
  tx: Tx,
  input: {
    readonly linkId: string;
    readonly subject: { readonly kind: AnswerSubject; readonly id: string };
    readonly answer: Answer;
    readonly standing: Standing;
  },
): Promise<{ confirmationId: string; state: string } | null> {
  const { subject, answer, standing } = input;
  const last = await tx.confirmation.findFirst({
    where: { subjectKind: subject.kind, subjectId: subject.id },
    orderBy: [{ at: 'desc' }, { id: 'desc' }],
  });
  if (!last || last.linkId !== input.linkId || last.answer !== answer.answer) return null;
  const kept = last.raw as Partial<KeptWords> | null;
  const day = answer.proposedDay ? dateToDatabase(answer.proposedDay).getTime() : null;
  const same =
    (last.proposedDay?.getTime() ?? null) === day &&
    (kept?.value ?? null) === (answer.value ?? null) &&
    (kept?.reference ?? null) === (answer.reference ?? null) &&
    (kept?.note ?? null) === (answer.note ?? null);
  const untouched = standing.window.state === null || standing.window.state === kept?.state;
  return same && untouched ? { confirmationId: last.id, state: kept?.state ?? answer.answer } : null;
}
