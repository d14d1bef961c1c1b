import { isAlive } from '../postgres/postmaster-pid.ts';

const LOOK_EVERY_MS = 1_000;

/** Looks after the embedded server: when it ended by itself, `restart` is called until it succeeds. */
export function watchServer(
  firstPid: number,
  restart: () => Promise<number>,
  say: (line: string) => void,
): { stop(): void } {
  let pid = firstPid;
  let busy = false;
  let stopped = false;
  const timer = setInterval(async () => {
    if (busy || isAlive(pid)) return;
    busy = true;
    say('PostgreSQL ended by itself; starting it again');
    try {
      const next = await restart();
      if (!stopped) pid = next;
      say('PostgreSQL is back');
    } catch (error) {
      say(`PostgreSQL could not be started: ${(error as Error).message}; trying again`);
    }
    busy = false;
  }, LOOK_EVERY_MS);
  return {
    stop: () => {
      stopped = true;
      clearInterval(timer);
    },
  };
}
