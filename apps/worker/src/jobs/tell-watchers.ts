import type { Database } from '../../../../libs/data/src/database.ts';

/** Wakes whoever streams the run to a browser; those who miss it read the row a moment later. */
export async function tellWatchers(db: Database, planRunId: string): Promise<void> {
  await db.client.$executeRaw`SELECT pg_notify('plan_run', ${planRunId})`;
}
