import { type LeaderLock, tryLeaderLock } from '../../../libs/data/src/leader-lock.ts';
import type { Log } from './log.ts';
import { startSteadyLoop } from './steady-loop.ts';

const lockName = (workerName: string) => `worker ${workerName}`;

export interface AliveLock {
  release(): Promise<void>;
}

/**
 * Holds a lock in the worker's name for as long as its process lives; PostgreSQL lets go of it when the process dies.
 * Others can so tell a dead worker from one that is slow. Resolves once the lock is held for the first time.
 */
export async function holdAliveLock(params: {
  databaseUrl: string;
  workerName: string;
  log: Log;
}): Promise<AliveLock> {
  const { databaseUrl, workerName, log } = params;
  const take = () => tryLeaderLock({ url: databaseUrl, name: lockName(workerName) });
  let lock: LeaderLock | null = await take();
  const keep = (held: LeaderLock | null) =>
    void held?.lost.then(() => {
      if (lock === held) lock = null;
      loop.wake();
    });
  const loop = startSteadyLoop({
    name: 'alive lock',
    pauseMs: 500,
    log,
    work: async () => {
      if (lock !== null) return false;
      lock = await take();
      keep(lock);
      return false;
    },
  });
  keep(lock);
  return {
    release: async () => {
      await loop.stop();
      await lock?.release();
    },
  };
}

/** Whether no process holds the lock of that worker now. */
export async function hasEnded(params: { databaseUrl: string; workerName: string }): Promise<boolean> {
  const won = await tryLeaderLock({ url: params.databaseUrl, name: lockName(params.workerName) });
  await won?.release();
  return won !== null;
}

/**
 * Which of the workers have ended: those whose lock has been free at each look for `graceMs`. A worker whose connection was
 * cut takes its lock again within a second or two and is not among them.
 */
export class EndedWorkers {
  readonly #freeSince = new Map<string, number>();

  constructor(
    private readonly databaseUrl: string,
    private readonly graceMs: number,
  ) {}

  async among(workerNames: readonly string[], nowMs: number): Promise<string[]> {
    for (const known of this.#freeSince.keys())
      if (!workerNames.includes(known)) this.#freeSince.delete(known);
    const ended: string[] = [];
    for (const workerName of workerNames) {
      if (!(await hasEnded({ databaseUrl: this.databaseUrl, workerName }))) {
        this.#freeSince.delete(workerName);
        continue;
      }
      const since = this.#freeSince.get(workerName) ?? nowMs;
      this.#freeSince.set(workerName, since);
      if (nowMs - since >= this.graceMs) ended.push(workerName);
    }
    return ended;
  }
}
