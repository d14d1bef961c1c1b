// Closing, lost connections and several workers: the same promises of both adapters, over real servers.
import { describe, expect, it, jest } from '@jest/globals';
import type { JobRun } from '../../../libs/queue/src/queue.port.ts';
import { PutBack } from '../../../libs/queue/src/queue.port.ts';
import type { QueueError } from '../../../libs/queue/src/queue-error.ts';
import { BACKENDS, gate, mailJob, quickJob, recordingLog, until } from './queue-bench.ts';
import { codeOf, nothing, queueStage } from './queue-stage.ts';

jest.setTimeout(60_000);

describe.each(Object.entries(BACKENDS))('the working queue over %s', (_backend, create) => {
  const stage = queueStage(create);
  const { open, freshKey } = stage;

  it('lets a running job finish on close, takes no new one, and refuses work afterwards', async () => {
    const queue = await open();
    const hold = gate();
    const ended: string[] = [];
    await queue.consume(
      {
        'test.quick': async ({ thingId }) => {
          if (thingId === 'slow') await hold.opened;
          ended.push(thingId);
        },
        'test.mail': nothing,
      },
      { concurrency: { 'test.quick': 1 } },
    );
    await queue.enqueue(quickJob, { thingId: 'slow' }, { dedupeKey: freshKey() });
    await until('it runs', async () => (await queue.health()).jobs?.['test.quick']?.active === 1);
    await queue.enqueue(quickJob, { thingId: 'next' }, { dedupeKey: freshKey() });
    const closing = queue.close(10_000);
    setTimeout(hold.open, 300);
    await closing;
    expect(ended).toEqual(['slow']);
    expect(await codeOf(queue.enqueue(quickJob, { thingId: 'x' }, { dedupeKey: 'x' }))).toBe('queue-closed');
    const second = await open();
    expect((await second.health()).jobs?.['test.quick']).toMatchObject({ active: 0, waiting: 1 });
  });

  it('aborts the signal of a job that outlasts the drain time, so that it can be put back', async () => {
    const queue = await open();
    const started = gate();
    let reason: unknown;
    await queue.consume({
      'test.quick': async (_payload, { signal }: JobRun) => {
        started.open();
        await new Promise((resolve) => signal.addEventListener('abort', resolve));
        reason = signal.reason;
        throw new PutBack(new Date(), 'closing');
      },
      'test.mail': nothing,
    });
    await queue.enqueue(quickJob, { thingId: 'a' }, { dedupeKey: freshKey() });
    await started.opened;
    await queue.close(200);
    expect(reason).toBe('closing');
    const second = await open();
    let attempt = 0;
    const note = async (_payload: unknown, run: JobRun) => {
      attempt = run.attempt;
    };
    await second.consume({ 'test.quick': note, 'test.mail': nothing });
    await until('another process runs it', () => attempt > 0);
    expect(attempt).toBe(1);
  });

  it('goes on after its connections were cut', async () => {
    const log = recordingLog();
    const queue = await open(log);
    const seen: string[] = [];
    await queue.consume({
      'test.quick': async ({ thingId }) => void seen.push(thingId),
      'test.mail': nothing,
    });
    await queue.enqueue(quickJob, { thingId: 'before' }, { dedupeKey: freshKey() });
    await until('the first ran', () => seen.length === 1);
    await stage.backend.cutConnections();
    await until('a job can be added again', async () => {
      try {
        await queue.enqueue(quickJob, { thingId: 'after' }, { dedupeKey: 'after' });
        return true;
      } catch (error) {
        expect((error as QueueError).code).toBe('queue-unreachable');
        return false;
      }
    });
    await until('the second ran', () => seen.includes('after'));
    expect(log.lines.some((line) => line.level === 'error')).toBe(false);
  });

  it('runs no more jobs of a kind at once than it is told, and none at all when told zero', async () => {
    const queue = await open();
    let now = 0;
    let most = 0;
    let mails = 0;
    await queue.consume(
      {
        'test.quick': async () => {
          now += 1;
          most = Math.max(most, now);
          await new Promise((resolve) => setTimeout(resolve, 30));
          now -= 1;
        },
        'test.mail': async () => {
          mails += 1;
        },
      },
      { concurrency: { 'test.quick': 2, 'test.mail': 0 } },
    );
    const items = Array.from({ length: 12 }, (_, i) => ({
      payload: { thingId: `${i}` },
      dedupeKey: `n${i}`,
    }));
    await queue.enqueueMany(quickJob, items);
    await queue.enqueue(mailJob, { thingId: 'a' }, { dedupeKey: 'a' });
    await until('all ran', async () => {
      const counts = (await queue.health()).jobs?.['test.quick'];
      return counts?.waiting === 0 && counts.active === 0;
    });
    expect(most).toBe(2);
    expect(mails).toBe(0);
    expect((await queue.health()).jobs?.['test.mail']?.waiting).toBe(1);
  });

  it('shares work between two consumers without running anything twice', async () => {
    const [one, two] = [await open(), await open()];
    const seen: string[] = [];
    const handlers = {
      'test.quick': async ({ thingId }: { thingId: string }) => {
        seen.push(thingId);
        await new Promise((resolve) => setTimeout(resolve, 3));
      },
      'test.mail': nothing,
    };
    await one.consume(handlers);
    await two.consume(handlers);
    const items = Array.from({ length: 200 }, (_, i) => ({
      payload: { thingId: `${i}` },
      dedupeKey: `n${i}`,
    }));
    await one.enqueueMany(quickJob, items);
    await until('all ran', () => seen.length >= 200);
    expect(new Set(seen).size).toBe(200);
    expect(seen.length).toBe(200);
  });
});
