import { type LeaderLock, tryLeaderLock } from '../../../libs/data/src/leader-lock.ts';
import { reasonOf } from '../../../libs/queue/src/queue-error.ts';
import type { Log } from './log.ts';
import { type SteadyLoop, startSteadyLoop } from './steady-loop.ts';

/** Work that exactly one process of the fleet does, again and again. */
export interface Sweep {
  readonly name: string;
  readonly everyMs: number;
  /** Answers true when there is more to do at once. */
  readonly run: () => Promise<boolean>;
}

export interface LeaderParams {
  readonly databaseUrl: string;
  readonly sweeps: readonly Sweep[];
  readonly log: Log;
  /** How often a process that does not lead asks whether it may. */
  readonly askEveryMs?: number;
}

export interface Leader {
  readonly leads: boolean;
  stop(): Promise<void>;
}

/**
 * Asks for the leader lock until it is granted, then runs the sweeps until the lock is lost or `stop` is called. For a
 * moment after a lost connection two processes may both sweep: each sweep must bear that.
 */
export function startLeader({ databaseUrl, sweeps, log, askEveryMs = 3_000 }: LeaderParams): Leader {
  let lock: LeaderLock | null = null;
  let loops: SteadyLoop[] = [];

  const endSweeps = async (): Promise<void> => {
    const ending = loops;
    loops = [];
    await Promise.all(ending.map((loop) => loop.stop()));
  };

  const asking = startSteadyLoop({
    name: 'leader lock',
    pauseMs: askEveryMs,
    log,
    work: async () => {
      if (lock !== null) return false;
      const won = await tryLeaderLock({ url: databaseUrl, name: 'worker-sweeps' });
      if (won === null) return false;
      lock = won;
      log.info({}, 'this worker leads');
      loops = sweeps.map(({ name, everyMs, run }) =>
        startSteadyLoop({ name, pauseMs: everyMs, log, work: run }),
      );
      won.lost.then(async () => {
        if (lock !== won) return;
        log.warn({}, 'this worker no longer leads: its connection was lost');
        await endSweeps();
        lock = null;
      });
      return false;
    },
  });

  return {
    get leads() {
      return lock !== null;
    },
    stop: async () => {
      await asking.stop();
      await endSweeps();
      const held = lock;
      lock = null;
      await held?.release().catch((error: unknown) => log.warn({ reason: reasonOf(error) }, 'leader lock'));
    },
  };
}
