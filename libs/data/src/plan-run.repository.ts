import { addMinutes, DryspellError, type Instant } from '../../kernel/src/index.ts';
import type { Prisma } from '../generated/client.ts';
import type { PlanRunModel } from '../generated/models/PlanRun.ts';
import type { Actor } from './actor.ts';
import { jsonOf, writeAudit } from './audit.repository.ts';
import type { Database, Tx } from './database.ts';
import { toDate, toInstant, toInstantOrNull } from './moments.ts';
import { writeOutbox } from './outbox.repository.ts';
import { type DraftInput, writeDraft } from './plan.repository.ts';
import { getSeasonById } from './season.repository.ts';

export type PlanRunState = 'queued' | 'running' | 'done' | 'failed' | 'stopped';

export interface PlanRun {
  readonly id: string;
  readonly seasonId: string;
  /** `plan`, `replan`, `odds`, `bound` ... */
  readonly kind: string;
  readonly state: PlanRunState;
  readonly options: unknown;
  readonly progress: unknown;
  readonly result: unknown;
  /** Why it failed, as { code, data }. */
  readonly fault: unknown;
  readonly planId: string | null;
  readonly attempts: number;
  readonly stopRequested: boolean;
  readonly createdAt: Instant;
  readonly startedAt: Instant | null;
  readonly finishedAt: Instant | null;
  readonly version: number;
}

const runEntry = (id: string, attempt: number) => ({
  key: `plan.run-${id}-${attempt}`,
  topic: 'plan.run',
  payload: { planRunId: id },
});

/** Asks for long work; the outbox row that gets it going is written with it. */
export async function requestPlanRun(
  db: Database,
  input: { seasonId: string; kind: string; options: unknown; actor: Actor },
): Promise<PlanRun> {
  return db.transaction(async (tx) => {
    const season = await getSeasonById(tx, input.seasonId);
    const row = await tx.planRun.create({
      data: {
        seasonId: season.id,
        kind: input.kind,
        options: (input.options ?? {}) as Prisma.InputJsonValue,
        requestedById: input.actor.kind === 'user' ? input.actor.id : null,
      },
    });
    await writeOutbox(tx, runEntry(row.id, 1));
    await writeAudit(tx, {
      actor: input.actor,
      organisationId: season.organisationId,
      seasonId: season.id,
      action: 'planRun.requested',
      subjectKind: 'planRun',
      subjectId: row.id,
      after: { kind: input.kind, options: input.options },
    });
    return planRunOf(row);
  });
}

/** Throws `not-found`, also for a run of another organisation. */
export async function getPlanRun(db: Database, organisationId: string, id: string): Promise<PlanRun> {
  const row = await db.client.planRun.findFirst({ where: { id, season: { organisationId } } });
  if (!row) throw new DryspellError('not-found', { planRun: id });
  return planRunOf(row);
}

/**
 * Takes a queued run: queued -> running. Null: it is not there, somebody else has it, or it is over. One whose stop was
 * asked for before it began becomes stopped, and null comes back.
 */
export async function startPlanRun(
  db: Database,
  input: { id: string; now: Instant },
): Promise<PlanRun | null> {
  return db.transaction(
    async (tx) => {
      const { count } = await tx.planRun.updateMany({
        where: { id: input.id, state: 'queued' },
        data: {
          state: 'running',
          startedAt: toDate(input.now),
          heartbeatAt: toDate(input.now),
          attempts: { increment: 1 },
        },
      });
      if (count === 0) return null;
      const row = await tx.planRun.findUniqueOrThrow({ where: { id: input.id } });
      if (row.stopRequestedAt === null) return planRunOf(row);
      await tx.planRun.update({
        where: { id: row.id },
        data: { state: 'stopped', finishedAt: toDate(input.now) },
      });
      return null;
    },
    { isolation: 'readCommitted' },
  );
}

/**
 * Says how far a run is and that it lives. The answer says whether it is to stop: somebody asked for it, or the run is
 * no longer this worker's (`attempt` is the number that `startPlanRun` gave).
 */
export async function reportProgress(
  db: Database,
  input: { id: string; attempt: number; progress?: unknown; now: Instant },
): Promise<{ stop: boolean }> {
  const { count } = await db.client.planRun.updateMany({
    where: { id: input.id, state: 'running', attempts: input.attempt },
    data: {
      heartbeatAt: toDate(input.now),
      ...(input.progress === undefined ? {} : { progress: input.progress as Prisma.InputJsonValue }),
    },
  });
  if (count === 0) return { stop: true };
  const row = await db.client.planRun.findUniqueOrThrow({
    where: { id: input.id },
    select: { stopRequestedAt: true },
  });
  return { stop: row.stopRequestedAt !== null };
}

/** Asks a run to stop and keep the best it has. Throws `not-found`, `state-conflict` when it is over. */
export async function requestStop(
  db: Database,
  input: { organisationId: string; id: string; actor: Actor; now: Instant },
): Promise<PlanRun> {
  return db.transaction(async (tx) => {
    const row = await tx.planRun.findFirst({
      where: { id: input.id, season: { organisationId: input.organisationId } },
    });
    if (!row) throw new DryspellError('not-found', { planRun: input.id });
    if (row.finishedAt) throw new DryspellError('state-conflict', { state: row.state });
    const after = await tx.planRun.update({
      where: { id: row.id },
      data: { stopRequestedAt: row.stopRequestedAt ?? toDate(input.now) },
    });
    await writeAudit(tx, {
      actor: input.actor,
      organisationId: input.organisationId,
      seasonId: row.seasonId,
      action: 'planRun.stopRequested',
      subjectKind: 'planRun',
      subjectId: row.id,
    });
    return planRunOf(after);
  });
}

export interface FinishedRun {
  readonly id: string;
  readonly attempt: number;
  /** `stopped`: ended early on request, with the best so far. */
  readonly state: 'done' | 'stopped';
  /** The plan that came out, kept as a draft in the same transaction; null: none. */
  readonly draft: DraftInput | null;
  readonly result?: unknown;
  readonly now: Instant;
}

/** Ends a run with what came out, all in one. Throws `state-conflict` when the run is no longer this worker's. */
export async function finishPlanRun(db: Database, input: FinishedRun): Promise<PlanRun> {
  return db.transaction(async (tx) => {
    const plan = input.draft === null ? null : await writeDraft(tx, input.draft);
    const data = { planId: plan?.id ?? null, result: jsonOf(input.result) };
    return endRun(tx, input, { state: input.state, ...data });
  });
}

/** Ends a run that cannot be done. Throws `state-conflict` when the run is no longer this worker's. */
export async function failPlanRun(
  db: Database,
  input: { id: string; attempt: number; fault: { code: string; data: unknown }; now: Instant },
): Promise<PlanRun> {
  return db.transaction((tx) => endRun(tx, input, { state: 'failed', fault: jsonOf(input.fault) }));
}

async function endRun(
  tx: Tx,
  input: { id: string; attempt: number; now: Instant },
  data: Prisma.PlanRunUncheckedUpdateManyInput,
): Promise<PlanRun> {
  const { count } = await tx.planRun.updateMany({
    where: { id: input.id, state: 'running', attempts: input.attempt },
    data: { ...data, finishedAt: toDate(input.now) },
  });
  if (count === 0) throw new DryspellError('state-conflict', { planRun: input.id, attempt: input.attempt });
  return planRunOf(await tx.planRun.findUniqueOrThrow({ where: { id: input.id } }));
}

/**
 * Gets lost runs going again: running ones that were silent for `silentMin` go back to queued (or fail after `maxAttempts`),
 * and each queued one that nobody took gets a fresh outbox row. Returns how many.
 */
export async function recoverPlanRuns(
  db: Database,
  input: { now: Instant; silentMin: number; maxAttempts: number },
): Promise<{ queued: number; failed: number }> {
  const before = toDate(addMinutes(input.now, -input.silentMin));
  return db.transaction(
    async (tx) => {
      const lost = await tx.$queryRaw<{ id: string; attempts: number }[]>`
        SELECT id, attempts FROM plan_runs
        WHERE (state = 'running' AND heartbeat_at < ${before}) OR (state = 'queued' AND updated_at < ${before})
        FOR UPDATE SKIP LOCKED`;
      const hopeless = lost.filter((row) => row.attempts >= input.maxAttempts);
      for (const row of hopeless) {
        await tx.planRun.update({
          where: { id: row.id },
          data: {
            state: 'failed',
            finishedAt: toDate(input.now),
            fault: {
              code: 'internal',
              data: { said: 'the worker stopped answering', attempts: row.attempts },
            },
          },
        });
      }
      const again = lost.filter((row) => row.attempts < input.maxAttempts);
      for (const row of again) {
        // The moment in the key makes it a new job; the change of the row keeps it from being found again at once.
        await tx.planRun.update({
          where: { id: row.id },
          data: { state: 'queued', heartbeatAt: toDate(input.now) },
        });
        await writeOutbox(tx, {
          ...runEntry(row.id, row.attempts + 1),
          key: `plan.run-${row.id}-${Date.parse(input.now)}`,
        });
      }
      return { queued: again.length, failed: hopeless.length };
    },
    { isolation: 'readCommitted' },
  );
}

export function planRunOf(row: PlanRunModel): PlanRun {
  return {
    id: row.id,
    seasonId: row.seasonId,
    kind: row.kind,
    state: row.state as PlanRunState,
    options: row.options,
    progress: row.progress,
    result: row.result,
    fault: row.fault,
    planId: row.planId,
    attempts: row.attempts,
    stopRequested: row.stopRequestedAt !== null,
    createdAt: toInstant(row.createdAt),
    startedAt: toInstantOrNull(row.startedAt),
    finishedAt: toInstantOrNull(row.finishedAt),
    version: row.version,
  };
}
