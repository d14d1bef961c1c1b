// One run of Jest: its output goes through, its counts come back.
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { checkoutRoot } from '../bootstrap/program.mjs';

const jest = path.join(checkoutRoot, 'node_modules/jest/bin/jest.js');
/** What a spec file leaves open is reported by leak-watch-environment.mjs; a Jest that still hangs is ended. */
const HANG_SIGN = 'did not exit one second after';
const HANG_WAIT_MS = 20_000;

const running = new Set();

/** Ends the runs of Jest that are under way; for a runner that is told to stop. */
export function stopJest() {
  for (const child of running) child.kill('SIGTERM');
}

export function listSpecs(args) {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, ['--experimental-vm-modules', jest, '--listTests', ...args], {
      cwd: checkoutRoot,
      stdio: ['ignore', 'pipe', 'inherit'],
      env: { ...process.env, NODE_NO_WARNINGS: '1' },
    });
    let output = '';
    child.stdout.on('data', (chunk) => {
      output += chunk;
    });
    child.once('error', reject);
    child.once('close', (code) => {
      if (code !== 0) return reject(new Error('jest could not list the specs'));
      resolve(output.split('\n').filter((line) => line.endsWith('.spec.ts')));
    });
  });
}

/** Runs the given specs (absolute paths) or arguments. Resolves to { passed, failed, skipped, problems }. */
export function runJest({ args, zone = 'UTC', env = {}, workers }) {
  const report = path.join(
    os.tmpdir(),
    `dryspell-jest-${process.pid}-${Math.random().toString(36).slice(2)}.json`,
  );
  const all = [
    '--experimental-vm-modules',
    jest,
    `--maxWorkers=${workers}`,
    '--json',
    `--outputFile=${report}`,
    ...args,
  ];
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, all, {
      cwd: checkoutRoot,
      stdio: ['ignore', 'ignore', 'pipe'], // with --json the report for people goes to stderr
      env: {
        ...process.env,
        FORCE_COLOR: process.stdout.isTTY ? '1' : '0',
        ...env,
        TZ: zone,
        NODE_NO_WARNINGS: '1',
      },
    });
    running.add(child);
    const problems = [];
    let hangTimer;
    child.stderr.on('data', (chunk) => {
      process.stdout.write(chunk);
      if (hangTimer !== undefined || !chunk.toString().includes(HANG_SIGN)) return;
      hangTimer = setTimeout(() => {
        problems.push('jest did not end after its last test (a socket, a timer or a child process is open)');
        child.kill('SIGKILL');
      }, HANG_WAIT_MS);
    });
    child.once('error', reject);
    child.once('close', (code, signal) => {
      running.delete(child);
      clearTimeout(hangTimer);
      if (!fs.existsSync(report)) {
        problems.push(`jest ended without a report (${signal ?? `exit code ${code}`})`);
        return resolve({ passed: 0, failed: 0, skipped: 0, problems });
      }
      const result = JSON.parse(fs.readFileSync(report, 'utf8'));
      fs.rmSync(report, { force: true });
      if (code !== 0 && result.success) problems.push(`jest ended with ${signal ?? `exit code ${code}`}`);
      resolve({
        passed: result.numPassedTests,
        // A spec file that does not even load has no test to count; it counts as one failure.
        failed: result.numFailedTests + result.numRuntimeErrorTestSuites,
        skipped: result.numPendingTests + result.numTodoTests,
        problems,
      });
    });
  });
}
