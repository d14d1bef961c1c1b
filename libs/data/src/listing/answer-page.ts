import type { Instant, LocalDate } from '../../../kernel/src/index.ts';
import type { Prisma } from '../../generated/client.ts';
import type { Database } from '../database.ts';
import { toDate, toInstant } from '../moments.ts';
import { dateFromDatabase } from '../season-tables.ts';
import { afterWhere, type OrderColumn, orderByOf } from './keyset.ts';

export interface AnswerPageQuery {
  readonly organisationId: string;
  readonly subjectKind?: string | undefined;
  readonly after: { readonly at: Instant; readonly id: string } | null;
  readonly limit: number;
}

export interface AnswerSummary {
  readonly id: string;
  readonly source: string;
  readonly subjectKind: string;
  readonly subjectId: string;
  readonly about: string;
  readonly answer: string;
  readonly proposedDay: LocalDate | null;
  readonly note: string | null;
  readonly value: number | null;
  readonly at: Instant;
}

/** A page of answers, the newest first, at most `limit + 1` of them. */
export async function pageAnswers(db: Database, query: AnswerPageQuery): Promise<AnswerSummary[]> {
  const order: OrderColumn[] = [
    { name: 'at', direction: 'desc', nullable: false },
    { name: 'id', direction: 'asc', nullable: false },
  ];
  const rows = await db.client.confirmation.findMany({
    where: {
      organisationId: query.organisationId,
      ...(query.subjectKind === undefined ? {} : { subjectKind: query.subjectKind }),
      AND: query.after ? [afterWhere(order, { at: toDate(query.after.at), id: query.after.id })] : [],
    },
    orderBy: orderByOf(order) as Prisma.ConfirmationOrderByWithRelationInput[],
    take: query.limit + 1,
  });
  const about = await subjectsOf(db, rows);
  return rows.map((row) => {
    const raw = (row.raw ?? {}) as { note?: unknown; value?: unknown };
    return {
      id: row.id,
      source: row.source,
      subjectKind: row.subjectKind,
      subjectId: row.subjectId,
      about: about.get(row.subjectId) ?? 'something that is no longer there',
      answer: row.answer,
      proposedDay: row.proposedDay && dateFromDatabase(row.proposedDay),
      note: typeof raw.note === 'string' ? raw.note : null,
      value: typeof raw.value === 'number' ? raw.value : null,
      at: toInstant(row.at),
    };
  });
}

/** In a few words what each answer was about, by the id of its subject. */
async function subjectsOf(
  db: Database,
  rows: readonly { subjectKind: string; subjectId: string }[],
): Promise<Map<string, string>> {
  const idsOf = (kind: string) => ({
    id: { in: rows.filter((row) => row.subjectKind === kind).map((row) => row.subjectId) },
  });
  const assignments = await db.client.assignment.findMany({
    where: idsOf('assignment'),
    include: { personRow: true, visit: { include: { jobRow: true } } },
  });
  const holds = await db.client.liftHold.findMany({
    where: idsOf('liftHold'),
    include: { liftRow: true, visit: { include: { jobRow: true } } },
  });
  const runs = await db.client.deliveryRun.findMany({
    where: idsOf('deliveryRun'),
    include: { jobRow: true },
  });
  const items = await db.client.readinessItem.findMany({
    where: idsOf('readinessItem'),
    include: { jobRow: true },
  });
  const visits = await db.client.visit.findMany({ where: idsOf('visit'), include: { jobRow: true } });
  return new Map([
    ...assignments.map((row) => [row.id, `${row.personRow.name}: ${row.visit.jobRow.title}`] as const),
    ...holds.map((row) => [row.id, `${row.liftRow.name}: ${row.visit.jobRow.title}`] as const),
    ...runs.map((row) => [row.id, `Delivery: ${row.jobRow.title}`] as const),
    ...items.map((row) => [row.id, `${row.title} (${row.jobRow.title})`] as const),
    ...visits.map((row) => [row.id, row.jobRow.title] as const),
  ]);
}
