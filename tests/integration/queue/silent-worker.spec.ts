// A worker that dies or freezes in the middle of a job: the job comes back by itself, soon, and is not lost.
import { type ChildProcess, spawn } from 'node:child_process';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it, jest } from '@jest/globals';
import type { Queue } from '../../../libs/queue/src/queue.port.ts';
import { RETRY_RULES } from '../../../libs/queue/src/retry-class.ts';
import { BACKENDS, type Backend, gate, quickJob, type TEST_JOBS, until } from './queue-bench.ts';

jest.setTimeout(240_000);

const root = path.resolve(import.meta.dirname, '../../..');
// Lock span, plus the time until someone looks, plus the pause before the next try (pg-boss counts a lost run as one).
const lostWithinMs = RETRY_RULES.quick.lockSec * 1000 + 3_000 + 4_000 + 3_000;

describe.each(Object.entries(BACKENDS))('a silent worker on %s', (_name, create) => {
  let backend: Backend;
  let queue: Queue<typeof TEST_JOBS>;
  let child: ChildProcess;
  const said: string[] = [];

  beforeEach(async () => {
    said.length = 0;
    backend = await create();
    queue = await backend.open();
    const args = [
      '--import',
      './apps/cli/tools/register-ts.mjs',
      'tests/integration/queue/silent-worker.child.ts',
    ];
    const { databaseUrl, redisUrl = '', space } = backend;
    child = spawn(process.execPath, [...args, databaseUrl, redisUrl, space], {
      cwd: root,
      stdio: ['ignore', 'pipe', 'inherit'],
      env: { ...process.env, NODE_OPTIONS: '' },
    });
    child.stdout?.on('data', (chunk: Buffer) => void said.push(...chunk.toString().trim().split('\n')));
    await queue.enqueue(quickJob, { thingId: 'a' }, { dedupeKey: 'a' });
    await until('the child has the job', () => said.includes('started a'), 120_000);
  });
  afterEach(async () => {
    const exited = new Promise((resolve) => child.once('exit', resolve));
    if (child.exitCode === null && child.signalCode === null) {
      child.kill('SIGKILL');
      await exited;
    }
    await queue.close(0);
    await backend.destroy();
  });

  it('that is killed loses its job to another one, once', async () => {
    child.kill('SIGKILL');
    const seen: string[] = [];
    await queue.consume({
      'test.quick': async ({ thingId }) => void seen.push(thingId),
      'test.mail': async () => undefined,
    });
    await until('the job ran elsewhere', () => seen.length > 0, lostWithinMs);
    await until('nothing is left', async () => {
      const counts = (await queue.health()).jobs?.['test.quick'];
      return counts?.waiting === 0 && counts.delayed === 0 && counts.active === 0;
    });
    expect(seen).toEqual(['a']);
    expect(await queue.deadJobs()).toEqual([]);
  });

  it('that only froze is told so when it wakes, and cannot undo what the other one is doing', async () => {
    child.kill('SIGSTOP');
    const hold = gate();
    const seen: string[] = [];
    await queue.consume({
      'test.quick': async ({ thingId }) => {
        seen.push(thingId);
        await hold.opened;
      },
      'test.mail': async () => undefined,
    });
    await until('the job runs elsewhere', () => seen.length > 0, lostWithinMs);
    child.kill('SIGCONT');
    await until('the frozen one hears of it', () => said.includes('aborted lost'));
    // Its failure must not have given the job to anybody: it is still the one run here.
    await new Promise((resolve) => setTimeout(resolve, 1_500));
    expect((await queue.health()).jobs?.['test.quick']).toMatchObject({
      active: 1,
      waiting: 0,
      delayed: 0,
      dead: 0,
    });
    hold.open();
    await until('it is done', async () => (await queue.health()).jobs?.['test.quick']?.active === 0);
    expect(seen).toEqual(['a']);
  });
});
