import { createHash } from 'node:crypto';
import { canonicalJson, type Instant } from '../../../kernel/src/index.ts';
import type { Prisma } from '../../generated/client.ts';
import type { Database } from '../database.ts';
import { toDate } from '../moments.ts';

/** The key of something computed: a SHA-256 over the content of the series and everything else that the computing reads. */
export function contentKey(parts: unknown): string {
  return createHash('sha256').update(canonicalJson(parts)).digest('hex');
}

/** What was computed for these keys before. Keys that are not there have no entry. */
export async function readWindows(
  db: Database,
  input: { readonly contentKeys: readonly string[]; readonly now: Instant },
): Promise<Map<string, unknown>> {
  if (input.contentKeys.length === 0) return new Map();
  const where = { contentKey: { in: [...input.contentKeys] } };
  const rows = await db.client.weatherWindow.findMany({
    where,
    select: { contentKey: true, result: true, usedAt: true },
  });
  // Noted once a day: what nobody used for long is thrown away.
  const stale = new Date(toDate(input.now).getTime() - 86_400_000);
  if (rows.some(({ usedAt }) => usedAt < stale)) {
    await db.client.weatherWindow.updateMany({ where, data: { usedAt: toDate(input.now) } });
  }
  return new Map(rows.map(({ contentKey: key, result }) => [key, result]));
}

/** Keeps what was computed. Two that compute the same at once keep the same. */
export async function keepWindow(
  db: Database,
  input: {
    readonly contentKey: string;
    readonly seriesId: string;
    readonly kind: string;
    readonly result: unknown;
    readonly now: Instant;
  },
): Promise<void> {
  const { now, result, ...key } = input;
  await db.client.weatherWindow.createMany({
    skipDuplicates: true,
    data: [{ ...key, result: result as Prisma.InputJsonValue, madeAt: toDate(now), usedAt: toDate(now) }],
  });
}

/** How many results are kept for each series. */
export async function countWindows(db: Database, seriesIds: readonly string[]): Promise<Map<string, number>> {
  const rows = await db.client.weatherWindow.groupBy({
    by: ['seriesId'],
    where: { seriesId: { in: [...seriesIds] } },
    _count: true,
  });
  return new Map(rows.map(({ seriesId, _count }) => [seriesId, _count]));
}

/** Throws away what was not used since a moment; returns how many. */
export async function forgetWindows(db: Database, unusedSince: Instant): Promise<number> {
  const { count } = await db.client.weatherWindow.deleteMany({
    where: { usedAt: { lt: toDate(unusedSince) } },
  });
  return count;
}
