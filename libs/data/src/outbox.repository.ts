import { type Instant, instantToMs } from '../../kernel/src/index.ts';
import { Prisma } from '../generated/client.ts';
import type { Database, Tx } from './database.ts';

/** Something that must become a queue job. Written in the transaction that causes it. */
export interface OutboxEntry {
  /** The same key twice is one row, and becomes the id of the queue job. */
  readonly key: string;
  /** Name of the job as in libs/contracts. */
  readonly topic: string;
  readonly payload: Readonly<Record<string, string | number | boolean | null>>;
  /** Not relayed before this moment; at once when absent. */
  readonly notBefore?: Instant | null;
}

export interface OutboxRow {
  readonly id: string;
  readonly key: string;
  readonly topic: string;
  readonly payload: unknown;
}

/** Writes outbox rows; those whose key is there already are left as they are. */
export async function writeOutbox(tx: Tx, ...entries: readonly OutboxEntry[]): Promise<void> {
  if (entries.length === 0) return;
  await tx.outboxRow.createMany({
    skipDuplicates: true,
    data: entries.map((entry) => ({
      key: entry.key,
      topic: entry.topic,
      payload: entry.payload,
      // At once means by any clock: the server's own may differ from that of the relay.
      notBefore: new Date(entry.notBefore ? instantToMs(entry.notBefore) : 0),
    })),
  });
}

/**
 * Takes up to `limit` waiting rows, hands them to `send` and marks them as relayed; returns how many. When `send` fails
 * nothing is marked and the rows come again, so the receiver must take the same key twice. Several relays share the rows.
 */
export async function relayOutbox(
  db: Database,
  input: { now: Instant; limit: number },
  send: (rows: OutboxRow[]) => Promise<void>,
): Promise<number> {
  return db.transaction(
    async (tx) => {
      const rows = await tx.$queryRaw<{ id: bigint; key: string; topic: string; payload: unknown }[]>`
        SELECT id, key, topic, payload FROM outbox
        WHERE relayed_at IS NULL AND not_before <= ${new Date(instantToMs(input.now))}
        ORDER BY id LIMIT ${input.limit} FOR UPDATE SKIP LOCKED`;
      if (rows.length === 0) return 0;
      await send(rows.map((row) => ({ ...row, id: String(row.id) })));
      await tx.$executeRaw`
        UPDATE outbox SET relayed_at = now() WHERE id IN (${Prisma.join(rows.map((row) => row.id))})`;
      return rows.length;
    },
    // Tried once: a second try would send twice within one call.
    { isolation: 'readCommitted', attempts: 1 },
  );
}

/** Moment of the oldest row that waits, or null: a growing age means that no relay runs. */
export async function oldestWaitingOutboxAt(db: Database): Promise<Instant | null> {
  const row = await db.client.outboxRow.findFirst({ where: { relayedAt: null }, orderBy: { id: 'asc' } });
  return row ? (row.createdAt.toISOString() as Instant) : null;
}

/** Removes rows that were relayed before a moment; returns how many. */
export async function forgetRelayed(db: Database, before: Instant): Promise<number> {
  const { count } = await db.client.outboxRow.deleteMany({
    where: { relayedAt: { lt: new Date(instantToMs(before)) } },
  });
  return count;
}
