import type { Instant } from '../../../kernel/src/index.ts';
import type { Prisma } from '../../generated/client.ts';
import type { Recipient } from '../action-link.repository.ts';
import type { Database } from '../database.ts';
import { toDate, toInstant, toInstantOrNull } from '../moments.ts';
import type { ReminderInfo } from '../reminder.repository.ts';
import { dateFromDatabase } from '../season-tables.ts';
import { afterWhere, type OrderColumn, orderByOf } from './keyset.ts';

export interface ReminderPageQuery {
  readonly seasonId: string;
  readonly visitId?: string | undefined;
  readonly state?: ReminderInfo['state'] | undefined;
  readonly after: { readonly dueAt: Instant; readonly id: string } | null;
  readonly limit: number;
}

/** A page of reminders in the order of their moments, at most `limit + 1` of them. */
export async function pageReminders(db: Database, query: ReminderPageQuery): Promise<ReminderInfo[]> {
  const order: OrderColumn[] = [
    { name: 'dueAt', direction: 'asc', nullable: false },
    { name: 'id', direction: 'asc', nullable: false },
  ];
  const { after } = query;
  const rows = await db.client.reminder.findMany({
    where: {
      seasonId: query.seasonId,
      ...(query.visitId === undefined ? {} : { visitId: query.visitId }),
      ...(query.state === undefined ? {} : { state: query.state }),
      AND: after ? [afterWhere(order, { dueAt: toDate(after.dueAt), id: after.id })] : [],
    },
    orderBy: orderByOf(order) as Prisma.ReminderOrderByWithRelationInput[],
    take: query.limit + 1,
  });
  return rows.map((row) => ({
    id: row.id,
    visitId: row.visitId,
    purpose: row.purpose,
    recipient: { kind: row.recipientKind as Recipient['kind'], key: row.recipientKey },
    localDate: dateFromDatabase(row.localDate),
    localTime: row.localTime,
    zone: row.zone,
    dueAt: toInstant(row.dueAt),
    state: row.state as ReminderInfo['state'],
    doneAt: toInstantOrNull(row.doneAt),
  }));
}
