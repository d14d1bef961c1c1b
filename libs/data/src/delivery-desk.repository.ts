import { DryspellError, type Instant } from '../../kernel/src/index.ts';
import type { Prisma } from '../generated/client.ts';
import type { Recipient } from './action-link.repository.ts';
import type { Actor } from './actor.ts';
import { writeAudit } from './audit.repository.ts';
import type { Database } from './database.ts';
import { type DeliveryInfo, type DeliveryState, deliveryInfoOf } from './delivery.repository.ts';
import { toDate } from './moments.ts';
import { sendEntry } from './new-delivery.ts';
import { writeOutbox } from './outbox.repository.ts';

export interface ManualChange {
  readonly organisationId: string;
  readonly id: string;
  readonly version: number;
  /** `send`: try again (uncertain, failed, held); `arrived`: it is known to have arrived (uncertain); `cancel`. */
  readonly as: 'send' | 'arrived' | 'cancel';
  readonly actor: Actor;
  readonly now: Instant;
}

/** What the manager decides on one message. Throws `not-found`, `version-conflict`, `state-conflict`. */
export async function decideDelivery(db: Database, input: ManualChange): Promise<DeliveryInfo> {
  const allowed: Record<ManualChange['as'], DeliveryState[]> = {
    send: ['uncertain', 'failed', 'held'],
    arrived: ['uncertain'],
    cancel: ['pending', 'failed', 'held', 'uncertain'],
  };
  return db.transaction(async (tx) => {
    const row = await tx.delivery.findFirst({
      where: { id: input.id, organisationId: input.organisationId },
    });
    if (!row) throw new DryspellError('not-found', { delivery: input.id });
    if (row.version !== input.version) throw new DryspellError('version-conflict', { version: row.version });
    const possible = allowed[input.as].includes(row.state as DeliveryState);
    if (!possible || (input.as === 'send' && row.address === null)) {
      throw new DryspellError('state-conflict', {
        state: row.state,
        address: row.address === null ? 'none' : 'known',
      });
    }
    const data: Prisma.DeliveryUpdateInput =
      input.as === 'send'
        ? { state: 'pending', notBefore: toDate(input.now), lastFault: null }
        : input.as === 'arrived'
          ? { state: 'sent', sentAt: toDate(input.now) }
          : { state: 'cancelled' };
    const after = await tx.delivery.update({ where: { id: row.id }, data });
    if (input.as === 'send') await writeOutbox(tx, sendEntry(row.id, row.attempts + 1, null));
    await writeAudit(tx, {
      actor: input.actor,
      organisationId: row.organisationId,
      seasonId: row.seasonId,
      action: `delivery.${input.as}`,
      subjectKind: 'delivery',
      subjectId: row.id,
      subjectKey: row.template,
      before: { state: row.state },
      after: { state: after.state },
    });
    return deliveryInfoOf(after);
  });
}

/** Held messages that have an address go back to pending, once there is somebody to send through; returns how many. */
export async function releaseHeld(
  db: Database,
  input: { organisationId?: string; now: Instant },
): Promise<number> {
  return db.transaction(
    async (tx) => {
      const rows = await tx.delivery.findMany({
        where: {
          state: 'held',
          address: { not: null },
          ...(input.organisationId === undefined ? {} : { organisationId: input.organisationId }),
        },
        select: { id: true, attempts: true },
      });
      await tx.delivery.updateMany({
        where: { id: { in: rows.map((row) => row.id) } },
        data: { state: 'pending', lastFault: null, notBefore: toDate(input.now) },
      });
      await writeOutbox(tx, ...rows.map((row) => sendEntry(row.id, row.attempts + 1, null)));
      return rows.length;
    },
    { isolation: 'readCommitted' },
  );
}

export interface DeliveryQuery {
  readonly organisationId: string;
  readonly seasonId?: string;
  readonly visitId?: string;
  readonly states?: readonly DeliveryState[];
  readonly recipient?: Recipient;
  /** Go on after this id, as the last of the page before. */
  readonly afterId?: string | null;
  readonly limit: number;
}

/** A page of messages, the newest first. */
export async function listDeliveries(db: Database, query: DeliveryQuery): Promise<DeliveryInfo[]> {
  const rows = await db.client.delivery.findMany({
    where: {
      organisationId: query.organisationId,
      ...(query.seasonId === undefined ? {} : { seasonId: query.seasonId }),
      ...(query.visitId === undefined ? {} : { visitId: query.visitId }),
      ...(query.states === undefined ? {} : { state: { in: [...query.states] } }),
      ...(query.recipient ? { recipientKind: query.recipient.kind, recipientKey: query.recipient.key } : {}),
    },
    orderBy: [{ createdAt: 'desc' }, { id: 'asc' }],
    take: query.limit,
    ...(query.afterId ? { cursor: { id: query.afterId }, skip: 1 } : {}),
  });
  return rows.map(deliveryInfoOf);
}

/** Throws `not-found`, also for a message of another organisation. */
export async function getDelivery(db: Database, organisationId: string, id: string): Promise<DeliveryInfo> {
  const row = await db.client.delivery.findFirst({ where: { id, organisationId } });
  if (!row) throw new DryspellError('not-found', { delivery: id });
  return deliveryInfoOf(row);
}
