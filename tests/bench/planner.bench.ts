/**
 * The planner against first come, first served, and against its own proven bound, on the demo season and on invented seasons of 26 jobs with
 * 3 crews and 60 jobs with 6 crews. Costs are compared, not times; the plans are made by seconds and so differ a little between machines.
 */
import fs from 'node:fs';
import { planBesideYardstick } from '../../apps/worker/src/threads/planner-pool.ts';
import { validateSeasonFile } from '../../libs/contracts/src/index.ts';
import { buildSeasonProblem } from '../../libs/intake/src/index.ts';
import { checkPlan, type SeasonProblem } from '../../libs/season/src/index.ts';
import { randomSeasonProblem } from '../builders/season-problem.ts';
import { type BenchResult, machineWords } from './bench-result.ts';

interface Case {
  readonly name: string;
  readonly problem: SeasonProblem;
  readonly seconds: number;
}

function demoSeason(): SeasonProblem {
  const text = fs.readFileSync(
    new URL('../../prisma/demo/larch-and-loon-2027.json', import.meta.url),
    'utf8',
  );
  const read = validateSeasonFile(JSON.parse(text));
  if (!read.ok) throw new Error(`the demo season is not valid: ${JSON.stringify(read.faults[0])}`);
  return buildSeasonProblem(read.value).problem;
}

/** Plans each season for its seconds; the ratio is that of the demo season. */
export async function run(): Promise<BenchResult> {
  const cases: Case[] = [
    { name: 'demo', problem: demoSeason(), seconds: 2 },
    { name: 'demo long', problem: demoSeason(), seconds: 20 },
    { name: '26 jobs, 3 crews', problem: randomSeasonProblem({ seed: 1, jobs: 26, crews: 3 }), seconds: 2 },
    { name: '60 jobs, 6 crews', problem: randomSeasonProblem({ seed: 1, jobs: 60, crews: 6 }), seconds: 10 },
    {
      name: '60 jobs, 6 crews long',
      problem: randomSeasonProblem({ seed: 1, jobs: 60, crews: 6 }),
      seconds: 40,
    },
  ];
  const figures: Record<string, number | string> = {};
  let ratio = Number.NaN;
  for (const { name, problem, seconds } of cases) {
    const startedMs = performance.now();
    const { outcome, firstComeCents } = await planBesideYardstick(problem, { seed: 1, seconds });
    if (outcome.kind !== 'plan' || firstComeCents === null) throw new Error(`${name}: no plan`);
    const { plan } = outcome;
    if (!checkPlan(problem, plan).valid) throw new Error(`${name}: the plan is not valid`);
    if (name === 'demo') ratio = plan.totalCents / firstComeCents;
    figures[`${name}: seconds of budget`] = seconds;
    figures[`${name}: seconds in all, yardstick included`] = round((performance.now() - startedMs) / 1000);
    figures[`${name}: iterations`] = plan.made.iterations;
    figures[`${name}: plan cents`] = plan.totalCents;
    figures[`${name}: first come cents`] = firstComeCents;
    figures[`${name}: plan by first come`] = round(plan.totalCents / firstComeCents);
    figures[`${name}: bound cents`] = plan.bound?.cents ?? 'none';
    figures[`${name}: gap to the bound, share of the plan`] = round(
      1 - (plan.bound?.cents ?? 0) / plan.totalCents,
    );
    figures[`${name}: jobs not planned`] = plan.notPlanned.length;
  }
  return {
    name: 'planner',
    yardstick: 'first come, first served, in the same run',
    ratio: round(ratio),
    figures,
    machine: machineWords(),
  };
}

function round(value: number): number {
  return Math.round(value * 1000) / 1000;
}
