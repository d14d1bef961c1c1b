import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { isAlive } from '../../apps/cli/src/postgres/postmaster-pid.ts';
import { eventually } from './eventually.ts';
import type { StartedDryspell } from './started-dryspell.ts';

/** The processes of the applications that a launcher started. */
export function childrenOf(launcher: StartedDryspell): { pid: number; name: string }[] {
  const text = execFileSync('ps', ['-e', '-o', 'pid=,ppid=,args='], { encoding: 'utf8' });
  return text.split('\n').flatMap((line) => {
    const [, pid, parent, name] = /^\s*(\d+)\s+(\d+).*dist\/apps\/(\w+)\/src\/main\.js/.exec(line) ?? [];
    return Number(parent) === launcher.pid && name ? [{ pid: Number(pid), name }] : [];
  });
}

/** Process of one application of a launcher. */
export function childOf(launcher: StartedDryspell, name: 'api' | 'worker'): number {
  const child = childrenOf(launcher).find((each) => each.name === name);
  if (!child) throw new Error(`no ${name} runs under the launcher`);
  return child.pid;
}

/** First process of the embedded PostgreSQL of a data folder. */
export const postmasterOf = (data: string): number =>
  Number(fs.readFileSync(path.join(data, 'database/postgres/postmaster.pid'), 'utf8').split('\n')[0]);

/** Kills at once, in no order: the launcher, what it started, and those named beside. Resolves when all are gone. */
export async function killTogether(launcher: StartedDryspell, beside: readonly number[] = []): Promise<void> {
  const pids = [launcher.pid, ...childrenOf(launcher).map(({ pid }) => pid), ...beside];
  for (const pid of pids) process.kill(pid, 'SIGKILL');
  await launcher.ended;
  await eventually('all killed processes are gone', () => !pids.some(isAlive));
}
