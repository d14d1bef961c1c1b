import { execFile } from 'node:child_process';
import fs from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { checkPlan, type PlanOutcome, planSeason } from '../../../../libs/season/src/index.ts';
import { randomSeasonProblem } from '../../../../tests/builders/season-problem.ts';
import { planBesideYardstick, planWithThreads, type ThreadPlanProgress } from './planner-pool.ts';

const run = promisify(execFile);
const root = fileURLToPath(new URL('../../../../', import.meta.url));
const problem = randomSeasonProblem({ seed: 3, jobs: 9, crews: 2 });

function planOf(outcome: PlanOutcome) {
  if (outcome.kind !== 'plan') throw new Error('a plan was expected');
  return outcome.plan;
}

describe('planning in threads', () => {
  it('gives the same plan on one thread, on three, and without threads', async () => {
    const alone = planSeason(problem, { seed: 5, budget: { iterations: 80 } });
    const [one, three] = await Promise.all([
      planWithThreads(problem, { seed: 5, iterations: 80, threads: 1 }),
      planWithThreads(problem, { seed: 5, iterations: 80, threads: 3 }),
    ]);
    expect(one).toEqual(alone);
    expect(three).toEqual(alone);
    expect(checkPlan(problem, planOf(three)).violations).toEqual([]);
  }, 60_000);

  it('keeps the best plan so far when it is stopped', async () => {
    const stop = new AbortController();
    const seen: ThreadPlanProgress[] = [];
    const outcome = await planWithThreads(problem, {
      seed: 1,
      seconds: 3600,
      threads: 2,
      signal: stop.signal,
      onProgress: (progress) => {
        seen.push(progress);
        if (progress.iterations > 40) stop.abort();
      },
    });
    const plan = planOf(outcome);
    expect(checkPlan(problem, plan)).toMatchObject({ valid: true, totalCents: plan.totalCents });
    expect(plan.totalCents).toBeLessThanOrEqual(seen[seen.length - 1]?.bestCents as number);
    for (let at = 1; at < seen.length; at += 1) {
      expect(seen[at]?.bestCents).toBeLessThanOrEqual(seen[at - 1]?.bestCents as number);
      expect(seen[at]?.iterations).toBeGreaterThanOrEqual(seen[at - 1]?.iterations as number);
    }
  }, 60_000);

  it('gives a valid plan when it is stopped before it begins', async () => {
    const outcome = await planWithThreads(problem, { seed: 1, seconds: 3600, signal: AbortSignal.abort() });
    expect(checkPlan(problem, planOf(outcome)).valid).toBe(true);
  }, 60_000);

  it('ends by seconds, and puts the cost of first come, first served beside the plan', async () => {
    const { outcome, firstComeCents } = await planBesideYardstick(problem, {
      seed: 1,
      seconds: 0.5,
      threads: 2,
    });
    expect(firstComeCents).toBeGreaterThanOrEqual(planOf(outcome).totalCents);
  }, 60_000);

  it('says what clashes when pins cannot be kept', async () => {
    const [first, second] = problem.jobs;
    const start = (problem.firstDay + 60) as (typeof problem)['firstDay'];
    const pin = { start, crew: 'crew-1' };
    const pinned = {
      ...problem,
      jobs: problem.jobs.map((job) =>
        job === first || job === second ? { ...job, pin, siteClosedDays: [] } : job,
      ),
    };
    const outcome = await planWithThreads(pinned, { seed: 1, iterations: 10, threads: 2 });
    expect(outcome.kind).toBe('refused');
  }, 60_000);

  it('fails with a code for a problem that names what is not there', async () => {
    const broken = { ...problem, jobs: problem.jobs.map((job) => ({ ...job, site: 'nowhere' })) };
    await expect(planWithThreads(broken, { seed: 1, iterations: 1 })).rejects.toMatchObject({
      code: 'invalid-input',
      data: { value: 'nowhere' },
    });
    await expect(planWithThreads(problem, { seed: 1 })).rejects.toMatchObject({ code: 'invalid-input' });
  }, 60_000);

  it('fails and does not hang when a thread dies', async () => {
    const throwing = new URL('data:text/javascript,throw new Error("broken")');
    const leaving = new URL('data:text/javascript,process.exit(3)');
    for (const entry of [throwing, leaving]) {
      await expect(
        planWithThreads(problem, { seed: 1, iterations: 1, threads: 2, entry }),
      ).rejects.toMatchObject({
        code: 'internal',
      });
    }
  }, 60_000);
});

describe('planning in threads from built files', () => {
  // Beside the packages, so that what is built here finds them.
  const folder = path.join(root, 'node_modules', '.cache', `planner-threads-${process.pid}`);

  beforeAll(async () => {
    const swc = path.join(root, 'node_modules', '@swc', 'cli', 'bin', 'swc.js');
    const sources = ['apps/worker/src/threads', 'libs/kernel', 'libs/search', 'libs/season'];
    await run(process.execPath, [swc, ...sources, '-d', folder], { cwd: root });
  }, 60_000);

  afterAll(() => fs.rm(folder, { recursive: true, force: true }));

  it('gives the plan that the sources give', async () => {
    const pool = path.join(folder, 'apps/worker/src/threads/planner-pool.js');
    const script = `
      const { planWithThreads } = await import(${JSON.stringify(pathToFileURL(pool).href)});
      const outcome = await planWithThreads(${JSON.stringify(problem)}, { seed: 5, iterations: 80, threads: 2 });
      process.stdout.write(JSON.stringify(outcome));`;
    const { stdout } = await run(process.execPath, ['--input-type=module', '-e', script], {
      cwd: root,
      env: { PATH: process.env['PATH'] ?? '', TZ: 'UTC' },
    });
    expect(JSON.parse(stdout)).toEqual(planSeason(problem, { seed: 5, budget: { iterations: 80 } }));
  }, 60_000);
});
