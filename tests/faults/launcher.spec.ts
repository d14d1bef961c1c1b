import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { freePort, isPortFree } from '../../apps/cli/src/postgres/free-port.ts';
import { isAlive } from '../../apps/cli/src/postgres/postmaster-pid.ts';
import { type StartedDryspell, startDryspell } from '../builders/started-dryspell.ts';

let data: string;
let port: number;
let running: StartedDryspell | undefined;

beforeAll(async () => {
  data = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-launcher-'));
  fs.chmodSync(data, 0o755);
  port = await freePort();
});

afterAll(async () => {
  if (running !== undefined && isAlive(running.pid)) await running.end('SIGTERM');
  fs.rmSync(data, { recursive: true, force: true });
});

async function start(): Promise<StartedDryspell> {
  running = startDryspell(['--data', data, '--port', String(port), '--no-demo']);
  await running.saw('Ready.');
  return running;
}

const postmasterPid = (): number =>
  Number(fs.readFileSync(path.join(data, 'database/postgres/postmaster.pid'), 'utf8').split('\n')[0]);

/** Processes of the applications that the launcher started. */
function childrenOf(pid: number): { pid: number; name: string }[] {
  const text = execFileSync('ps', ['--ppid', String(pid), '-o', 'pid=,args='], { encoding: 'utf8' });
  return text.split('\n').flatMap((line) => {
    const [, child, name] = /^\s*(\d+).*dist\/apps\/(\w+)\/src\/main\.js/.exec(line) ?? [];
    return child === undefined || name === undefined ? [] : [{ pid: Number(child), name }];
  });
}

function pidOf(launcher: StartedDryspell, name: string): number {
  const child = childrenOf(launcher.pid).find((candidate) => candidate.name === name);
  if (child === undefined) throw new Error(`no ${name} runs under the launcher`);
  return child.pid;
}

async function eventually(
  what: string,
  check: () => Promise<boolean> | boolean,
  waitMs = 30_000,
): Promise<void> {
  const giveUpAt = Date.now() + waitMs;
  while (!(await check())) {
    if (Date.now() > giveUpAt) throw new Error(`not within ${waitMs} ms: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
}

async function isHealthy(): Promise<boolean> {
  try {
    return (await fetch(`http://127.0.0.1:${port}/health/ready`)).ok;
  } catch {
    return false;
  }
}

describe('the launcher', () => {
  it('starts everything, says where, and hands out a link that opens', async () => {
    const launcher = await start();
    expect(await isHealthy()).toBe(true);
    const link = /http:\/\/localhost:\d+(\/sign-in\/[\w-]{43})/.exec(launcher.output())?.[1];
    const page = await fetch(`http://127.0.0.1:${port}${link}`);
    expect(page.status).toBe(200);
    expect(
      childrenOf(launcher.pid)
        .map(({ name }) => name)
        .sort(),
    ).toEqual(['api', 'worker']);
  }, 120_000);

  it('refuses a second start on the same data and leaves the first alone', async () => {
    const second = startDryspell(['--data', data, '--port', String(await freePort()), '--no-demo']);
    expect(await second.ended).toBe(1);
    expect(second.output()).toContain(
      `Dryspell already runs on this data folder at http://localhost:${port}`,
    );
    expect(await isHealthy()).toBe(true);
  }, 60_000);

  it.each(['api', 'worker'])(
    'starts the %s again when it is killed',
    async (name) => {
      const launcher = running as StartedDryspell;
      const before = pidOf(launcher, name);
      process.kill(before, 'SIGKILL');
      await launcher.saw(`the ${name} ended by itself (SIGKILL)`);
      await launcher.saw(`the ${name} is back`);
      expect(pidOf(launcher, name)).not.toBe(before);
      await eventually('health', isHealthy);
    },
    60_000,
  );

  it('starts PostgreSQL again when it is killed, and the programs find it again', async () => {
    const launcher = running as StartedDryspell;
    const before = postmasterPid();
    process.kill(before, 'SIGKILL');
    await launcher.saw('PostgreSQL is back');
    expect(postmasterPid()).not.toBe(before);
    await eventually('health', isHealthy);
  }, 60_000);

  it('leaves nothing on the port when it is killed itself, and the next start goes on with the same data', async () => {
    const launcher = running as StartedDryspell;
    const children = childrenOf(launcher.pid);
    expect(children).toHaveLength(2);
    const postmaster = postmasterPid();
    await launcher.end('SIGKILL');
    const next = await start(); // at once: the children of the killed one may still be on their way out
    expect(next.output()).toContain('taking over the PostgreSQL that an earlier start left running');
    expect(next.output()).toContain('up to date');
    expect(postmasterPid()).toBe(postmaster);
    await eventually('the old children are gone', () => children.every(({ pid }) => !isAlive(pid)));
    expect(await isHealthy()).toBe(true);
  }, 120_000);

  it('stops everything on SIGTERM and says so', async () => {
    const launcher = running as StartedDryspell;
    const pids = [...childrenOf(launcher.pid).map(({ pid }) => pid), postmasterPid()];
    expect(pids).toHaveLength(3);
    expect(await launcher.end('SIGTERM')).toBe(0);
    expect(launcher.output()).toContain('stopped; the data is kept');
    expect(pids.filter(isAlive)).toEqual([]);
    expect(await isPortFree(port)).toBe(true);
    expect(fs.existsSync(path.join(data, 'running.json'))).toBe(false);
  }, 60_000);
});
