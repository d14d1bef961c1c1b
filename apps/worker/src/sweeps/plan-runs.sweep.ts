import type { Database } from '../../../../libs/data/src/database.ts';
import { recoverPlanRuns } from '../../../../libs/data/src/plan-run.repository.ts';
import type { Clock } from '../../../../libs/kernel/src/index.ts';
import type { Sweep } from '../leader.ts';
import type { Log } from '../log.ts';

/** A living run says so every second. */
const SILENT_MIN = 0.5;
/** A run that took three workers with it is not given to a fourth. */
const MAX_ATTEMPTS = 3;

/** Gets plan runs of dead workers going again. */
export function planRunsSweep(params: { db: Database; clock: Clock; log: Log }): Sweep {
  const { db, clock, log } = params;
  return {
    name: 'lost plan runs',
    everyMs: 5_000,
    run: async () => {
      const input = { now: clock.now(), silentMin: SILENT_MIN, maxAttempts: MAX_ATTEMPTS };
      const { queued, failed } = await recoverPlanRuns(db, input);
      if (queued + failed > 0) log.warn({ queued, failed }, 'plan runs without a living worker');
      return false;
    },
  };
}
