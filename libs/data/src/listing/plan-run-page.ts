import type { Instant } from '../../../kernel/src/index.ts';
import type { Prisma } from '../../generated/client.ts';
import type { Database } from '../database.ts';
import { toDate } from '../moments.ts';
import { type PlanRun, planRunOf } from '../plan-run.repository.ts';
import { afterWhere, type OrderColumn, orderByOf } from './keyset.ts';

/** A page of the runs of a season, the newest first, at most `limit + 1` of them. */
export async function pagePlanRuns(
  db: Database,
  query: { seasonId: string; after: { createdAt: Instant; id: string } | null; limit: number },
): Promise<PlanRun[]> {
  const order: OrderColumn[] = [
    { name: 'createdAt', direction: 'desc', nullable: false },
    { name: 'id', direction: 'asc', nullable: false },
  ];
  const { after } = query;
  const rows = await db.client.planRun.findMany({
    where: {
      seasonId: query.seasonId,
      AND: after ? [afterWhere(order, { createdAt: toDate(after.createdAt), id: after.id })] : [],
    },
    orderBy: orderByOf(order) as Prisma.PlanRunOrderByWithRelationInput[],
    take: query.limit + 1,
  });
  return rows.map(planRunOf);
}
