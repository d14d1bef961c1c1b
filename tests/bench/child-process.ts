import { spawn } from 'node:child_process';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '../..');

export interface BenchChild {
  /** The first message of the child. */
  readonly ready: unknown;
  send(message: object): void;
  /** The next message of the child; rejects when it ends instead. */
  next(): Promise<unknown>;
  stop(): Promise<void>;
}

/** Starts a file as a child process and waits for its first message. `.ts` runs from the sources, `.js` as built. */
export async function startChild(
  file: string,
  environment: Readonly<Record<string, string>>,
): Promise<BenchChild> {
  const loader = file.endsWith('.ts') ? ['--import', path.join(root, 'apps/cli/tools/register-ts.mjs')] : [];
  const child = spawn(process.execPath, [...loader, path.join(root, file)], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'pipe', 'ipc'],
    env: { PATH: process.env['PATH'] ?? '', TZ: 'UTC', NODE_NO_WARNINGS: '1', ...environment },
  });
  let printed = '';
  for (const stream of [child.stdout, child.stderr])
    stream?.on('data', (chunk: Buffer) => {
      printed = (printed + chunk.toString()).slice(-4000);
    });
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  const arrived: unknown[] = [];
  const waiting: ((message: unknown) => void)[] = [];
  child.on('message', (message) => {
    const waiter = waiting.shift();
    if (waiter) waiter(message);
    else arrived.push(message);
  });
  const next = (): Promise<unknown> =>
    Promise.race([
      arrived.length > 0
        ? Promise.resolve(arrived.shift())
        : new Promise<unknown>((resolve) => {
            waiting.push(resolve);
          }),
      ended.then((code) => {
        throw new Error(`${file} ended with ${code}: ${printed}`);
      }),
    ]);
  return {
    ready: await next(),
    send: (message) => void child.send(message),
    next,
    stop: async () => {
      child.kill('SIGTERM');
      await ended;
    },
  };
}
