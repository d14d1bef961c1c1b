// A requested plan is computed by a worker and kept as a draft; asking it to stop keeps the best so far; a planner that is
// killed loses nothing.
import { afterAll, beforeAll, describe, expect, it, jest } from '@jest/globals';
import { readConfig } from '../../../apps/worker/src/config.ts';
import { type RunningWorker, startWorker } from '../../../apps/worker/src/worker.ts';
import { systemActor } from '../../../libs/data/src/actor.ts';
import { ensureOrganisation } from '../../../libs/data/src/organisation.repository.ts';
import { getPlan, listPlans } from '../../../libs/data/src/plan.repository.ts';
import {
  getPlanRun,
  type PlanRun,
  requestPlanRun,
  requestStop,
} from '../../../libs/data/src/plan-run.repository.ts';
import { exportSeason } from '../../../libs/data/src/season-export.repository.ts';
import { applyImport } from '../../../libs/data/src/season-import.repository.ts';
import { buildSeasonProblem } from '../../../libs/intake/src/index.ts';
import type { Instant } from '../../../libs/kernel/src/index.ts';
import { checkPlan } from '../../../libs/season/src/index.ts';
import { type SeasonFileChanges, seasonFile } from '../../builders/season-file.ts';
import { createWorkerDatabase, recordedLog, until, type WorkerDatabase } from './worker-bench.ts';
import { startWorkerProcess } from './worker-process.ts';

jest.setTimeout(300_000);
const PATIENCE_MS = 120_000;
const actor = systemActor('test');
const SECRET = 'a-secret-of-the-test-that-is-long-enough';

describe('a plan run', () => {
  let database: WorkerDatabase;
  let worker: RunningWorker | undefined;
  let organisationId: string;
  let seasonId: string;
  const { log, lines } = recordedLog();

  const environment = () => ({
    DATABASE_URL: database.url,
    DRYSPELL_PUBLIC_URL: 'https://plan.example.org',
    DRYSPELL_SECRET: SECRET,
  });

  beforeAll(async () => {
    database = await createWorkerDatabase();
    const firm = {
      key: 'firm',
      name: 'Larch & Loon Domes (invented)',
      zone: 'America/Halifax',
      isDemo: true,
    };
    organisationId = (await ensureOrganisation(database.db, firm, actor)).id;
    seasonId = await importSeason('planned');
  });
  afterAll(async () => {
    await worker?.stop();
    await database.destroy();
  });

  async function importSeason(key: string, changes: SeasonFileChanges = {}): Promise<string> {
    const file = seasonFile({ ...changes, season: { key } });
    const report = await applyImport(database.db, organisationId, file, actor);
    expect(report.faults).toEqual([]);
    return report.seasonId as string;
  }
  const request = (options: object, kind = 'plan', season = seasonId) =>
    requestPlanRun(database.db, { seasonId: season, kind, options, actor });
  const runNow = (id: string) => getPlanRun(database.db, organisationId, id);
  async function ended({ id }: PlanRun): Promise<PlanRun> {
    await until('the run has ended', async () => (await runNow(id)).finishedAt !== null, PATIENCE_MS);
    return runNow(id);
  }

  it('that a killed worker had is taken up by another one and done', async () => {
    const first = await startWorkerProcess(environment());
    const run = await request({ seed: 7, seconds: 10 });
    await until('it runs', async () => (await runNow(run.id)).state === 'running', PATIENCE_MS);
    await first.kill();
    const second = await startWorkerProcess(environment());
    // Nobody asked for a stop: it is queued again by the sweep, and computed from the start.
    const again = await ended(run);
    expect([again.state, again.attempts]).toEqual(['done', 2]);
    expect(again.planId).not.toBeNull();
    expect((await listPlans(database.db, seasonId)).length).toBe(1);
    expect(await second.stop()).toBe(0);
  });

  it('becomes a draft that the independent checker accepts, beside the yardstick', async () => {
    worker = await startWorker(readConfig(environment()), log);
    const run = await ended(await request({ seed: 5, iterations: 400, title: 'Try' }));
    expect([run.state, run.fault]).toEqual(['done', null]);
    const plan = await getPlan(database.db, seasonId, run.planId as string);
    expect([plan.status, plan.title, plan.seed]).toEqual(['draft', 'Try', 5]);
    const file = await exportSeason(database.db, organisationId, 'planned');
    const today = new Date().toISOString().slice(0, 10);
    const { problem } = buildSeasonProblem(file, { today });
    expect(checkPlan(problem, plan.content).violations).toEqual([]);
    expect(plan.content.visits.length).toBeGreaterThan(0);
    expect(run.result).toMatchObject({ kind: 'plan' });
    const { firstComeCents } = run.result as { firstComeCents: number };
    expect(plan.totalCents).toBeLessThanOrEqual(firstComeCents);
  });

  it('with the same seed and tries gives the same plan', async () => {
    const twice = [];
    for (let i = 0; i < 2; i += 1) {
      const run = await ended(await request({ seed: 11, iterations: 300 }));
      twice.push((await getPlan(database.db, seasonId, run.planId as string)).content);
    }
    expect(twice[1]).toEqual(twice[0]);
  });

  it('says how far it is, stops when asked, and keeps the best plan so far', async () => {
    const run = await request({ seed: 1, seconds: 600 });
    await until('it says how far it is', async () => (await runNow(run.id)).progress !== null, PATIENCE_MS);
    const { progress } = await runNow(run.id);
    expect(progress).toMatchObject({ iterations: expect.any(Number), bestCents: expect.any(Number) });
    expect((progress as { fraction: number }).fraction).toBeLessThan(1);
    await requestStop(database.db, {
      organisationId,
      id: run.id,
      actor,
      now: new Date().toISOString() as Instant,
    });
    const stopped = await ended(run);
    expect(stopped.state).toBe('stopped');
    const plan = await getPlan(database.db, seasonId, stopped.planId as string);
    expect(plan.content.visits.length).toBeGreaterThan(0);
  });

  it('of pins that clash is an answer with the reasons and no plan', async () => {
    // One crew cannot build at two sites on the same day.
    const { jobs } = seasonFile();
    const pinned = jobs.map((job) => ({ ...job, pinnedStart: '2027-06-14', pinReason: 'invented' }));
    const clashing = await importSeason('clashing', { jobs: pinned });
    const run = await ended(await request({ iterations: 50 }, 'plan', clashing));
    expect([run.state, run.fault, run.planId]).toEqual(['done', null, null]);
    const result = run.result as { kind: string; clashes: { jobs: string[] }[] };
    expect(result.kind).toBe('refused');
    expect(result.clashes.flatMap((clash) => clash.jobs).sort()).toEqual(jobs.map((job) => job.key).sort());
  });

  it('of a kind that nobody computes fails with a reason', async () => {
    const run = await ended(await request({}, 'horoscope'));
    expect(run.state).toBe('failed');
    expect(run.fault).toMatchObject({ code: 'invalid-input', data: { kind: 'horoscope' } });
    expect(lines.filter((line) => line.level >= 50)).toEqual([]);
  });
});
