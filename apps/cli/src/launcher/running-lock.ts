import fs from 'node:fs';
import path from 'node:path';
import { isAlive } from '../postgres/postmaster-pid.ts';
import { makeFolder } from '../program/make-folder.ts';
import { PlainError } from '../program/plain-error.ts';

/** In the data folder; tells who runs on it. */
export const LOCK_FILE = 'running.json';

interface Holder {
  readonly pid: number;
  /** When the process began, by the system's own count; tells a re-used number from the process itself. */
  readonly began: string;
  readonly url: string | null;
}

function beganOf(pid: number): string {
  try {
    // The fields after the parenthesised name; the 20th of them is the start time in clock ticks since boot.
    const fields = fs
      .readFileSync(`/proc/${pid}/stat`, 'utf8')
      .replace(/^.*\) /s, '')
      .split(' ');
    return fields[19] ?? '';
  } catch {
    return '';
  }
}

function readHolder(file: string): Holder | undefined {
  try {
    return JSON.parse(fs.readFileSync(file, 'utf8')) as Holder;
  } catch {
    return undefined; // missing, or cut short by a kill while it was written
  }
}

/** Who holds the data folder now; undefined when nobody does, or when the holder was killed. */
export function holderOf(lockFile: string): Holder | undefined {
  const holder = readHolder(lockFile);
  if (holder === undefined || holder.pid === process.pid || !isAlive(holder.pid)) return undefined;
  return beganOf(holder.pid) === holder.began ? holder : undefined;
}

export interface RunningLock {
  /** True when the last holder was killed instead of stopped. */
  readonly afterKill: boolean;
  noteUrl(url: string): void;
  release(): void;
}

/** Takes the data folder for this process. Throws PlainError when another Dryspell runs on it. */
export function takeRunningLock(lockFile: string): RunningLock {
  const write = (url: string | null, flag: 'wx' | 'w'): void =>
    fs.writeFileSync(
      lockFile,
      JSON.stringify({ pid: process.pid, began: beganOf(process.pid), url } satisfies Holder),
      {
        flag,
        mode: 0o600,
      },
    );
  let afterKill = false;
  for (let attempt = 0; ; attempt += 1) {
    try {
      write(null, 'wx');
      break;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST' || attempt > 3) throw error;
      const holder = holderOf(lockFile);
      if (holder !== undefined) {
        const where = holder.url === null ? '' : ` at ${holder.url}`;
        throw new PlainError(
          `Dryspell already runs on this data folder${where} (process ${holder.pid}). ` +
            'Use that one, stop it first, or pass --data with another folder and --port with another port.',
        );
      }
      fs.rmSync(lockFile, { force: true });
      afterKill = true;
    }
  }
  return {
    afterKill,
    noteUrl: (url) => write(url, 'w'),
    release: () => fs.rmSync(lockFile, { force: true }),
  };
}

/** Takes the lock of a data folder, made when it is missing. Throws PlainError when the folder cannot be written to. */
export function holdRunningLock(root: string): RunningLock {
  try {
    makeFolder(root, 0o755);
    return takeRunningLock(path.join(root, LOCK_FILE));
  } catch (error) {
    if (error instanceof PlainError) throw error;
    const reason = (error as NodeJS.ErrnoException).code ?? (error as Error).message;
    throw new PlainError(
      `the data folder ${root} cannot be written to (${reason}). Pass --data <folder> with another one.`,
    );
  }
}
