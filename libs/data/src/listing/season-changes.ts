import { seasonTableNames } from '../../../contracts/src/index.ts';
import type { Database } from '../database.ts';

/**
 * How many changes to rows of the season were written after the planner read it for this plan: from the start of its run, or
 * from the moment at which it was kept. The plan was not checked against them. Answers of people and what publishing notes do not count.
 */
export async function countSeasonChanges(db: Database, seasonId: string, planId: string): Promise<number> {
  const plan = await db.client.plan.findFirst({
    where: { id: planId, seasonId },
    select: {
      createdAt: true,
      runs: { select: { startedAt: true }, orderBy: { startedAt: 'asc' }, take: 1 },
    },
  });
  if (!plan) return 0;
  const since = plan.runs[0]?.startedAt ?? plan.createdAt;
  return db.client.auditRow.count({
    where: { seasonId, at: { gt: since }, subjectKind: { in: ['season', ...seasonTableNames] } },
  });
}
