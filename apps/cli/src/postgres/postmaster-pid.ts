import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';

/** What a running server wrote about itself into its data folder. */
export interface RunningPostmaster {
  readonly pid: number;
  readonly port: number;
}

function commandOf(pid: number): string {
  try {
    return fs.readFileSync(`/proc/${pid}/cmdline`, 'utf8').replaceAll('\0', ' ');
  } catch {
    return spawnSync('ps', ['-p', String(pid), '-o', 'command='], { encoding: 'utf8' }).stdout ?? '';
  }
}

export function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
  // A child that ended but was not yet collected still answers to signal 0.
  try {
    return !/^\d+ \(.*\) Z/s.test(fs.readFileSync(`/proc/${pid}/stat`, 'utf8'));
  } catch {
    return !fs.existsSync('/proc/self/stat');
  }
}

/**
 * The server that still serves `clusterFolder`, left by a start that was killed. Undefined when none runs; a pid
 * file whose number now belongs to another program is removed, since PostgreSQL itself would refuse to start over it.
 */
export function findRunningPostmaster(clusterFolder: string): RunningPostmaster | undefined {
  const file = path.join(clusterFolder, 'postmaster.pid');
  if (!fs.existsSync(file)) return undefined;
  const [pidLine, , , portLine] = fs.readFileSync(file, 'utf8').split('\n');
  const pid = Number(pidLine);
  const port = Number(portLine);
  if (!Number.isInteger(pid) || pid <= 0) return undefined;
  if (isAlive(pid) && commandOf(pid).includes(clusterFolder)) {
    return { pid, port: Number.isInteger(port) ? port : 0 };
  }
  fs.rmSync(file, { force: true });
  return undefined;
}

/** Fast shutdown (SIGINT): open transactions are rolled back, data is written. Resolves when the process is gone. */
export async function stopPostmaster(pid: number, waitMs = 20_000): Promise<void> {
  if (!isAlive(pid)) return;
  process.kill(pid, 'SIGINT');
  const giveUpAt = Date.now() + waitMs;
  while (isAlive(pid)) {
    if (Date.now() > giveUpAt)
      throw new Error(`PostgreSQL (process ${pid}) did not stop within ${waitMs / 1000} s`);
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
}
