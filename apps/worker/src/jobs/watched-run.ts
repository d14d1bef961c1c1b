import type { Database } from '../../../../libs/data/src/database.ts';
import { type PlanRun, reportProgress } from '../../../../libs/data/src/plan-run.repository.ts';
import type { Clock } from '../../../../libs/kernel/src/index.ts';
import type { JobRun } from '../../../../libs/queue/src/queue.port.ts';
import { reasonOf } from '../../../../libs/queue/src/queue-error.ts';
import type { Log } from '../log.ts';
import type { ThreadPlanProgress } from '../threads/planner-pool.ts';

/** How often a run says that it lives, how far it is, and asks whether it should stop. */
const REPORT_MS = 1_000;

export interface WatchedRun {
  /** Aborted when somebody asked for a stop, or when the run may not go on. */
  readonly signal: AbortSignal;
  readonly note: (progress: ThreadPlanProgress) => void;
  /** Whether somebody asked for a stop. */
  stopped(): boolean;
  /** Says no more; resolves when the last report is through. */
  end(): Promise<void>;
}

/** Reports a run's progress to its row, at most once a second, and listens there for a wish to stop. */
export function watchRun(params: {
  db: Database;
  clock: Clock;
  log: Log;
  work: PlanRun;
  run: JobRun;
}): WatchedRun {
  const { db, clock, log, work, run } = params;
  const abort = new AbortController();
  const onRunAbort = () => abort.abort(run.signal.reason);
  if (run.signal.aborted) onRunAbort();
  run.signal.addEventListener('abort', onRunAbort, { once: true });
  let latest: ThreadPlanProgress | undefined;
  let reporting: Promise<void> = Promise.resolve();
  let stopAsked = false;

  const report = async (): Promise<void> => {
    const progress = latest;
    latest = undefined;
    try {
      const input = { id: work.id, attempt: work.attempts, now: clock.now() };
      const { stop } = await reportProgress(db, progress ? { ...input, progress } : input);
      if (!stop) return;
      stopAsked = true;
      abort.abort('stop asked for');
    } catch (error) {
      // The search goes on without the database; if the run was taken away meanwhile, its end is refused.
      log.warn({ planRun: work.id, reason: reasonOf(error) }, 'progress could not be reported');
    }
  };
  let busy = false;
  const timer = setInterval(() => {
    if (busy) return;
    busy = true;
    reporting = report().finally(() => {
      busy = false;
    });
  }, REPORT_MS);

  return {
    signal: abort.signal,
    note: (progress) => {
      latest = progress;
    },
    stopped: () => stopAsked,
    end: async () => {
      clearInterval(timer);
      run.signal.removeEventListener('abort', onRunAbort);
      await reporting;
    },
  };
}
