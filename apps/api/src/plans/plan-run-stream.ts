import { Readable } from 'node:stream';
import type { PlanRun } from '../../../../libs/data/src/plan-run.repository.ts';

/** How often the row is looked at, and how often a quiet stream says that it lives. */
const LOOK_MS = 700;
const HEARTBEAT_MS = 10_000;

export interface PlanRunStreamInput {
  readonly read: () => Promise<PlanRun>;
  /** The version that the watcher has already; only newer ones are sent. */
  readonly afterVersion: number;
  /** Aborted when the server ends. */
  readonly ending: AbortSignal;
}

/**
 * Server-sent events about one run: each new version of its row, then the end. The row is looked at again and again, so
 * that nothing is missed however many processes there are; a watcher that breaks off ends the looking.
 */
export function planRunStream(input: PlanRunStreamInput): Readable {
  return Readable.from(events(input), { objectMode: false, encoding: 'utf8' });
}

async function* events({ read, afterVersion, ending }: PlanRunStreamInput): AsyncGenerator<string> {
  let seen = afterVersion;
  let quietMs = 0;
  yield `retry: 2000\n\n`;
  while (!ending.aborted) {
    const run = await read();
    if (run.version > seen) {
      seen = run.version;
      quietMs = 0;
      yield `id: ${run.version}\nevent: run\ndata: ${JSON.stringify(shown(run))}\n\n`;
    } else if (quietMs >= HEARTBEAT_MS) {
      quietMs = 0;
      yield ': still here\n\n';
    }
    if (run.finishedAt !== null) return;
    await pause(LOOK_MS, ending);
    quietMs += LOOK_MS;
  }
}

function shown({ seasonId: _seasonId, attempts: _attempts, ...run }: PlanRun) {
  return run;
}

function pause(durationMs: number, ending: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    const done = () => {
      clearTimeout(timer);
      ending.removeEventListener('abort', done);
      resolve();
    };
    const timer = setTimeout(done, durationMs);
    ending.addEventListener('abort', done, { once: true });
  });
}
