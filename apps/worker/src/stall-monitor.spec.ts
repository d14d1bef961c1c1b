import { describe, expect, it } from '@jest/globals';
import type { JobRun } from '../../../libs/queue/src/queue.port.ts';
import { createLog } from './log.ts';
import { startStallMonitor } from './stall-monitor.ts';

const run = (jobId: string): JobRun => ({
  jobId,
  jobName: 'plan.run',
  attempt: 1,
  lastAttempt: false,
  signal: new AbortController().signal,
});
const waitFor = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

function holdLoop(ms: number): void {
  const until = performance.now() + ms;
  while (performance.now() < until);
}

describe('the stall monitor', () => {
  it('names the jobs that ran while the event loop was held up, also when they have just ended', async () => {
    const lines: Record<string, unknown>[] = [];
    const log = createLog('info', { write: (line: string) => void lines.push(JSON.parse(line)) });
    const monitor = startStallMonitor(log, { limitMs: 200, tickMs: 40 });
    const guilty = run('guilty');
    monitor.onStart(guilty);
    await waitFor(50);
    holdLoop(600);
    monitor.onEnd(guilty);
    await waitFor(120);
    monitor.stop();
    const stalls = lines.filter((line) => line['msg'] === 'the event loop was held up');
    // A busy machine may add stalls of its own; the one that we made must be there with its job.
    const made = stalls.find((line) => Number(line['stalledMs']) > 400);
    expect(made?.['jobs']).toEqual(['plan.run guilty']);
    expect(monitor.takeWorstMs()).toBeGreaterThan(400);
    expect(monitor.takeWorstMs()).toBe(0);
  });
});
