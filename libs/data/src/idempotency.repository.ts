import type { Instant } from '../../kernel/src/index.ts';
import { Prisma } from '../generated/client.ts';
import type { Database } from './database.ts';
import { toDate } from './moments.ts';

export interface KeyClaim {
  readonly organisationId: string;
  readonly userId: string;
  readonly key: string;
  readonly requestHash: string;
}

/** Nobody had the key and now it is ours; it is in use; or its answer is there. */
export type ClaimResult =
  | { readonly kind: 'ours' }
  | { readonly kind: 'running'; readonly requestHash: string }
  | { readonly kind: 'answered'; readonly requestHash: string; readonly answer: unknown };

/** Takes a key for one request. One whose time is over counts as free. */
export async function claimKey(
  db: Database,
  input: KeyClaim & { readonly now: Instant; readonly expiresAt: Instant },
): Promise<ClaimResult> {
  return db.transaction(
    async (tx) => {
      const { organisationId, userId, key, requestHash } = input;
      await tx.idempotencyKey.deleteMany({
        where: { organisationId, userId, key, expiresAt: { lte: toDate(input.now) } },
      });
      const { count } = await tx.idempotencyKey.createMany({
        data: [{ organisationId, userId, key, requestHash, expiresAt: toDate(input.expiresAt) }],
        skipDuplicates: true,
      });
      if (count === 1) return { kind: 'ours' };
      const row = await tx.idempotencyKey.findUniqueOrThrow({
        where: { organisationId_userId_key: { organisationId, userId, key } },
      });
      if (row.answer === null) return { kind: 'running', requestHash: row.requestHash };
      return { kind: 'answered', requestHash: row.requestHash, answer: row.answer };
    },
    { isolation: 'readCommitted' },
  );
}

/** Says that the request which claimed the key still runs: its claim holds until `expiresAt`. */
export async function renewKey(db: Database, claim: KeyClaim, expiresAt: Instant): Promise<void> {
  const { organisationId, userId, key, requestHash } = claim;
  await db.client.idempotencyKey.updateMany({
    where: { organisationId, userId, key, requestHash, answer: { equals: Prisma.DbNull } },
    data: { expiresAt: toDate(expiresAt) },
  });
}

/** Keeps the answer to the request that claimed the key, until `expiresAt`; without it as long as the claim would have held. */
export async function keepAnswer(
  db: Database,
  claim: KeyClaim,
  answer: Prisma.InputJsonValue,
  expiresAt?: Instant,
): Promise<void> {
  const { organisationId, userId, key, requestHash } = claim;
  await db.client.idempotencyKey.updateMany({
    where: { organisationId, userId, key, requestHash },
    data: { answer, ...(expiresAt ? { expiresAt: toDate(expiresAt) } : {}) },
  });
}

/** Gives a key back whose request was refused, so that it may be used again. */
export async function releaseKey(db: Database, claim: KeyClaim): Promise<void> {
  const { organisationId, userId, key, requestHash } = claim;
  await db.client.idempotencyKey.deleteMany({
    where: { organisationId, userId, key, requestHash, answer: { equals: Prisma.DbNull } },
  });
}

/** Removes keys whose time is over; returns how many. */
export async function forgetExpiredKeys(db: Database, now: Instant): Promise<number> {
  return (await db.client.idempotencyKey.deleteMany({ where: { expiresAt: { lte: toDate(now) } } })).count;
}
