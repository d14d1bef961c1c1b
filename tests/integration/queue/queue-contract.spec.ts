// Both adapters must keep the same promises; each test runs over real PostgreSQL and over real Redis.
import { describe, expect, it, jest } from '@jest/globals';
import type { JobHandler } from '../../../libs/queue/src/queue.port.ts';
import { GiveUp, MAX_BATCH, PutBack } from '../../../libs/queue/src/queue.port.ts';

import { BACKENDS, gate, mailJob, quickJob, quickJobV2, recordingLog, until } from './queue-bench.ts';
import { codeOf, nothing, queueStage } from './queue-stage.ts';

jest.setTimeout(60_000);

describe.each(Object.entries(BACKENDS))('the queue over %s', (_backend, create) => {
  const stage = queueStage(create);
  const { open, freshKey } = stage;

  it('runs a job with the payload it was given, once', async () => {
    const queue = await open();
    const seen: string[] = [];
    await queue.consume({
      'test.quick': async ({ thingId }) => void seen.push(thingId),
      'test.mail': nothing,
    });
    await queue.enqueue(quickJob, { thingId: 'a' }, { dedupeKey: freshKey() });
    await until('the job ran', () => seen.length > 0);
    await until('nothing is left', async () => {
      const counts = (await queue.health()).jobs?.['test.quick'];
      return counts?.waiting === 0 && counts.active === 0;
    });
    expect(seen).toEqual(['a']);
    expect(await queue.deadJobs()).toEqual([]);
  });

  it('runs jobs that were added while nobody consumed, in another process life', async () => {
    const first = await open();
    await first.enqueueMany(quickJob, [
      { payload: { thingId: 'a' }, dedupeKey: 'k:a' },
      { payload: { thingId: 'b' }, dedupeKey: 'k:b' },
    ]);
    await first.close();
    const seen: string[] = [];
    const second = await open();
    await second.consume({
      'test.quick': async ({ thingId }) => void seen.push(thingId),
      'test.mail': nothing,
    });
    await until('both ran', () => seen.length === 2);
    expect(seen.sort()).toEqual(['a', 'b']);
  });

  it('keeps one job for a key while it waits, and takes the key again afterwards', async () => {
    const queue = await open();
    const dedupeKey = freshKey();
    await queue.enqueue(quickJob, { thingId: 'first' }, { dedupeKey });
    await queue.enqueue(quickJob, { thingId: 'second' }, { dedupeKey });
    await queue.enqueueMany(quickJob, [
      { payload: { thingId: 'third' }, dedupeKey },
      { payload: { thingId: 'fourth' }, dedupeKey },
    ]);
    expect((await queue.health()).jobs?.['test.quick']?.waiting).toBe(1);
    const seen: string[] = [];
    await queue.consume({
      'test.quick': async ({ thingId }) => void seen.push(thingId),
      'test.mail': nothing,
    });
    await until('the first ran', () => seen.length === 1);
    await until('its key is free', async () => (await queue.health()).jobs?.['test.quick']?.active === 0);
    await queue.enqueue(quickJob, { thingId: 'later' }, { dedupeKey });
    await until('the later one ran', () => seen.length === 2);
    expect(seen).toEqual(['first', 'later']);
  });

  it('does not add a second job for a key while the first is running', async () => {
    const queue = await open();
    const dedupeKey = freshKey();
    const hold = gate();
    let runs = 0;
    await queue.consume({
      'test.quick': async () => {
        runs += 1;
        await hold.opened;
      },
      'test.mail': nothing,
    });
    await queue.enqueue(quickJob, { thingId: 'a' }, { dedupeKey });
    await until('it runs', () => runs === 1);
    await queue.enqueue(quickJob, { thingId: 'a' }, { dedupeKey });
    const counts = (await queue.health()).jobs?.['test.quick'];
    expect(counts).toMatchObject({ waiting: 0, active: 1 });
    hold.open();
  });

  it('gives the same key to two kinds of job independently', async () => {
    const queue = await open();
    await queue.enqueue(quickJob, { thingId: 'a' }, { dedupeKey: 'same' });
    await queue.enqueue(mailJob, { thingId: 'a' }, { dedupeKey: 'same' });
    const { jobs } = await queue.health();
    expect([jobs?.['test.quick']?.waiting, jobs?.['test.mail']?.waiting]).toEqual([1, 1]);
  });

  it('holds a job until its instant', async () => {
    const queue = await open();
    const ranAt: number[] = [];
    await queue.consume({ 'test.quick': async () => void ranAt.push(Date.now()), 'test.mail': nothing });
    const runAt = new Date(Date.now() + 1_500);
    await queue.enqueue(quickJob, { thingId: 'a' }, { dedupeKey: freshKey(), runAt });
    expect((await queue.health()).jobs?.['test.quick']?.delayed).toBe(1);
    await until('it ran', () => ranAt.length === 1);
    // A few milliseconds of leeway for the two clocks and their rounding.
    expect(ranAt[0]).toBeGreaterThanOrEqual(runAt.getTime() - 20);
  });

  it('tries a failed job again after a pause, counting the attempts', async () => {
    const queue = await open();
    const attempts: number[] = [];
    const at: number[] = [];
    await queue.consume({
      'test.quick': async (_payload, run) => {
        attempts.push(run.attempt);
        at.push(Date.now());
        if (run.attempt < 3) throw new Error('not yet');
      },
      'test.mail': nothing,
    });
    await queue.enqueue(quickJob, { thingId: 'a' }, { dedupeKey: freshKey() });
    await until('the third attempt', () => attempts.length === 3, 20_000);
    expect(attempts).toEqual([1, 2, 3]);
    // quick: first pause 1 s or more, the next at least twice that.
    expect((at[1] as number) - (at[0] as number)).toBeGreaterThanOrEqual(980);
    expect((at[2] as number) - (at[1] as number)).toBeGreaterThanOrEqual(1_980);
  });

  it('shows a job as dead, with reason and payload, when it gives up; a new one with the key replaces it', async () => {
    const queue = await open();
    let broken = true;
    let runs = 0;
    const handler: JobHandler<typeof quickJob> = async () => {
      runs += 1;
      if (broken) throw new GiveUp('there is no such thing');
    };
    await queue.consume({ 'test.quick': handler, 'test.mail': nothing });
    await queue.enqueue(quickJob, { thingId: 'a' }, { dedupeKey: 'grave' });
    await until('it is dead', async () => (await queue.deadJobs()).length === 1);
    const [dead] = await queue.deadJobs();
    expect(dead).toMatchObject({
      jobName: 'test.quick',
      dedupeKey: 'grave',
      payload: { thingId: 'a' },
      reason: 'there is no such thing',
      attempts: 1,
    });
    expect(Math.abs((dead?.diedAt.getTime() ?? 0) - Date.now())).toBeLessThan(60_000);
    expect((await queue.health()).jobs?.['test.quick']?.dead).toBe(1);
    broken = false;
    await queue.enqueue(quickJob, { thingId: 'a' }, { dedupeKey: 'grave' });
    await until('the new one ran', () => runs === 2);
    expect(await queue.deadJobs()).toEqual([]);
  });

  it('puts a job back until the instant the handler names, without counting that as a failure', async () => {
    const queue = await open();
    const runs: { attempt: number; at: number }[] = [];
    let runAt = new Date(0);
    await queue.consume({
      'test.mail': async (_payload, { attempt }) => {
        runs.push({ attempt, at: Date.now() });
        if (runs.length === 1) {
          runAt = new Date(Date.now() + 1_200);
          throw new PutBack(runAt, 'the server asked to come later');
        }
      },
      'test.quick': nothing,
    });
    await queue.enqueue(mailJob, { thingId: 'a' }, { dedupeKey: freshKey() });
    await until('it ran again', () => runs.length === 2);
    expect(runs.map((run) => run.attempt)).toEqual([1, 1]);
    expect(runs[1]?.at).toBeGreaterThanOrEqual(runAt.getTime() - 20);
  });

  it('makes a job of an unknown version dead, saying so, and never hands it to the handler', async () => {
    const newer = await stage.backend.open();
    await newer.close();
    const { openQueue } = await import('../../../libs/queue/src/open-queue.ts');
    const { databaseUrl, redisUrl, space } = stage.backend;
    const jobs = [quickJobV2, mailJob] as const;
    const writer = await openQueue({ jobs, databaseUrl, redisUrl, space, log: recordingLog() });
    await writer.enqueue(quickJobV2, { thingId: 'a' }, { dedupeKey: freshKey() });
    await writer.close();
    const queue = await open();
    let runs = 0;
    const count = async () => {
      runs += 1;
    };
    await queue.consume({ 'test.quick': count, 'test.mail': nothing });
    await until('it is dead', async () => (await queue.deadJobs()).length === 1);
    expect((await queue.deadJobs())[0]?.reason).toBe('Payload version 2; this program knows version 1 only.');
    expect(runs).toBe(0);
  });

  it('does not start without a handler for each definition and a definition for each handler', async () => {
    const queue = await open();
    const partial = { 'test.quick': nothing, 'test.other': nothing };
    const consume = queue.consume(partial as never);
    await expect(consume).rejects.toThrow(
      'test.mail has a definition but no handler; test.other has a handler but no definition',
    );
    expect(await codeOf(queue.consume(partial as never))).toBe('queue-handlers-incomplete');
  });

  it('refuses a payload that does not fit, an empty key, too large a batch and a job that is not listed', async () => {
    const queue = await open();
    const extra = { thingId: 'a', mailTo: 'x' } as { thingId: string };
    expect(await codeOf(queue.enqueue(quickJob, extra, { dedupeKey: 'k' }))).toBe('queue-payload-invalid');
    expect(await codeOf(queue.enqueue(quickJob, { thingId: 'a' }, { dedupeKey: '' }))).toBe(
      'queue-payload-invalid',
    );
    const many = Array.from({ length: MAX_BATCH + 1 }, (_, i) => ({
      payload: { thingId: 'a' },
      dedupeKey: `k${i}`,
    }));
    expect(await codeOf(queue.enqueueMany(quickJob, many))).toBe('queue-batch-too-large');
    const unlisted = quickJobV2 as unknown as typeof quickJob;
    expect(await codeOf(queue.enqueue(unlisted, { thingId: 'a' }, { dedupeKey: 'k' }))).toBe(
      'queue-job-unknown',
    );
    expect((await queue.health()).jobs?.['test.quick']?.waiting).toBe(0);
  });
});
