import { reasonOf } from '../../../libs/queue/src/queue-error.ts';
import type { Log } from './log.ts';

export interface SteadyLoop {
  /** The last time the work went well, in epoch milliseconds; null before the first. */
  readonly lastWellAt: number | null;
  /** Ends a pause at once. */
  wake(): void;
  /** Resolves when the work that is under way has ended. */
  stop(): Promise<void>;
}

export interface SteadyLoopParams {
  readonly name: string;
  /** The pause after work that found nothing more to do. */
  readonly pauseMs: number;
  readonly log: Log;
  /** Answers true when there is more to do at once. */
  readonly work: () => Promise<boolean>;
}

const LONGEST_PAUSE_MS = 10_000;

/**
 * Does the work again and again, never twice at a time. A failure is logged once for as long as it lasts, the pauses
 * grow, and the loop goes on.
 */
export function startSteadyLoop({ name, pauseMs, log, work }: SteadyLoopParams): SteadyLoop {
  let stopped = false;
  let lastWellAt: number | null = null;
  let failures = 0;
  let endPause: (() => void) | undefined;

  const pause = (ms: number) =>
    new Promise<void>((resolve) => {
      const timer = setTimeout(resolve, ms);
      endPause = () => {
        clearTimeout(timer);
        resolve();
      };
    });

  const turn = async (): Promise<boolean> => {
    try {
      const more = await work();
      if (failures > 0) log.info({ loop: name, failures }, 'works again');
      failures = 0;
      lastWellAt = Date.now();
      return more;
    } catch (error) {
      failures += 1;
      if (failures === 1) log.warn({ loop: name, reason: reasonOf(error) }, 'failed; will be tried again');
      return false;
    }
  };

  const run = async (): Promise<void> => {
    while (!stopped) {
      const more = await turn();
      if (!more && !stopped)
        await pause(Math.min(pauseMs * 2 ** Math.min(failures, 10), LONGEST_PAUSE_MS + pauseMs));
    }
  };
  const ended = run();

  return {
    get lastWellAt() {
      return lastWellAt;
    },
    wake: () => endPause?.(),
    stop: () => {
      stopped = true;
      endPause?.();
      return ended;
    },
  };
}
