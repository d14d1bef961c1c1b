import { addMinutes, DryspellError, type Instant } from '../../kernel/src/index.ts';
import type { Prisma } from '../generated/client.ts';
import type { DeliveryModel } from '../generated/models/Delivery.ts';
import type { Recipient } from './action-link.repository.ts';
import type { Database } from './database.ts';
import { toDate, toInstant, toInstantOrNull } from './moments.ts';
import { sendEntry } from './new-delivery.ts';
import { writeOutbox } from './outbox.repository.ts';

export type DeliveryState =
  | 'pending'
  | 'sending'
  | 'handing_over'
  | 'sent'
  | 'failed'
  | 'uncertain'
  | 'held'
  | 'cancelled';

export interface DeliveryInfo {
  readonly id: string;
  readonly organisationId: string;
  readonly seasonId: string | null;
  readonly visitId: string | null;
  readonly channel: 'mail' | 'text' | 'push' | 'webhook';
  readonly recipient: Recipient;
  readonly address: string | null;
  readonly language: string;
  readonly template: string;
  readonly data: unknown;
  readonly subject: string | null;
  readonly body: string | null;
  readonly messageId: string;
  readonly state: DeliveryState;
  readonly attempts: number;
  readonly notBefore: Instant;
  readonly createdAt: Instant;
  readonly sentAt: Instant | null;
  readonly lastFault: string | null;
  readonly version: number;
}

/** A message that this worker alone may now try to send. */
export interface DeliveryWork extends DeliveryInfo {
  /** Number of this try, from 1. */
  readonly attempt: number;
}

export interface ClaimInput {
  readonly id: string;
  readonly worker: string;
  readonly now: Instant;
  /** Also one that is not due yet: for a worker that can only hold messages, so that none seems to be on its way. */
  readonly early?: boolean;
}

/** Takes a waiting message: pending -> sending. Null: it is not there, not due, or somebody else has it or is done with it. */
export async function claimDelivery(db: Database, input: ClaimInput): Promise<DeliveryWork | null> {
  return db.transaction(
    async (tx) => {
      const { count } = await tx.delivery.updateMany({
        where: {
          id: input.id,
          state: 'pending',
          ...(input.early ? {} : { notBefore: { lte: toDate(input.now) } }),
        },
        data: {
          state: 'sending',
          claimedBy: input.worker,
          claimedAt: toDate(input.now),
          attempts: { increment: 1 },
        },
      });
      if (count === 0) return null;
      const row = await tx.delivery.findUniqueOrThrow({ where: { id: input.id } });
      await tx.deliveryAttempt.create({
        data: { deliveryId: row.id, attempt: row.attempts, startedAt: toDate(input.now) },
      });
      return { ...deliveryInfoOf(row), attempt: row.attempts };
    },
    { isolation: 'readCommitted' },
  );
}

/**
 * Notes that the end of the message is about to go out: sending -> handing_over, with the text as it leaves. Must be
 * committed before. Throws `state-conflict` when this try is not the one that has the message, and then nothing may go out.
 */
export async function markHandingOver(
  db: Database,
  input: { id: string; attempt: number; subject: string; body: string },
): Promise<void> {
  const { count } = await db.client.delivery.updateMany({
    where: { id: input.id, state: 'sending', attempts: input.attempt },
    data: { state: 'handing_over', subject: input.subject, body: input.body },
  });
  if (count === 0) throw new DryspellError('state-conflict', { delivery: input.id, attempt: input.attempt });
}

/** The far side has it. Throws `state-conflict` unless this try was handing over. */
export async function markSent(
  db: Database,
  input: { id: string; attempt: number; response: string; now: Instant },
): Promise<void> {
  await settle(db, input, {
    from: ['handing_over'],
    data: { state: 'sent', sentAt: toDate(input.now), lastFault: null },
    outcome: 'sent',
    response: input.response,
  });
}

export interface FailedTry {
  readonly id: string;
  readonly attempt: number;
  readonly fault: string;
  /** When it is tried again; null: not by itself. */
  readonly retryAt: Instant | null;
  readonly now: Instant;
}

/** The message certainly did not arrive: back to pending for a later try, or failed for good. */
export async function markFailed(db: Database, input: FailedTry): Promise<void> {
  const retry = input.retryAt;
  await settle(db, input, {
    from: ['sending', 'handing_over'],
    data:
      retry === null
        ? { state: 'failed', lastFault: input.fault }
        : { state: 'pending', lastFault: input.fault, notBefore: toDate(retry) },
    outcome: retry === null ? 'failed' : 'again',
    response: input.fault,
    outbox: retry,
  });
}

/** Nobody can say whether it arrived: never sent again by itself. */
export async function markUncertain(
  db: Database,
  input: { id: string; attempt: number; fault: string; now: Instant },
): Promise<void> {
  await settle(db, input, {
    from: ['handing_over'],
    data: { state: 'uncertain', lastFault: input.fault },
    outcome: 'uncertain',
    response: input.fault,
  });
}

export interface HeldMessage {
  readonly id: string;
  readonly attempt: number;
  readonly reason: string;
  readonly now: Instant;
  /** What it would have said, for whoever tells it in person; null where there is no text for the channel. */
  readonly text: { readonly subject: string; readonly body: string } | null;
}

/** There is nobody to send through: kept as held and shown as not sent, until `releaseHeld`. */
export async function holdDelivery(db: Database, input: HeldMessage): Promise<void> {
  await settle(db, input, {
    from: ['sending'],
    data: { state: 'held', lastFault: input.reason, ...input.text },
    outcome: 'held',
    response: input.reason,
  });
}

interface Settlement {
  readonly from: readonly DeliveryState[];
  readonly data: Prisma.DeliveryUpdateManyMutationInput;
  readonly outcome: string;
  readonly response: string;
  readonly outbox?: Instant | null;
}

async function settle(
  db: Database,
  input: { id: string; attempt: number; now: Instant },
  to: Settlement,
): Promise<void> {
  await db.transaction(
    async (tx) => {
      const { count } = await tx.delivery.updateMany({
        where: { id: input.id, attempts: input.attempt, state: { in: [...to.from] } },
        data: { ...to.data, claimedBy: null, claimedAt: null },
      });
      if (count === 0)
        throw new DryspellError('state-conflict', { delivery: input.id, attempt: input.attempt });
      await tx.deliveryAttempt.updateMany({
        where: { deliveryId: input.id, attempt: input.attempt },
        data: { endedAt: toDate(input.now), outcome: to.outcome, response: to.response.slice(0, 2000) },
      });
      if (to.outbox) await writeOutbox(tx, sendEntry(input.id, input.attempt + 1, to.outbox));
    },
    { isolation: 'readCommitted' },
  );
}

/** Names of the workers that have messages in hand now. */
export async function claimingWorkers(db: Database): Promise<string[]> {
  const rows = await db.client.delivery.findMany({
    where: { state: { in: ['sending', 'handing_over'] }, claimedBy: { not: null } },
    distinct: ['claimedBy'],
    select: { claimedBy: true },
  });
  return rows.map((row) => row.claimedBy as string);
}

/**
 * After a crash: what was being sent goes back to pending, what was being handed over becomes uncertain. Only messages
 * claimed longer ago than `silentMin`, or by a worker that is known to have ended, are touched. Returns how many of each.
 */
export async function recoverDeliveries(
  db: Database,
  input: { now: Instant; silentMin: number; endedWorkers?: readonly string[] },
): Promise<{ pending: number; uncertain: number }> {
  const before = toDate(addMinutes(input.now, -input.silentMin));
  const ended = [...(input.endedWorkers ?? [])];
  return db.transaction(
    async (tx) => {
      const lost = await tx.$queryRaw<{ id: string; state: string; attempts: number }[]>`
        SELECT id, state, attempts FROM deliveries
        WHERE state IN ('sending', 'handing_over') AND (claimed_at < ${before} OR claimed_by = ANY(${ended}))
        FOR UPDATE SKIP LOCKED`;
      for (const row of lost) {
        const again = row.state === 'sending';
        await tx.delivery.update({
          where: { id: row.id },
          data: {
            state: again ? 'pending' : 'uncertain',
            claimedBy: null,
            claimedAt: null,
            lastFault: again
              ? 'the program stopped before the message left'
              : 'the program stopped while the message was being handed over',
          },
        });
        await tx.deliveryAttempt.updateMany({
          where: { deliveryId: row.id, attempt: row.attempts },
          data: { endedAt: toDate(input.now), outcome: again ? 'lost' : 'uncertain' },
        });
        if (again) await writeOutbox(tx, sendEntry(row.id, row.attempts + 1, null));
      }
      const pending = lost.filter((row) => row.state === 'sending').length;
      return { pending, uncertain: lost.length - pending };
    },
    { isolation: 'readCommitted' },
  );
}

/** Ids of messages that are due and have waited since before `now` less `silentMin`: their queue job may be lost. */
export async function waitingDeliveries(
  db: Database,
  input: { now: Instant; silentMin: number; limit: number },
): Promise<string[]> {
  const before = toDate(addMinutes(input.now, -input.silentMin));
  return pendingIds(db, { notBefore: { lte: before }, updatedAt: { lte: before } }, input.limit);
}

/** Ids of all messages that have not left, due or not: for a worker that can only hold them, see `ClaimInput`. */
export async function unsentDeliveries(db: Database, limit: number): Promise<string[]> {
  return pendingIds(db, {}, limit);
}

async function pendingIds(db: Database, where: Prisma.DeliveryWhereInput, limit: number): Promise<string[]> {
  const rows = await db.client.delivery.findMany({
    where: { ...where, state: 'pending' },
    orderBy: { notBefore: 'asc' },
    take: limit,
    select: { id: true },
  });
  return rows.map((row) => row.id);
}

/** A row of the table as callers see it. */
export function deliveryInfoOf(row: DeliveryModel): DeliveryInfo {
  return {
    id: row.id,
    organisationId: row.organisationId,
    seasonId: row.seasonId,
    visitId: row.visitId,
    channel: row.channel as DeliveryInfo['channel'],
    recipient: { kind: row.recipientKind as Recipient['kind'], key: row.recipientKey },
    address: row.address,
    language: row.language,
    template: row.template,
    data: row.data,
    subject: row.subject,
    body: row.body,
    messageId: row.messageId,
    state: row.state as DeliveryState,
    attempts: row.attempts,
    notBefore: toInstant(row.notBefore),
    createdAt: toInstant(row.createdAt),
    sentAt: toInstantOrNull(row.sentAt),
    lastFault: row.lastFault,
    version: row.version,
  };
}
