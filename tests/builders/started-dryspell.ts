import { type ChildProcess, spawn } from 'node:child_process';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '../..');

export interface StartedDryspell {
  readonly pid: number;
  /** Everything that was printed so far. */
  output(): string;
  /** Resolves with the printed text when it contains `text`; rejects when the program ends before, or after `waitMs`. */
  saw(text: string, waitMs?: number): Promise<string>;
  /** Sends the signal and resolves to the exit code when it is gone; null when a signal ended it. */
  end(signal: NodeJS.Signals): Promise<number | null>;
  /** Resolves to the exit code when it ends by itself. */
  readonly ended: Promise<number | null>;
}

/**
 * Runs the built program with `start` and the arguments, as the bootstrap does; or the bootstrap itself, which is what
 * `npm start` runs.
 */
export function startDryspell(
  args: readonly string[],
  environment: Readonly<Record<string, string>> = {},
  from: 'built program' | 'npm start' = 'built program',
): StartedDryspell {
  const command =
    from === 'npm start' ? ['apps/cli/bootstrap/start.mjs'] : ['dist/apps/cli/src/main.js', 'start'];
  const [entry = '', ...first] = command;
  const { DATABASE_URL: _database, REDIS_URL: _redis, PORT: _port, ...inherited } = process.env;
  const child: ChildProcess = spawn(process.execPath, [path.join(root, entry), ...first, ...args], {
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...inherited, TZ: 'UTC', ...environment },
  });
  let printed = '';
  const listeners = new Set<() => void>();
  const take = (chunk: Buffer): void => {
    printed += chunk.toString('utf8');
    for (const listener of listeners) listener();
  };
  child.stdout?.on('data', take);
  child.stderr?.on('data', take);
  const ended = new Promise<number | null>((resolve) => child.once('close', (code) => resolve(code)));

  const saw = (text: string, waitMs = 60_000): Promise<string> =>
    new Promise((resolve, reject) => {
      const finish = (settle: () => void): void => {
        clearTimeout(timer);
        listeners.delete(look);
        settle();
      };
      const look = (): void => {
        if (printed.includes(text)) finish(() => resolve(printed));
      };
      const timer = setTimeout(
        () => finish(() => reject(new Error(`"${text}" was not printed within ${waitMs} ms:\n${printed}`))),
        waitMs,
      );
      listeners.add(look);
      void ended.then((code) =>
        finish(() => reject(new Error(`ended (${code}) without "${text}":\n${printed}`))),
      );
      look();
    });

  return {
    pid: child.pid ?? 0,
    output: () => printed,
    saw,
    ended,
    end: async (signal) => {
      child.kill(signal);
      return ended;
    },
  };
}
