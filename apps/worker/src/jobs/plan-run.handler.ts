import { setImmediate } from 'node:timers/promises';
import { z } from 'zod';
import type { planRun } from '../../../../libs/contracts/src/jobs/index.ts';
import { systemActor } from '../../../../libs/data/src/actor.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import {
  failPlanRun,
  finishPlanRun,
  type PlanRun,
  startPlanRun,
} from '../../../../libs/data/src/plan-run.repository.ts';
import { getSeasonById } from '../../../../libs/data/src/season.repository.ts';
import { exportSeason } from '../../../../libs/data/src/season-export.repository.ts';
import { seasonWindows } from '../../../../libs/data/src/weather/season-windows.ts';
import {
  buildSeasonProblem,
  computeWindow,
  figureNeeds,
  figureTables,
  type IntakeWarning,
  WINDOW_KIND,
  windowNeeds,
  windowTablesOf,
} from '../../../../libs/intake/src/index.ts';
import { type Clock, DryspellError, instantToLocal } from '../../../../libs/kernel/src/index.ts';
import type { JobHandler, JobRun } from '../../../../libs/queue/src/queue.port.ts';
import { reasonOf } from '../../../../libs/queue/src/queue-error.ts';
import { checkPlan, type SeasonPlan, type SeasonProblem } from '../../../../libs/season/src/index.ts';
import type { Log } from '../log.ts';
import type { PlanWithYardstick, planBesideYardstick } from '../threads/planner-pool.ts';
import { watchRun } from './watched-run.ts';

export interface PlanRunParams {
  readonly db: Database;
  readonly plan: typeof planBesideYardstick;
  readonly clock: Clock;
  readonly log: Log;
}

/** Seconds of search where the request names no budget. */
const USUAL_SECONDS = 20;

const optionsSchema = z.object({
  seed: z.int().optional(),
  iterations: z.int().min(1).optional(),
  seconds: z.number().positive().optional(),
  title: z.string().optional(),
});
type PlanOptions = z.output<typeof optionsSchema>;

/**
 * Computes one requested plan and keeps it as a draft. The row says how it ended; a run that is no longer this worker's
 * writes nothing. A run that was lost with its worker is queued again by the sweep.
 */
export function planRunHandler(params: PlanRunParams): JobHandler<typeof planRun> {
  return async ({ planRunId }, run) => {
    const work = await startPlanRun(params.db, { id: planRunId, now: params.clock.now() });
    if (work === null) return;
    try {
      await compute(params, work, run);
    } catch (error) {
      if (run.signal.aborted) throw error;
      await noteFailure(params, work, error);
    }
  };
}

async function compute(params: PlanRunParams, work: PlanRun, run: JobRun): Promise<void> {
  const { clock } = params;
  if (work.kind !== 'plan' && work.kind !== 'replan') {
    throw new DryspellError('invalid-input', { kind: work.kind, expected: 'plan or replan' });
  }
  const options = optionsSchema.parse(work.options);
  const { problem, warnings } = await readProblem(params, work.seasonId);
  const watched = watchRun({ ...params, work, run });
  let answer: PlanWithYardstick;
  try {
    const budgetless = options.iterations === undefined && options.seconds === undefined;
    answer = await params.plan(problem, {
      seed: options.seed ?? 1,
      ...(options.iterations === undefined ? {} : { iterations: options.iterations }),
      ...(budgetless ? { seconds: USUAL_SECONDS } : {}),
      ...(options.seconds === undefined ? {} : { seconds: options.seconds }),
      onProgress: watched.note,
      signal: watched.signal,
    });
  } finally {
    await watched.end();
  }
  // Stopped because the process closes or the run is another's: nothing is kept, the run is queued again by itself.
  if (run.signal.aborted) throw new Error(`planning was broken off: ${run.signal.reason}`);
  const state = watched.stopped() ? ('stopped' as const) : ('done' as const);
  await finish(params, { work, options, problem, warnings, answer, state, now: clock.now() });
}

async function readProblem(
  { db, clock }: PlanRunParams,
  seasonId: string,
): Promise<{ problem: SeasonProblem; warnings: readonly IntakeWarning[] }> {
  const season = await getSeasonById(db.client, seasonId);
  const file = await exportSeason(db, season.organisationId, season.head.key);
  const now = clock.now();
  const { organisationId } = season;
  let recordOfSite: ReadonlyMap<string, string> = new Map();
  const windows = await seasonWindows(db, {
    organisationId,
    seasonId,
    kind: WINDOW_KIND,
    needsOf: (records) => {
      recordOfSite = records;
      return windowNeeds(file, { recordOfSite });
    },
    compute: ({ content }, record) => computeWindow(content, record),
    now,
  });
  let windowTables = windowTablesOf(windows);
  for (const needs of figureNeeds(file, recordOfSite)) {
    windowTables = { ...figureTables(file, needs), ...windowTables };
    // Making up the years of an area takes a while; the rest of the worker has its turn in between.
    await setImmediate();
  }
  const today = instantToLocal(now, season.head.zone).date;
  return buildSeasonProblem(file, { today, windowTables });
}

interface Finish {
  readonly work: PlanRun;
  readonly options: PlanOptions;
  readonly problem: SeasonProblem;
  readonly warnings: readonly IntakeWarning[];
  readonly answer: PlanWithYardstick;
  readonly state: 'done' | 'stopped';
  readonly now: ReturnType<Clock['now']>;
}

async function finish({ db, log }: PlanRunParams, end: Finish): Promise<void> {
  const { work, answer, warnings, state, now } = end;
  const { outcome, firstComeCents } = answer;
  const ended = { id: work.id, attempt: work.attempts, state, now };
  if (outcome.kind === 'refused') {
    const result = { kind: 'refused', clashes: outcome.clashes, warnings };
    await finishPlanRun(db, { ...ended, draft: null, result });
    return;
  }
  requireValid(end.problem, outcome.plan);
  const draft = {
    seasonId: work.seasonId,
    plan: outcome.plan,
    title: end.options.title ?? null,
    actor: systemActor('planner'),
  };
  await finishPlanRun(db, { ...ended, draft, result: { kind: 'plan', firstComeCents, warnings } });
  const { visits, notPlanned, totalCents } = outcome.plan;
  log.info(
    { planRun: work.id, visits: visits.length, notPlanned: notPlanned.length, totalCents, state },
    'planned',
  );
}

/** The checker shares no code with the solver: a plan that it refuses is a mistake of the program and is not kept. */
function requireValid(problem: SeasonProblem, plan: SeasonPlan): void {
  const { valid, violations } = checkPlan(problem, plan);
  if (!valid) throw new DryspellError('plan-not-valid', { violations: violations.slice(0, 20) });
}

async function noteFailure({ db, clock, log }: PlanRunParams, work: PlanRun, error: unknown): Promise<void> {
  // Without the database nothing can be noted: the run falls silent and is queued again by the sweep.
  if (error instanceof DryspellError && (error.code === 'unavailable' || error.code === 'state-conflict'))
    throw error;
  const coded = error instanceof DryspellError;
  if (!coded || error.kind === 'fault') log.error({ planRun: work.id, err: error }, 'planning failed');
  const fault = coded
    ? { code: error.code, data: error.data }
    : { code: error instanceof z.ZodError ? 'invalid-input' : 'internal', data: { said: reasonOf(error) } };
  await failPlanRun(db, { id: work.id, attempt: work.attempts, fault, now: clock.now() });
}
