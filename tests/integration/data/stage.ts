import { systemActor } from '../../../libs/data/src/actor.ts';
import { createDatabase, type Database } from '../../../libs/data/src/database.ts';
import { ensureOrganisation } from '../../../libs/data/src/organisation.repository.ts';
import { createDraftPlan } from '../../../libs/data/src/plan.repository.ts';
import { type PublishReport, publishPlan } from '../../../libs/data/src/publish.repository.ts';
import { applyImport } from '../../../libs/data/src/season-import.repository.ts';
import type { Instant } from '../../../libs/kernel/src/index.ts';
import { createTestDatabase } from '../../builders/test-database.ts';
import { planOf, smallPatterns, smallSeasonFile, type VisitSketch } from './small-season.ts';

export const actor = systemActor('test');
export const linkSecret = 'a-secret-of-the-test-that-is-long-enough';
export const mailDomain = 'plan.example.org';
export const now = '2026-05-01T12:00:00.000Z' as Instant;

export const hill: VisitSketch = {
  job: 'hill-build',
  crew: 'north',
  days: ['2026-06-08', '2026-06-09'],
  reserve: ['2026-06-10'],
  liftUnit: 'crane-1',
  equipment: ['trailer-1'],
  deliveryDay: '2026-06-05',
};

export interface Stage {
  readonly db: Database;
  readonly url: string;
  readonly organisationId: string;
  readonly seasonId: string;
  close(): Promise<void>;
}

/** A database of its own with one firm and the small season. */
export async function openStage(): Promise<Stage> {
  const testDatabase = await createTestDatabase();
  const db = createDatabase({ url: testDatabase.url });
  const firm = { key: 'firm', name: 'Larch & Loon Domes (invented)', zone: 'America/Halifax', isDemo: true };
  const organisationId = (await ensureOrganisation(db, firm, actor)).id;
  const report = await applyImport(db, organisationId, smallSeasonFile(), actor);
  return {
    db,
    url: testDatabase.url,
    organisationId,
    seasonId: report.seasonId as string,
    close: async () => {
      await db.close();
      await testDatabase.drop();
    },
  };
}

/** Keeps a plan of these visits as a draft and publishes it. */
export async function publish(
  stage: Pick<Stage, 'db' | 'seasonId'>,
  visits: readonly VisitSketch[],
  totalCents?: number,
): Promise<PublishReport> {
  const { db, seasonId } = stage;
  const plan = await createDraftPlan(db, { seasonId, plan: planOf(visits, totalCents), actor });
  const common = { seasonId, planId: plan.id, version: plan.version, problem: smallPatterns };
  return publishPlan(db, { ...common, actor, now, linkSecret, mailDomain });
}
