// A real worker process, as the launcher starts it, for tests that kill it.
import { type ChildProcess, spawn } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { root } from './worker-bench.ts';

export interface WorkerProcess {
  readonly pid: number;
  readonly log: { level: number; msg: string; [field: string]: unknown }[];
  signal(signal: NodeJS.Signals): void;
  /** Ends it at once, as a crash does; resolves when it is gone. */
  kill(): Promise<void>;
  /** SIGTERM; resolves to the exit code. */
  stop(): Promise<number | null>;
  /** Closes the channel to it, as a launcher that dies does; resolves to the exit code. */
  abandon(): Promise<number | null>;
}

/** Starts the worker and waits until it says that it is ready. */
export async function startWorkerProcess(
  environment: Readonly<Record<string, string>>,
): Promise<WorkerProcess> {
  // The built program, as the launcher runs it; npm test builds it first.
  const entry = path.join(root, 'dist/apps/worker/src/main.js');
  if (!fs.existsSync(entry)) throw new Error('The worker is not built. Run npm run build.');
  const child: ChildProcess = spawn(process.execPath, [entry], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'pipe', 'ipc'],
    env: { PATH: process.env['PATH'], TZ: 'UTC', DRYSPELL_LOG_LEVEL: 'info', ...environment },
  });
  const exited = new Promise<number | null>((resolve) => child.once('exit', resolve));
  const log: WorkerProcess['log'] = [];
  let rest = '';
  child.stdout?.on('data', (chunk: Buffer) => {
    const lines = (rest + chunk.toString()).split('\n');
    rest = lines.pop() ?? '';
    for (const line of lines) if (line.startsWith('{')) log.push(JSON.parse(line));
  });
  let errors = '';
  child.stderr?.on('data', (chunk: Buffer) => {
    errors += chunk.toString();
  });
  await new Promise<void>((resolve, reject) => {
    child.once('message', () => resolve());
    void exited.then((code) =>
      reject(new Error(`the worker ended with ${code}: ${errors} ${JSON.stringify(log)}`)),
    );
  });
  return {
    pid: child.pid as number,
    log,
    signal: (signal) => void child.kill(signal),
    kill: async () => {
      child.kill('SIGKILL');
      await exited;
    },
    stop: () => {
      child.kill('SIGTERM');
      return exited;
    },
    abandon: () => {
      child.disconnect();
      return exited;
    },
  };
}
