import { DryspellError, type Instant, type LocalDate, localDateAt } from '../../kernel/src/index.ts';
import type { Prisma } from '../generated/client.ts';
import type { Tx } from './database.ts';
import { toDate } from './moments.ts';
import { dateToDatabase } from './season-tables.ts';

export type AnswerWord = 'accepted' | 'declined' | 'proposed' | 'done';

/** What somebody answered. */
export interface Answer {
  /** `proposed` needs a day; readiness items are `done` or, not ready (after all), `declined`. */
  readonly answer: AnswerWord;
  readonly proposedDay?: LocalDate | null;
  /** Measured value of a readiness item whose evidence is a number. */
  readonly value?: number | null;
  /** Reference of a partner's order. */
  readonly reference?: string | null;
  readonly note?: string | null;
}

/** What an answer did to its subject. */
export interface AnswerEffect {
  readonly organisationId: string;
  readonly seasonId: string;
  readonly visitId: string | null;
  /** In a few words, what was asked. */
  readonly about: string;
  readonly before: string;
  readonly after: string;
}

export type AnswerSubject = 'assignment' | 'liftHold' | 'deliveryRun' | 'readinessItem' | 'visit';

/** Writes an answer into its subject. Throws `not-found`, `invalid-input`, `state-conflict` when it comes too late. */
export async function applyAnswer(
  tx: Tx,
  subject: { kind: AnswerSubject; id: string },
  answer: Answer,
  now: Instant,
): Promise<AnswerEffect> {
  if ((answer.answer === 'proposed') !== Boolean(answer.proposedDay)) {
    throw new DryspellError('invalid-input', {
      field: 'proposedDay',
      expected: 'a day, with the answer "proposed" only',
    });
  }
  const forItems = answer.answer === 'done' || answer.answer === 'declined';
  if (subject.kind === 'readinessItem' ? !forItems : answer.answer === 'done') {
    throw new DryspellError('invalid-input', {
      field: 'answer',
      expected: 'an answer that fits what was asked',
    });
  }
  if (subject.kind === 'assignment') return answerAssignment(tx, subject.id, answer, now);
  if (subject.kind === 'liftHold') return answerLift(tx, subject.id, answer, now);
  if (subject.kind === 'deliveryRun') return answerRun(tx, subject.id, answer);
  if (subject.kind === 'readinessItem') return answerItem(tx, subject.id, answer, now);
  return answerVisit(tx, subject.id, answer);
}

const ofSeason = { season: { select: { organisationId: true } } } as const;
const aboutVisit = {
  visit: { select: { id: true, startDay: true, state: true, jobRow: { select: { title: true } } } },
} as const;
const words = (title: string, day: Date) => `${title}, ${day.toISOString().slice(0, 10)}`;

async function answerAssignment(tx: Tx, id: string, answer: Answer, now: Instant): Promise<AnswerEffect> {
  const row = await tx.assignment.findUnique({ where: { id }, include: { ...ofSeason, ...aboutVisit } });
  if (!row) throw new DryspellError('not-found', { assignment: id });
  if (row.state === 'cancelled') throw new DryspellError('state-conflict', { state: row.state });
  // Another day is a "no" to this one, with a wish that the manager sees.
  const state = answer.answer === 'accepted' ? 'accepted' : 'declined';
  await tx.assignment.update({
    where: { id },
    data: { state, answeredAt: toDate(now), answerNote: answer.note ?? null },
  });
  const about = words(row.visit.jobRow.title, row.visit.startDay);
  const { organisationId } = row.season;
  return {
    organisationId,
    seasonId: row.seasonId,
    visitId: row.visitId,
    about,
    before: row.state,
    after: state,
  };
}

async function answerLift(tx: Tx, id: string, answer: Answer, now: Instant): Promise<AnswerEffect> {
  const row = await tx.liftHold.findUnique({
    where: { id },
    include: { ...ofSeason, ...aboutVisit, liftRow: true },
  });
  if (!row) throw new DryspellError('not-found', { liftHold: id });
  if (row.state === 'off') throw new DryspellError('state-conflict', { state: row.state });
  const state =
    answer.answer === 'accepted' ? 'confirmed' : answer.answer === 'declined' ? 'declined' : row.state;
  await tx.liftHold.update({
    where: { id },
    data: { state, answeredAt: toDate(now), reference: answer.reference ?? row.reference },
  });
  const about = words(`${row.liftRow.name} for ${row.visit.jobRow.title}`, row.fromDay);
  const { organisationId } = row.season;
  return {
    organisationId,
    seasonId: row.seasonId,
    visitId: row.visitId,
    about,
    before: row.state,
    after: state,
  };
}

async function answerRun(tx: Tx, id: string, answer: Answer): Promise<AnswerEffect> {
  const row = await tx.deliveryRun.findUnique({
    where: { id },
    include: { ...ofSeason, jobRow: { include: { visit: true } } },
  });
  if (!row) throw new DryspellError('not-found', { deliveryRun: id });
  if (row.state === 'off' || row.state === 'done')
    throw new DryspellError('state-conflict', { state: row.state });
  // A haulier who declines leaves the run needed: somebody must be found.
  const state =
    answer.answer === 'accepted' ? 'confirmed' : answer.answer === 'declined' ? 'needed' : row.state;
  await tx.deliveryRun.update({
    where: { id },
    data: { state, reference: answer.reference ?? row.reference },
  });
  return {
    organisationId: row.season.organisationId,
    seasonId: row.seasonId,
    visitId: row.jobRow.visit?.id ?? null,
    about: words(`delivery for ${row.jobRow.title}`, row.day),
    before: row.state,
    after: state,
  };
}

const itemWithJob = {
  ...ofSeason,
  jobRow: { include: { visit: true, siteRow: { select: { zone: true } } } },
} as const;
type ItemRow = Prisma.ReadinessItemGetPayload<{ include: typeof itemWithJob }>;

/** What a customer says to be ready is claimed, not accepted: somebody of the firm looks at it. */
async function answerItem(tx: Tx, id: string, answer: Answer, now: Instant): Promise<AnswerEffect> {
  const row = await tx.readinessItem.findUnique({ where: { id }, include: itemWithJob });
  if (!row) throw new DryspellError('not-found', { readinessItem: id });
  if (row.state === 'accepted' || row.state === 'waived')
    throw new DryspellError('state-conflict', { state: row.state });
  if (answer.answer === 'declined') return openAgain(tx, row, answer);
  if (row.evidence === 'number' && typeof answer.value !== 'number') {
    throw new DryspellError('invalid-input', {
      field: 'value',
      expected: `the measured value in ${row.unit ?? 'its unit'}`,
    });
  }
  if (row.evidence === 'photo' || row.evidence === 'document') {
    const documents = await tx.document.count({ where: { subjectKind: 'readinessItem', subjectId: id } });
    if (documents === 0)
      throw new DryspellError('invalid-input', { field: 'document', expected: `a ${row.evidence}` });
  }
  const value = row.evidence === 'number' ? (answer.value ?? null) : null;
  const low = value !== null && row.toleranceLow !== null && value < row.toleranceLow;
  const high = value !== null && row.toleranceHigh !== null && value > row.toleranceHigh;
  const state = low || high ? 'refused' : 'claimed';
  await tx.readinessItem.update({
    where: { id },
    data: {
      state,
      value,
      remark: answer.note ?? row.remark,
      doneOn: dateToDatabase(localDateAt(now, row.jobRow.siteRow.zone)),
    },
  });
  return effectOn(row, state);
}

/** Not ready, or not after all: what was claimed is open again; what the firm returned stays returned. */
async function openAgain(tx: Tx, row: ItemRow, answer: Answer): Promise<AnswerEffect> {
  const state = row.state === 'refused' ? 'refused' : 'open';
  await tx.readinessItem.update({
    where: { id: row.id },
    data: { state, value: null, doneOn: null, remark: answer.note ?? row.remark },
  });
  return effectOn(row, state);
}

function effectOn(row: ItemRow, after: string): AnswerEffect {
  return {
    organisationId: row.season.organisationId,
    seasonId: row.seasonId,
    visitId: row.jobRow.visit?.id ?? null,
    about: `${row.title} (${row.jobRow.title})`,
    before: row.state,
    after,
  };
}

/** A customer's yes or no to the dates; it moves nothing by itself. */
async function answerVisit(tx: Tx, id: string, answer: Answer): Promise<AnswerEffect> {
  const row = await tx.visit.findUnique({
    where: { id },
    include: { ...ofSeason, jobRow: { select: { title: true } } },
  });
  if (!row) throw new DryspellError('not-found', { visit: id });
  if (row.state === 'cancelled' || row.state === 'done')
    throw new DryspellError('state-conflict', { state: row.state });
  return {
    organisationId: row.season.organisationId,
    seasonId: row.seasonId,
    visitId: row.id,
    about: words(row.jobRow.title, row.startDay),
    before: 'asked',
    after: answer.answer,
  };
}
