import { type ChildProcess, spawn } from 'node:child_process';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '../..');
const READY_WAIT_MS = 120_000;

/** A program of ours that runs as a process of its own. */
export interface ProgramProcess {
  readonly pid: number;
  /** Everything that it printed so far. */
  output(): string;
  /** Sends the signal and resolves to the exit code when it is gone; null when a signal ended it. */
  end(signal: NodeJS.Signals): Promise<number | null>;
  readonly ended: Promise<number | null>;
}

/** Runs a program by its entry file (as seen from the checkout) with nothing in its environment but what is given. */
export function spawnProgram(
  entry: string,
  args: readonly string[],
  environment: Readonly<Record<string, string>>,
): ProgramProcess {
  const child: ChildProcess = spawn(process.execPath, [path.resolve(root, entry), ...args], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { PATH: process.env['PATH'] ?? '', HOME: process.env['HOME'] ?? '', TZ: 'UTC', ...environment },
  });
  let printed = '';
  const take = (chunk: Buffer): void => {
    printed += chunk.toString('utf8');
  };
  child.stdout?.on('data', take);
  child.stderr?.on('data', take);
  const ended = new Promise<number | null>((resolve) => child.once('close', (code) => resolve(code)));
  return {
    pid: child.pid ?? 0,
    output: () => printed,
    ended,
    end: async (signal) => {
      child.kill(signal);
      return ended;
    },
  };
}

/** Waits until the health page of a program says that all it needs answers. */
export async function untilHealthy(
  program: ProgramProcess,
  url: string,
  waitMs = READY_WAIT_MS,
): Promise<void> {
  const giveUpAt = Date.now() + waitMs;
  let gone = false;
  void program.ended.then(() => {
    gone = true;
  });
  for (;;) {
    const healthy = await fetch(url).then(
      (response) => response.ok,
      () => false,
    );
    if (healthy) return;
    if (gone || Date.now() > giveUpAt) throw new Error(`${url} is not well:\n${program.output()}`);
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
}
