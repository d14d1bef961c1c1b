import { type ChildProcess, fork } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { programRoot } from '../program/program-root.ts';

export interface SupervisedInput {
  /** For people: "api", "worker". */
  readonly name: string;
  /** Path of the entry file from the program's folder. */
  readonly entry: string;
  readonly env: Readonly<Record<string, string>>;
  readonly say: (line: string) => void;
}

export interface Supervised {
  readonly name: string;
  /** Resolves when the child said that it is ready; rejects when it ended before. */
  readonly ready: Promise<void>;
  pid(): number | undefined;
  /** SIGTERM, then SIGKILL after `waitMs`. Resolves when it is gone. */
  stop(waitMs?: number): Promise<void>;
}

const SHORTEST_WAIT_MS = 500;
const LONGEST_WAIT_MS = 30_000;
/** A child that ran for this long is held to have been well: the waits start small again. */
const WELL_AFTER_MS = 60_000;
const READY_WAIT_MS = 60_000;

/** Whether a message of a child says that it serves: `process.send({ kind: 'ready' })`. */
function isReady(message: unknown): boolean {
  return typeof message === 'object' && message !== null && (message as { kind?: unknown }).kind === 'ready';
}

/**
 * Runs an application as a child process and starts it again when it ends by itself, with growing waits. The child
 * must send `{ kind: 'ready' }` once it serves, and end when the channel to us closes, so that a killed launcher
 * leaves nothing running. A first start that fails is not repeated: it is a fault of set-up.
 */
export function supervise(input: SupervisedInput): Supervised {
  const entry = path.join(programRoot(), input.entry);
  let child: ChildProcess | undefined;
  let timer: NodeJS.Timeout | undefined;
  let stopping = false;
  let everReady = false;
  let waitMs = SHORTEST_WAIT_MS;
  let markReady: () => void = () => {};
  let markFailed: (error: Error) => void = () => {};
  const ready = new Promise<void>((resolve, reject) => {
    markReady = resolve;
    markFailed = reject;
  });
  ready.catch(() => undefined); // the launcher awaits it; until then it is no unhandled rejection

  if (!fs.existsSync(entry)) {
    markFailed(new Error(`the ${input.name} is not built (${input.entry} is missing). Run npm run build.`));
    return { name: input.name, ready, pid: () => undefined, stop: async () => {} };
  }

  const start = (): void => {
    const startedAt = Date.now();
    let wasReady = false;
    const own = fork(entry, [], {
      cwd: programRoot(),
      // Node's own notices (a deprecation inside the database driver) are for developers, not for who runs the server.
      env: { NODE_NO_WARNINGS: '1', ...process.env, TZ: 'UTC', ...input.env },
      stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
      // Its own process group: Ctrl-C in the terminal reaches the launcher only, which stops it in its turn.
      detached: true,
      execArgv: ['--enable-source-maps'],
    });
    child = own;
    const slow = setTimeout(() => {
      if (!wasReady)
        input.say(
          `the ${input.name} has not said that it is ready after ${READY_WAIT_MS / 1000} s; waiting on`,
        );
    }, READY_WAIT_MS);
    own.on('message', (message) => {
      if (!isReady(message) || wasReady) return;
      wasReady = true;
      clearTimeout(slow);
      if (everReady) input.say(`the ${input.name} is back`);
      everReady = true;
      markReady();
    });
    own.once('error', (error) => markFailed(error));
    own.once('exit', (code, signal) => {
      clearTimeout(slow);
      child = undefined;
      if (stopping) return;
      const how = signal === null ? `exit code ${code}` : signal;
      if (!everReady) {
        markFailed(
          new Error(`the ${input.name} ended while it was starting (${how}); its own lines above say why`),
        );
        return;
      }
      if (Date.now() - startedAt > WELL_AFTER_MS) waitMs = SHORTEST_WAIT_MS;
      input.say(`the ${input.name} ended by itself (${how}); starting it again in ${waitMs / 1000} s`);
      timer = setTimeout(start, waitMs);
      waitMs = Math.min(waitMs * 2, LONGEST_WAIT_MS);
    });
  };
  start();

  return {
    name: input.name,
    ready,
    pid: () => child?.pid,
    stop: async (killAfterMs = 20_000) => {
      stopping = true;
      clearTimeout(timer);
      const own = child;
      if (own === undefined) return;
      await new Promise<void>((resolve) => {
        const kill = setTimeout(() => own.kill('SIGKILL'), killAfterMs);
        own.once('exit', () => {
          clearTimeout(kill);
          resolve();
        });
        own.kill('SIGTERM');
      });
    },
  };
}
