import { DryspellError, type Instant } from '../../../kernel/src/index.ts';
import type { Prisma } from '../../generated/client.ts';
import type { ActionLinkModel } from '../../generated/models/ActionLink.ts';
import type { Actor } from '../actor.ts';
import { writeAudit } from '../audit.repository.ts';
import type { Database } from '../database.ts';
import { toDate, toInstant, toInstantOrNull } from '../moments.ts';
import { afterWhere, type OrderColumn, orderByOf } from './keyset.ts';

export interface LinkSummary {
  readonly id: string;
  readonly purpose: string;
  readonly subjectKind: string;
  readonly subjectId: string;
  readonly recipient: { readonly kind: string; readonly key: string };
  readonly createdAt: Instant;
  readonly expiresAt: Instant;
  readonly usedAt: Instant | null;
  readonly revokedAt: Instant | null;
}

export interface LinkPageQuery {
  readonly organisationId: string;
  readonly purpose?: string | undefined;
  /** Only those that still work at this moment. */
  readonly openAt?: Instant | undefined;
  readonly after: { readonly createdAt: Instant; readonly id: string } | null;
  readonly limit: number;
}

/** A page of links, the newest first, at most `limit + 1` of them. */
export async function pageLinks(db: Database, query: LinkPageQuery): Promise<LinkSummary[]> {
  const order: OrderColumn[] = [
    { name: 'createdAt', direction: 'desc', nullable: false },
    { name: 'id', direction: 'asc', nullable: false },
  ];
  const { after } = query;
  const open = query.openAt && { revokedAt: null, expiresAt: { gt: toDate(query.openAt) } };
  const rows = await db.client.actionLink.findMany({
    where: {
      organisationId: query.organisationId,
      ...(query.purpose === undefined ? {} : { purpose: query.purpose }),
      ...open,
      AND: after ? [afterWhere(order, { createdAt: toDate(after.createdAt), id: after.id })] : [],
    },
    orderBy: orderByOf(order) as Prisma.ActionLinkOrderByWithRelationInput[],
    take: query.limit + 1,
  });
  return rows.map(summaryOf);
}

/** A link by its id; null: not in this organisation. */
export async function findLinkById(
  db: Database,
  organisationId: string,
  id: string,
): Promise<LinkSummary | null> {
  const row = await db.client.actionLink.findFirst({ where: { id, organisationId } });
  return row && summaryOf(row);
}

/** Withdraws a link. Withdrawing it twice is fine. Throws `not-found`, also for a link of another organisation. */
export async function revokeLinkById(
  db: Database,
  input: { organisationId: string; id: string; actor: Actor; now: Instant },
): Promise<LinkSummary> {
  return db.transaction(async (tx) => {
    const row = await tx.actionLink.findFirst({
      where: { id: input.id, organisationId: input.organisationId },
    });
    if (!row) throw new DryspellError('not-found', { link: input.id });
    if (row.revokedAt) return summaryOf(row);
    const after = await tx.actionLink.update({
      where: { id: row.id },
      data: { revokedAt: toDate(input.now) },
    });
    await writeAudit(tx, {
      actor: input.actor,
      organisationId: row.organisationId,
      seasonId: row.seasonId,
      action: 'link.revoked',
      subjectKind: 'link',
      subjectId: row.id,
      subjectKey: row.purpose,
      after: { recipient: `${row.recipientKind} ${row.recipientKey}` },
    });
    return summaryOf(after);
  });
}

function summaryOf(row: ActionLinkModel): LinkSummary {
  return {
    id: row.id,
    purpose: row.purpose,
    subjectKind: row.subjectKind,
    subjectId: row.subjectId,
    recipient: { kind: row.recipientKind, key: row.recipientKey },
    createdAt: toInstant(row.createdAt),
    expiresAt: toInstant(row.expiresAt),
    usedAt: toInstantOrNull(row.usedAt),
    revokedAt: toInstantOrNull(row.revokedAt),
  };
}
