import { spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from '@jest/globals';
import { holderOf, takeRunningLock } from './running-lock.ts';

let folder: string;
let file: string;

beforeEach(() => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-lock-'));
  file = path.join(folder, 'running.json');
});

afterEach(() => fs.rmSync(folder, { recursive: true, force: true }));

/** Writes the lock as another living process holds it. */
async function heldByAnother(): Promise<() => Promise<void>> {
  const code = `
    const fs = require('fs');
    const began = fs.readFileSync('/proc/self/stat', 'utf8').replace(/^.*\\) /s, '').split(' ')[19];
    fs.writeFileSync(${JSON.stringify(file)}, JSON.stringify({ pid: process.pid, began, url: 'http://localhost:9' }));
    console.log('held'); setInterval(() => {}, 1000);`;
  const child = spawn(process.execPath, ['-e', code], { stdio: ['ignore', 'pipe', 'inherit'] });
  await new Promise((resolve) => child.stdout.once('data', resolve));
  return async () => {
    const gone = new Promise((resolve) => child.once('exit', resolve));
    child.kill('SIGKILL');
    await gone;
  };
}

describe('the lock of a data folder', () => {
  it('is refused while another process holds it, and names that one', async () => {
    const kill = await heldByAnother();
    try {
      expect(() => takeRunningLock(file)).toThrow(
        /already runs on this data folder at http:\/\/localhost:9 \(process \d+\)/,
      );
    } finally {
      await kill();
    }
  });

  it('is taken over from a process that was killed', async () => {
    const kill = await heldByAnother();
    await kill();
    expect(holderOf(file)).toBeUndefined();
    const lock = takeRunningLock(file);
    expect(lock.afterKill).toBe(true);
    lock.release();
    expect(fs.existsSync(file)).toBe(false);
  });

  it('is taken over when the number of its holder belongs to a younger process now', () => {
    fs.writeFileSync(file, JSON.stringify({ pid: process.ppid, began: '1', url: null }));
    const lock = takeRunningLock(file);
    expect(lock.afterKill).toBe(true);
    lock.release();
  });

  it('is taken over when it was cut short by a kill', () => {
    fs.writeFileSync(file, '{"pid":');
    takeRunningLock(file).release();
    expect(fs.existsSync(file)).toBe(false);
  });
});
