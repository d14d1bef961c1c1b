import { DryspellError, type Instant } from '../../kernel/src/index.ts';
import type { SeasonPlan } from '../../season/src/plan.ts';
import type { Prisma } from '../generated/client.ts';
import type { Actor } from './actor.ts';
import { jsonOf, writeAudit } from './audit.repository.ts';
import type { Database, Tx } from './database.ts';
import { toInstant, toInstantOrNull } from './moments.ts';
import type { PlanDifference } from './plan-difference.ts';
import { getSeasonById } from './season.repository.ts';

export type PlanStatus = 'draft' | 'published' | 'superseded' | 'discarded';

export interface PlanInfo {
  readonly id: string;
  readonly seasonId: string;
  /** Counts the plans of a season from 1. */
  readonly number: number;
  readonly status: PlanStatus;
  readonly title: string | null;
  readonly seed: number;
  readonly iterations: number;
  readonly method: string;
  readonly problemHash: string;
  readonly totalCents: number;
  readonly boundCents: number | null;
  readonly boundMethod: string | null;
  readonly createdAt: Instant;
  readonly publishedAt: Instant | null;
  readonly endedAt: Instant | null;
  readonly version: number;
}

export interface StoredPlan extends PlanInfo {
  readonly content: SeasonPlan;
  readonly odds: unknown;
}

export interface DraftInput {
  readonly seasonId: string;
  readonly plan: SeasonPlan;
  readonly title?: string | null;
  readonly odds?: unknown;
  readonly actor: Actor;
}

/** Keeps a plan as a draft. Whether it is valid is for the caller to check before. */
export async function createDraftPlan(db: Database, input: DraftInput): Promise<PlanInfo> {
  return db.transaction((tx) => writeDraft(tx, input));
}

/** As `createDraftPlan`, within a transaction. */
export async function writeDraft(tx: Tx, input: DraftInput): Promise<PlanInfo> {
  const { plan, actor } = input;
  const season = await getSeasonById(tx, input.seasonId);
  const last = await tx.plan.aggregate({ where: { seasonId: season.id }, _max: { number: true } });
  const row = await tx.plan.create({
    data: {
      seasonId: season.id,
      number: (last._max.number ?? 0) + 1,
      title: input.title ?? null,
      seed: BigInt(plan.made.seed),
      iterations: BigInt(plan.made.iterations),
      method: plan.made.method,
      problemHash: plan.problemHash,
      content: plan as unknown as Prisma.InputJsonValue,
      odds: jsonOf(input.odds),
      totalCents: BigInt(plan.totalCents),
      boundCents: plan.bound === null ? null : BigInt(plan.bound.cents),
      boundMethod: plan.bound?.method ?? null,
      createdById: actor.kind === 'user' ? actor.id : null,
    },
  });
  await auditPlan(tx, season.organisationId, row, 'plan.drafted', actor);
  return planInfoOf(row);
}

/** All plans of a season, the newest first. */
export async function listPlans(db: Database, seasonId: string): Promise<PlanInfo[]> {
  const rows = await db.client.plan.findMany({
    where: { seasonId },
    orderBy: { number: 'desc' },
    omit: { content: true, odds: true },
  });
  return rows.map(planInfoOf);
}

/** Throws `not-found`, also for a plan of another season. */
export async function getPlan(
  db: Database | { readonly client: Tx },
  seasonId: string,
  planId: string,
): Promise<StoredPlan> {
  const row = await db.client.plan.findFirst({ where: { id: planId, seasonId } });
  if (!row) throw new DryspellError('not-found', { plan: planId });
  return { ...planInfoOf(row), content: row.content as unknown as SeasonPlan, odds: row.odds };
}

/** The plan that is published now, or null. */
export async function getPublishedPlan(
  db: Database | { readonly client: Tx },
  seasonId: string,
): Promise<StoredPlan | null> {
  const row = await db.client.plan.findFirst({ where: { seasonId, status: 'published' } });
  return row ? { ...planInfoOf(row), content: row.content as unknown as SeasonPlan, odds: row.odds } : null;
}

/** Puts a draft away. Throws `not-found`, `version-conflict`, or `state-conflict` for a plan that is no draft. */
export async function discardPlan(
  db: Database,
  input: { seasonId: string; planId: string; version: number; actor: Actor },
): Promise<PlanInfo> {
  return db.transaction(async (tx) => {
    const season = await getSeasonById(tx, input.seasonId);
    const plan = await getPlan({ client: tx }, season.id, input.planId);
    if (plan.version !== input.version)
      throw new DryspellError('version-conflict', { version: plan.version });
    if (plan.status !== 'draft') throw new DryspellError('state-conflict', { status: plan.status });
    const row = await tx.plan.update({
      where: { id: plan.id },
      data: { status: 'discarded', endedAt: new Date() },
    });
    await auditPlan(tx, season.organisationId, row, 'plan.discarded', input.actor);
    return planInfoOf(row);
  });
}

export interface StoredDifference {
  readonly fromPlanId: string | null;
  readonly toPlanId: string;
  readonly content: PlanDifference;
}

/** What publishing this plan changed; null: it was never published. */
export async function getPlanDifference(db: Database, planId: string): Promise<StoredDifference | null> {
  const row = await db.client.planDifference.findUnique({ where: { toPlanId: planId } });
  if (!row) return null;
  return {
    fromPlanId: row.fromPlanId,
    toPlanId: row.toPlanId,
    content: row.content as unknown as PlanDifference,
  };
}

type PlanRow = Omit<Prisma.PlanModel, 'content' | 'odds'>;

async function auditPlan(
  tx: Tx,
  organisationId: string,
  row: PlanRow,
  action: string,
  actor: Actor,
): Promise<void> {
  await writeAudit(tx, {
    actor,
    organisationId,
    seasonId: row.seasonId,
    action,
    subjectKind: 'plan',
    subjectId: row.id,
    subjectKey: String(row.number),
    after: { status: row.status, totalCents: Number(row.totalCents), problemHash: row.problemHash },
  });
}

export function planInfoOf(row: PlanRow): PlanInfo {
  return {
    id: row.id,
    seasonId: row.seasonId,
    number: row.number,
    status: row.status as PlanStatus,
    title: row.title,
    seed: Number(row.seed),
    iterations: Number(row.iterations),
    method: row.method,
    problemHash: row.problemHash,
    totalCents: Number(row.totalCents),
    boundCents: row.boundCents === null ? null : Number(row.boundCents),
    boundMethod: row.boundMethod,
    createdAt: toInstant(row.createdAt),
    publishedAt: toInstantOrNull(row.publishedAt),
    endedAt: toInstantOrNull(row.endedAt),
    version: row.version,
  };
}
