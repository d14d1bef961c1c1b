import type { JobRun } from '../../../libs/queue/src/queue.port.ts';
import type { Log } from './log.ts';

export interface StallMonitor {
  readonly onStart: (run: JobRun) => void;
  readonly onEnd: (run: JobRun) => void;
  /** The longest stall since the last time it was asked, in milliseconds. */
  takeWorstMs(): number;
  stop(): void;
}

/**
 * Watches the event loop and, when something held it for longer than `limitMs`, says so with the jobs that were
 * running: a held loop cannot renew locks, so jobs would be taken from this process and run twice.
 *
 * A plain timer that looks how late it is: the histogram of Node drops the interval in which it is read and reset, and
 * cannot say which job it was.
 */
export function startStallMonitor(log: Log, { limitMs = 250, tickMs = 100 } = {}): StallMonitor {
  const running = new Set<JobRun>();
  const endedSinceTick = new Set<JobRun>();
  let worstMs = 0;
  let lastTickAt = performance.now();
  const timer = setInterval(() => {
    const now = performance.now();
    const stalledMs = Math.round(now - lastTickAt - tickMs);
    lastTickAt = now;
    worstMs = Math.max(worstMs, stalledMs);
    if (stalledMs > limitMs) {
      const jobs = [...running, ...endedSinceTick].map((run) => `${run.jobName} ${run.jobId}`);
      log.warn({ stalledMs, jobs }, 'the event loop was held up');
    }
    endedSinceTick.clear();
  }, tickMs);
  timer.unref();
  return {
    onStart: (run) => void running.add(run),
    onEnd: (run) => {
      running.delete(run);
      endedSinceTick.add(run);
    },
    takeWorstMs: () => {
      const worst = worstMs;
      worstMs = 0;
      return worst;
    },
    stop: () => clearInterval(timer),
  };
}
