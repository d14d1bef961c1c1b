/** Entry of a planner thread: runs some of the islands of one season, on messages of the pool that started it. */
import { parentPort, workerData } from 'node:worker_threads';
import {
  budgetLeft,
  finishPlan,
  firstComeFirstServed,
  type Island,
  type PlanBudget,
  prepareSeason,
  startIslands,
} from '../../../../libs/season/src/index.ts';
import type { FromThread, ThreadStart, ToThread } from './thread-messages.ts';

const PROGRESS_EVERY_MS = 100;

function main(): void {
  const port = parentPort;
  if (!port) throw new Error('this file is the entry of a worker thread');
  const say = (message: FromThread): void => port.postMessage(message);
  const clock = (): number => performance.now();
  const startedMs = clock();
  const {
    problem,
    seed,
    islands: count,
    indexes,
    iterations,
    durationMs,
    stopFlag,
  } = workerData as ThreadStart;
  const flag = new Int32Array(stopFlag);

  const prepared = prepareSeason(problem, seed);
  if (prepared.kind === 'refused') {
    say({ kind: 'outcome', outcome: prepared, firstComeCents: null });
    return;
  }
  const budget: PlanBudget = {
    ...(iterations === null ? {} : { iterations }),
    ...(durationMs === null ? {} : { time: { clock, durationMs } }),
    isStopped: () => Atomics.load(flag, 0) !== 0,
  };
  const saidMs = new Map<number, number>();
  const islands: Island[] = startIslands(prepared, {
    seed,
    count,
    indexes,
    budget: budgetLeft(budget, startedMs),
    onProgress: (island, progress) => {
      const now = clock();
      if (now - (saidMs.get(island) ?? Number.NEGATIVE_INFINITY) < PROGRESS_EVERY_MS) return;
      saidMs.set(island, now);
      const { iterations: done, bestCost, fraction } = progress;
      say({ kind: 'progress', island, iterations: done, bestCost, fraction });
    },
  });

  port.on('message', (message: ToThread) => {
    if (message.kind === 'finish') {
      const outcome = finishPlan(prepared.season, message.answers, { seed, islands: count });
      const yardstick = message.withYardstick ? firstComeFirstServed(problem) : null;
      const firstComeCents = yardstick?.kind === 'plan' ? yardstick.plan.totalCents : null;
      say({ kind: 'outcome', outcome, firstComeCents });
      port.close();
      return;
    }
    for (const island of islands) {
      if (message.adopt && message.laggards.includes(island.index)) island.adopt(message.adopt.snapshot);
    }
    say({ kind: 'answers', answers: islands.map((island) => island.run(message.until)) });
  });
  say({ kind: 'ready' });
}

main();
