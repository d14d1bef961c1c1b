import { randomUUID } from 'node:crypto';
import type { Instant } from '../../kernel/src/index.ts';
import type { Prisma } from '../generated/client.ts';
import type { Recipient } from './action-link.repository.ts';
import type { Tx } from './database.ts';
import { toDate } from './moments.ts';
import { type OutboxEntry, writeOutbox } from './outbox.repository.ts';

export interface NewDelivery {
  readonly organisationId: string;
  readonly seasonId: string | null;
  readonly visitId?: string | null;
  readonly reminderId?: string | null;
  readonly channel: 'mail' | 'text' | 'push' | 'webhook';
  readonly recipient: Recipient;
  /** Null: none is known; the message is kept as held and shown as not sent. */
  readonly address: string | null;
  readonly language: string;
  readonly template: string;
  /** Plain JSON that the template is filled with; ids of links in it, never a token. */
  readonly data: object;
  /** The same key twice is one message. */
  readonly dedupeKey: string;
  /** Not sent before this moment: now, or the end of the quiet hours. */
  readonly notBefore: Instant;
}

/** Outbox row of one try of a delivery. */
export function sendEntry(deliveryId: string, attempt: number, notBefore: Instant | null): OutboxEntry {
  return {
    key: `delivery.send-${deliveryId}-${attempt}`,
    topic: 'delivery.send',
    payload: { deliveryId },
    notBefore,
  };
}

/**
 * Writes messages that are to be sent and the outbox rows that get them sent, within the transaction that is their
 * cause; returns the ids of those that are new.
 */
export async function addDeliveries(
  tx: Tx,
  mailDomain: string,
  wanted: readonly NewDelivery[],
): Promise<string[]> {
  if (wanted.length === 0) return [];
  const known = await tx.delivery.findMany({
    where: { dedupeKey: { in: wanted.map((delivery) => delivery.dedupeKey) } },
    select: { dedupeKey: true },
  });
  const seen = new Set(known.map((row) => row.dedupeKey));
  const fresh = wanted.filter((delivery) => {
    if (seen.has(delivery.dedupeKey)) return false;
    seen.add(delivery.dedupeKey);
    return true;
  });
  const rows = fresh.map((delivery) => ({ id: randomUUID(), delivery }));
  await tx.delivery.createMany({ data: rows.map(({ id, delivery }) => rowOf(id, mailDomain, delivery)) });
  const toSend = rows.filter(({ delivery }) => delivery.address !== null);
  await writeOutbox(tx, ...toSend.map(({ id, delivery }) => sendEntry(id, 1, delivery.notBefore)));
  return rows.map(({ id }) => id);
}

function rowOf(id: string, mailDomain: string, delivery: NewDelivery): Prisma.DeliveryCreateManyInput {
  return {
    id,
    organisationId: delivery.organisationId,
    seasonId: delivery.seasonId,
    visitId: delivery.visitId ?? null,
    reminderId: delivery.reminderId ?? null,
    channel: delivery.channel,
    recipientKind: delivery.recipient.kind,
    recipientKey: delivery.recipient.key,
    address: delivery.address,
    language: delivery.language,
    template: delivery.template,
    data: delivery.data as Prisma.InputJsonValue,
    messageId: `<delivery-${id}@${mailDomain}>`,
    state: delivery.address === null ? 'held' : 'pending',
    lastFault: delivery.address === null ? 'no address is known' : null,
    dedupeKey: delivery.dedupeKey,
    notBefore: toDate(delivery.notBefore),
  };
}
