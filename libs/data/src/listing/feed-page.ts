import type { Instant } from '../../../kernel/src/index.ts';
import type { Prisma } from '../../generated/client.ts';
import type { LinkInfo, Recipient } from '../action-link.repository.ts';
import type { Database } from '../database.ts';
import { toDate, toInstant } from '../moments.ts';
import type { FeedSubject } from './feed-visits.ts';
import { afterWhere, type OrderColumn, orderByOf } from './keyset.ts';

/** Purpose of links that are the address of a calendar. */
export const FEED_PURPOSE = 'calendar-feed';

export interface FeedSummary {
  readonly id: string;
  readonly kind: FeedSubject['kind'];
  /** Key of what it follows. */
  readonly key: string;
  readonly createdAt: Instant;
  readonly expiresAt: Instant;
}

/** A page of the calendars that still work, the newest first, at most `limit + 1` of them; `holder`: only those of one. */
export async function pageFeeds(
  db: Database,
  query: {
    readonly organisationId: string;
    readonly holder: Recipient | null;
    readonly now: Instant;
    readonly after: { readonly createdAt: Instant; readonly id: string } | null;
    readonly limit: number;
  },
): Promise<FeedSummary[]> {
  const order: OrderColumn[] = [
    { name: 'createdAt', direction: 'desc', nullable: false },
    { name: 'id', direction: 'asc', nullable: false },
  ];
  const { after, holder } = query;
  const rows = await db.client.actionLink.findMany({
    where: {
      organisationId: query.organisationId,
      purpose: FEED_PURPOSE,
      revokedAt: null,
      expiresAt: { gt: toDate(query.now) },
      ...(holder ? { recipientKind: holder.kind, recipientKey: holder.key } : {}),
      AND: after ? [afterWhere(order, { createdAt: toDate(after.createdAt), id: after.id })] : [],
    },
    orderBy: orderByOf(order) as Prisma.ActionLinkOrderByWithRelationInput[],
    take: query.limit + 1,
  });
  const keys = await keysOf(db, rows);
  return rows.map((row) => ({
    id: row.id,
    kind: row.subjectKind as FeedSubject['kind'],
    // What was removed from the season has no key any more; its calendar gives nothing.
    key: keys.get(row.subjectId) ?? 'removed',
    createdAt: toInstant(row.createdAt),
    expiresAt: toInstant(row.expiresAt),
  }));
}

async function keysOf(
  db: Database,
  rows: readonly { subjectKind: string; subjectId: string }[],
): Promise<ReadonlyMap<string, string>> {
  const query = (kind: string) => ({
    where: { id: { in: rows.filter((row) => row.subjectKind === kind).map((row) => row.subjectId) } },
    select: { id: true, key: true },
  });
  const found = await Promise.all([
    db.client.person.findMany(query('person')),
    db.client.crew.findMany(query('crew')),
    db.client.site.findMany(query('site')),
    db.client.season.findMany(query('season')),
  ]);
  return new Map(found.flat().map(({ id, key }) => [id, key]));
}

/** Whether the account of whoever made the address of a calendar still stands, in the role that allowed it. */
export async function isHolderActive(db: Database, link: LinkInfo): Promise<boolean> {
  const { kind, key } = link.recipient;
  const whose = kind === 'user' ? { userId: key, role: 'manager' } : { subjectKey: key, role: 'crew' };
  const standing = await db.client.membership.count({
    where: {
      organisationId: link.organisationId,
      revokedAt: null,
      user: { disabledAt: null },
      ...whose,
    },
  });
  return standing > 0;
}
