import type { Instant } from '../../kernel/src/index.ts';
import { Prisma } from '../generated/client.ts';
import type { Actor } from './actor.ts';
import type { Database, Tx } from './database.ts';

/** One change, for the audit. `before` and `after` are plain JSON and hold no secret. */
export interface AuditEntry {
  readonly actor: Actor;
  readonly organisationId: string | null;
  readonly seasonId?: string | null;
  /** What was done, such as `job.changed` or `plan.published`. */
  readonly action: string;
  readonly subjectKind: string;
  readonly subjectId?: string | null;
  readonly subjectKey?: string | null;
  readonly before?: unknown;
  readonly after?: unknown;
}

export interface AuditRow {
  /** Rises with time; texts because it may be larger than a number can hold. */
  readonly id: string;
  readonly at: Instant;
  readonly seasonId: string | null;
  readonly actor: Actor;
  readonly action: string;
  readonly subjectKind: string;
  readonly subjectId: string | null;
  readonly subjectKey: string | null;
  readonly before: unknown;
  readonly after: unknown;
}

/** Adds to the audit, in the transaction of the change. */
export async function writeAudit(tx: Tx, ...entries: readonly AuditEntry[]): Promise<void> {
  if (entries.length === 0) return;
  await tx.auditRow.createMany({
    data: entries.map((entry) => ({
      organisationId: entry.organisationId,
      seasonId: entry.seasonId ?? null,
      actorKind: entry.actor.kind,
      actorId: entry.actor.id,
      actorName: entry.actor.name,
      action: entry.action,
      subjectKind: entry.subjectKind,
      subjectId: entry.subjectId ?? null,
      subjectKey: entry.subjectKey ?? null,
      before: jsonOf(entry.before),
      after: jsonOf(entry.after),
    })),
  });
}

export interface AuditQuery {
  readonly organisationId: string;
  readonly seasonId?: string;
  readonly subjectKind?: string;
  readonly subjectId?: string;
  /** Go on below this id, as given by the page before. */
  readonly beforeId?: string | null;
  readonly limit: number;
}

/** A page of the audit of one organisation, the newest first. `nextBeforeId` is null on the last page. */
export async function listAudit(
  db: Database,
  query: AuditQuery,
): Promise<{ rows: AuditRow[]; nextBeforeId: string | null }> {
  const found = await db.client.auditRow.findMany({
    where: {
      organisationId: query.organisationId,
      ...(query.seasonId === undefined ? {} : { seasonId: query.seasonId }),
      ...(query.subjectKind === undefined ? {} : { subjectKind: query.subjectKind }),
      ...(query.subjectId === undefined ? {} : { subjectId: query.subjectId }),
      ...(query.beforeId ? { id: { lt: BigInt(query.beforeId) } } : {}),
    },
    orderBy: { id: 'desc' },
    take: query.limit + 1,
  });
  const rows = found.slice(0, query.limit).map(
    (row): AuditRow => ({
      id: String(row.id),
      at: row.at.toISOString() as Instant,
      seasonId: row.seasonId,
      actor: { kind: row.actorKind as Actor['kind'], id: row.actorId, name: row.actorName },
      action: row.action,
      subjectKind: row.subjectKind,
      subjectId: row.subjectId,
      subjectKey: row.subjectKey,
      before: row.before,
      after: row.after,
    }),
  );
  return { rows, nextBeforeId: found.length > query.limit ? (rows.at(-1)?.id ?? null) : null };
}

/** JSON for a nullable column: nothing is SQL null, and values that JSON does not know are refused by Prisma. */
export function jsonOf(value: unknown): Prisma.InputJsonValue | typeof Prisma.DbNull {
  return value === undefined || value === null ? Prisma.DbNull : (value as Prisma.InputJsonValue);
}
