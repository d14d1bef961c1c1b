import { DryspellError, type Instant, type LocalDate } from '../../kernel/src/index.ts';
import type { Prisma } from '../generated/client.ts';
import type { Recipient } from './action-link.repository.ts';
import type { Actor } from './actor.ts';
import { type Answer, type AnswerEffect, type AnswerSubject, applyAnswer } from './answer.ts';
import { writeAudit } from './audit.repository.ts';
import type { Database, Tx } from './database.ts';
import { closedBecause, findRepeated, type KeptWords, standingOf } from './link-answer.ts';
import { toDate, toInstant } from './moments.ts';
import { addDeliveries, type NewDelivery } from './new-delivery.ts';
import { getSeasonById } from './season.repository.ts';
import { dateFromDatabase, dateToDatabase } from './season-tables.ts';

export interface AnswerResult {
  readonly confirmationId: string;
  readonly subjectKind: AnswerSubject;
  readonly subjectId: string;
  readonly visitId: string | null;
  /** State of the subject after the answer. */
  readonly state: string;
}

export interface LinkAnswer extends Answer {
  readonly tokenHash: string;
  /** On a readiness link: the item that is answered; without it the answer is to the dates of the visit. */
  readonly itemId?: string | null;
  readonly now: Instant;
  readonly mailDomain: string;
}

/**
 * Takes the answer of somebody with a link: marks the link as answered, changes the subject, keeps the answer as it came, writes
 * the audit, and tells the managers when something must be decided. All or nothing. The link serves until it expires, so an
 * answer can be changed until the first day begins; the same answer again is one answer.
 * Throws `link-not-valid`, `invalid-input`, `state-conflict` (`closed` says why), `not-found` for an item of another visit.
 */
export async function recordAnswer(db: Database, input: LinkAnswer): Promise<AnswerResult> {
  return db.transaction(async (tx) => {
    const link = await tx.actionLink.findUnique({ where: { tokenHash: input.tokenHash } });
    const alive = link && !link.revokedAt && link.expiresAt > toDate(input.now);
    if (!alive) throw new DryspellError('link-not-valid');
    const subject = await subjectOf(tx, { kind: link.subjectKind, id: link.subjectId }, input.itemId ?? null);
    const standing = await standingOf(tx, subject);
    const repeated = await findRepeated(tx, { linkId: link.id, subject, answer: input, standing });
    if (repeated) {
      const { kind: subjectKind, id: subjectId } = subject;
      return { ...repeated, subjectKind, subjectId, visitId: standing.visitId };
    }
    const closed = closedBecause(standing.window, input.now);
    if (closed) throw new DryspellError('state-conflict', { closed });
    if (!link.usedAt) {
      await tx.actionLink.update({ where: { id: link.id }, data: { usedAt: toDate(input.now) } });
    }
    const actor: Actor = { kind: 'link', id: link.id, name: `${link.recipientKind} ${link.recipientKey}` };
    const recipient: Recipient = { kind: link.recipientKind as Recipient['kind'], key: link.recipientKey };
    const { now, mailDomain } = input;
    return keep(tx, {
      subject,
      answer: input,
      linkId: link.id,
      source: 'link',
      actor,
      who: recipient,
      now,
      mailDomain,
    });
  });
}

export interface CalendarAnswer extends Answer {
  /** Uid of the invitation that was answered. */
  readonly icalUid: string;
  readonly icalSequence: number;
  readonly now: Instant;
  readonly mailDomain: string;
  /** The reply as it came, for the record. */
  readonly raw: unknown;
}

/**
 * Takes a calendar reply to an invitation. Throws `not-found` for an unknown uid and `state-conflict` for a reply to an older
 * version of the invitation.
 */
export async function recordCalendarAnswer(db: Database, input: CalendarAnswer): Promise<AnswerResult> {
  return db.transaction(async (tx) => {
    const row = await tx.assignment.findUnique({ where: { icalUid: input.icalUid } });
    if (!row) throw new DryspellError('not-found', { uid: input.icalUid });
    if (row.icalSequence !== input.icalSequence) {
      throw new DryspellError('state-conflict', { sequence: row.icalSequence, answered: input.icalSequence });
    }
    const actor: Actor = { kind: 'system', id: null, name: `calendar reply of ${row.person}` };
    const subject = { kind: 'assignment' as const, id: row.id };
    const who: Recipient = { kind: 'person', key: row.person };
    const { now, mailDomain, raw } = input;
    return keep(tx, {
      subject,
      answer: input,
      linkId: null,
      source: 'mail',
      actor,
      who,
      now,
      mailDomain,
      raw,
    });
  });
}

export interface ManagerAnswer extends Answer {
  readonly organisationId: string;
  readonly subjectKind: AnswerSubject;
  readonly subjectId: string;
  readonly actor: Actor;
  readonly now: Instant;
  readonly mailDomain: string;
  /** The person or partner who answered by an own account; absent: the manager heard the answer. */
  readonly byAccountOf?: Recipient;
}

/**
 * An answer that the manager heard on the telephone, or that somebody with an account gave. Throws as `recordAnswer`;
 * `not-found` for another organisation.
 */
export async function recordManagerAnswer(db: Database, input: ManagerAnswer): Promise<AnswerResult> {
  return db.transaction((tx) => {
    const subject = { kind: input.subjectKind, id: input.subjectId };
    const { organisationId, actor, now, mailDomain } = input;
    const common = { organisationId, actor, now, mailDomain };
    const source = input.byAccountOf ? ('account' as const) : ('manager' as const);
    return keep(tx, {
      subject,
      answer: input,
      linkId: null,
      source,
      who: input.byAccountOf ?? null,
      ...common,
    });
  });
}

async function subjectOf(
  tx: Tx,
  subject: { kind: string; id: string },
  itemId: string | null,
): Promise<{ kind: AnswerSubject; id: string }> {
  if (itemId === null) return subject as { kind: AnswerSubject; id: string };
  const visit = await tx.visit.findUnique({ where: { id: subject.id } });
  const item = await tx.readinessItem.findUnique({ where: { id: itemId } });
  const fits = visit && item && item.seasonId === visit.seasonId && item.job === visit.job;
  if (!fits || item.responsible !== 'customer')
    throw new DryspellError('not-found', { readinessItem: itemId });
  return { kind: 'readinessItem', id: itemId };
}

interface Keep {
  readonly subject: { readonly kind: AnswerSubject; readonly id: string };
  readonly answer: Answer;
  readonly linkId: string | null;
  readonly source: 'link' | 'mail' | 'manager' | 'account';
  readonly actor: Actor;
  readonly who: Recipient | null;
  readonly now: Instant;
  readonly mailDomain: string;
  readonly organisationId?: string;
  readonly raw?: unknown;
}

async function keep(tx: Tx, input: Keep): Promise<AnswerResult> {
  const { subject, answer } = input;
  const effect = await applyAnswer(tx, subject, answer, input.now);
  if (input.organisationId !== undefined && input.organisationId !== effect.organisationId) {
    throw new DryspellError('not-found', { [subject.kind]: subject.id });
  }
  const { value, reference, note } = answer;
  const words: KeptWords = {
    value: value ?? null,
    reference: reference ?? null,
    note: note ?? null,
    state: effect.after,
  };
  const row = await tx.confirmation.create({
    data: {
      organisationId: effect.organisationId,
      linkId: input.linkId,
      source: input.source,
      subjectKind: subject.kind,
      subjectId: subject.id,
      answer: answer.answer,
      proposedDay: answer.proposedDay ? dateToDatabase(answer.proposedDay) : null,
      at: toDate(input.now),
      raw: { ...words, original: input.raw ?? null } as Prisma.InputJsonValue,
    },
  });
  await writeAudit(tx, {
    actor: input.actor,
    organisationId: effect.organisationId,
    seasonId: effect.seasonId,
    action: `${subject.kind}.answered`,
    subjectKind: subject.kind,
    subjectId: subject.id,
    before: { state: effect.before },
    after: { state: effect.after, answer: answer.answer, proposedDay: answer.proposedDay ?? null },
  });
  await tellManagers(tx, input, effect, row.id);
  return {
    confirmationId: row.id,
    subjectKind: subject.kind,
    subjectId: subject.id,
    visitId: effect.visitId,
    state: effect.after,
  };
}

/** A yes needs nobody; a no, another day, or a value out of tolerance does. */
async function tellManagers(
  tx: Tx,
  input: Keep,
  effect: AnswerEffect,
  confirmationId: string,
): Promise<void> {
  const { answer } = input;
  const fine = answer.answer === 'accepted' || (answer.answer === 'done' && effect.after === 'claimed');
  if (fine || input.source === 'manager') return;
  const season = await getSeasonById(tx, effect.seasonId);
  const managers = await tx.membership.findMany({
    where: {
      organisationId: effect.organisationId,
      role: 'manager',
      revokedAt: null,
      user: { disabledAt: null },
    },
    include: { user: true },
  });
  const deliveries = managers.map(
    ({ user }): NewDelivery => ({
      organisationId: effect.organisationId,
      seasonId: effect.seasonId,
      visitId: effect.visitId,
      channel: 'mail',
      recipient: { kind: 'user', key: user.id },
      address: user.email,
      language: user.language,
      template: 'answer-received',
      data: {
        organisation: season.head.organisationName,
        isDemo: season.head.isDemo,
        manager: user.name,
        who: input.who,
        about: effect.about,
        answer: answer.answer === 'proposed' ? 'other-date' : 'no',
        proposedDay: answer.proposedDay ?? null,
        value: answer.value ?? null,
        note: answer.note ?? null,
        received: { at: input.now, zone: season.head.zone },
      },
      dedupeKey: `answer-received:${confirmationId}:${user.id}`,
      notBefore: input.now,
    }),
  );
  await addDeliveries(tx, input.mailDomain, deliveries);
}

export interface ConfirmationInfo {
  readonly id: string;
  readonly source: 'link' | 'mail' | 'manager' | 'account';
  readonly answer: string;
  readonly proposedDay: LocalDate | null;
  readonly at: Instant;
  readonly raw: unknown;
}

/** All answers about one thing, the newest first. */
export async function listConfirmations(
  db: Database,
  input: { organisationId: string; subjectKind: AnswerSubject; subjectId: string },
): Promise<ConfirmationInfo[]> {
  const rows = await db.client.confirmation.findMany({ where: { ...input }, orderBy: { at: 'desc' } });
  return rows.map((row) => ({
    id: row.id,
    source: row.source as ConfirmationInfo['source'],
    answer: row.answer,
    proposedDay: row.proposedDay && dateFromDatabase(row.proposedDay),
    at: toInstant(row.at),
    raw: row.raw,
  }));
}
