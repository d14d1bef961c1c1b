// Briefs at the edges: clock changes, half-hour zones, late workers, two workers, old and missing forecasts.
import { afterAll, afterEach, beforeAll, describe, expect, it, jest } from '@jest/globals';
import { briefsSweep, briefWatchSweep } from '../../../apps/worker/src/sweeps/briefs.sweep.ts';
import type { MorningBrief } from '../../../libs/contracts/src/http/brief-schema.ts';
import { briefTimes } from '../../../libs/data/src/brief/brief-times.ts';
import type { Database } from '../../../libs/data/src/database.ts';
import { type Clock, type Instant, type LocalDate } from '../../../libs/kernel/src/index.ts';
import { hill, mailDomain, publish, type Stage } from '../data/stage.ts';
import { openBriefStage, storeRun } from './brief-stage.ts';
import { recordedLog } from './worker-bench.ts';

jest.setTimeout(120_000);

const { log } = recordedLog();
let stage: Stage;
let now: Instant;
const clock: Clock = { now: () => now };
const at = (instant: string) => {
  now = instant as Instant;
};
const sweep = () => briefsSweep({ db: stage.db, clock, log, mailDomain }).run();
const watch = () => briefWatchSweep({ db: stage.db, clock, log }).run();
const reminders = () =>
  stage.db.client.reminder.findMany({
    where: { purpose: { startsWith: 'brief' } },
    orderBy: { dueAt: 'asc' },
  });
const briefs = () => stage.db.client.visitBrief.findMany({ orderBy: { madeAt: 'asc' } });
const messages = () => stage.db.client.delivery.findMany({ where: { template: 'morning-brief' } });
const lastBrief = async () => (await briefs()).at(-1)?.content as unknown as MorningBrief;

const forecast = (issuedAt: string, gustMps: number) =>
  storeRun(stage.db, { organisationId: stage.organisationId, issuedAt, gustMps });

describe('the moments of briefs', () => {
  const times = (day: string, zone: string, hours = {}) =>
    briefTimes(day as LocalDate, zone, hours).map(({ dueAt, usefulUntil }) => [dueAt, usefulUntil]);

  it('are those of the site, on half-hour zones and on days on which the clocks change', () => {
    // IANA tzdb: St. John's is UTC-2:30 in June.
    expect(times('2026-06-08', 'America/St_Johns')).toEqual([
      ['2026-06-07T18:30:00.000Z', '2026-06-08T02:30:00.000Z'],
      ['2026-06-08T08:00:00.000Z', '2026-06-08T12:30:00.000Z'],
    ]);
    // In Halifax clocks go forward on 8 March 2026 at 02:00: 05:30 is then UTC-3, 16:00 of the day before still UTC-4.
    expect(times('2026-03-08', 'America/Halifax', { workdayStart: '07:00' })).toEqual([
      ['2026-03-07T20:00:00.000Z', '2026-03-08T04:00:00.000Z'],
      ['2026-03-08T08:30:00.000Z', '2026-03-08T12:00:00.000Z'],
    ]);
    // And back on 1 November 2026: the day before at 16:00 is UTC-3, 05:30 UTC-4.
    expect(times('2026-11-01', 'America/Halifax', { briefTime: '15:30' })[0]).toEqual([
      '2026-10-31T18:30:00.000Z',
      '2026-11-01T03:00:00.000Z',
    ]);
    expect(times('2026-11-01', 'America/Halifax')[1]?.[0]).toBe('2026-11-01T09:30:00.000Z');
    // Lord Howe Island moves by half an hour: from 02:00 to 02:30 on 4 October 2026, so 02:15 is not there.
    expect(times('2026-10-05', 'Australia/Lord_Howe', { briefTime: '02:15' })[0]?.[0]).toBe(
      '2026-10-03T15:30:00.000Z',
    );
  });
});

describe('briefs', () => {
  beforeAll(async () => {
    stage = await openBriefStage();
  }, 90_000);
  afterAll(() => stage.close());
  afterEach(async () => {
    await stage.db.client.delivery.deleteMany();
    await stage.db.client.visitBrief.deleteMany();
    await stage.db.client.weatherForecastIssue.deleteMany();
    await stage.db.client.reminder.updateMany({
      data: { state: 'pending', doneAt: null, closedReason: null },
    });
  });

  it('are sent once, whoever sweeps and however often', async () => {
    at('2026-06-07T19:00:30.000Z');
    await forecast('2026-06-07T18:00:00.000Z', 5);
    await Promise.all([sweep(), sweep(), sweep()]);
    await sweep();
    expect((await briefs()).map(({ advice }) => advice)).toEqual(['go']);
    expect((await messages()).map(({ channel }) => channel).sort()).toEqual(['mail', 'mail', 'text']);
    expect((await reminders()).map(({ state }) => state)).toEqual(['done', 'pending']);
  });

  it('leave nothing half done when the worker dies before the end is written, and go out from the next one', async () => {
    at('2026-06-07T19:00:30.000Z');
    await forecast('2026-06-07T18:00:00.000Z', 5);
    const dying: Database = {
      ...stage.db,
      transaction: (work, options) =>
        stage.db.transaction(async (tx) => {
          const result = await work(tx);
          if ((await tx.visitBrief.count()) > 0) throw new Error('the process is gone');
          return result;
        }, options),
    };
    await briefsSweep({ db: dying, clock, log, mailDomain }).run();
    expect([await briefs(), await messages()]).toEqual([[], []]);
    expect((await reminders()).map(({ state }) => state)).toEqual(['pending', 'pending']);
    await sweep();
    expect(await messages()).toHaveLength(3);
  });

  it('turn when a newer forecast does, once, and when theirs grows old', async () => {
    at('2026-06-07T19:00:30.000Z');
    await forecast('2026-06-07T18:00:00.000Z', 5);
    await sweep();
    await watch();
    expect(await briefs()).toHaveLength(1);
    at('2026-06-08T00:30:00.000Z');
    // Looked at just before the newer one, fetched at midnight, is there to be seen.
    await watch();
    await forecast('2026-06-08T00:00:00.000Z', 14);
    await watch();
    await watch();
    expect((await briefs()).map(({ advice, turnedFrom }) => [advice, turnedFrom])).toEqual([
      ['go', null],
      ['hold', 'go'],
    ]);
    at('2026-06-08T12:30:00.000Z');
    await watch();
    expect((await briefs()).map(({ advice }) => advice)).toEqual(['go', 'hold', 'cannot-say']);
  });

  it('cannot say anything from an old forecast, and say since when there is none', async () => {
    at('2026-06-07T19:00:30.000Z');
    await forecast('2026-06-07T05:00:00.000Z', 5);
    await sweep();
    const brief = await lastBrief();
    expect(brief).toMatchObject({
      advice: 'cannot-say',
      forecast: { state: 'stale', issuedAt: '2026-06-07T05:00:00.000Z' },
    });
    expect(brief.reasons.map(({ code }) => code)).toContain('forecast-stale');
    const [mail] = (await messages()).filter(({ channel }) => channel === 'mail');
    expect(JSON.stringify(mail?.data)).toContain('forecast-stale');
  });

  it('cannot say anything without a forecast', async () => {
    at('2026-06-07T19:00:30.000Z');
    await sweep();
    expect(await lastBrief()).toMatchObject({
      advice: 'cannot-say',
      odds: null,
      forecast: { state: 'missing' },
    });
  });

  it('are sent late while they help, and else closed with the reason', async () => {
    // An hour before midnight in Halifax.
    at('2026-06-08T02:00:00.000Z');
    await sweep();
    expect((await reminders()).map(({ state }) => state)).toEqual(['done', 'pending']);
    // Two hours after eight: the day has begun, or has not.
    at('2026-06-08T13:00:00.000Z');
    await sweep();
    const [, morning] = await reminders();
    expect(morning).toMatchObject({
      state: 'skipped',
      closedReason: 'too late to help: it was of use until 2026-06-08T13:00:00.000Z',
    });
    expect(await briefs()).toHaveLength(1);
  });

  it('follow a visit that moves, and end with one that is called off', async () => {
    const moved = {
      ...hill,
      days: ['2026-06-10', '2026-06-11'],
      reserve: ['2026-06-12'],
      deliveryDay: '2026-06-09',
    };
    await publish(stage, [moved]);
    const dates = async (state: string) =>
      (await reminders()).filter((row) => row.state === state).map(({ dueAt }) => dueAt.toISOString());
    expect(await dates('pending')).toEqual(['2026-06-09T19:00:00.000Z', '2026-06-10T08:30:00.000Z']);
    expect(await dates('cancelled')).toEqual(['2026-06-07T19:00:00.000Z', '2026-06-08T08:30:00.000Z']);
    await publish(stage, []);
    expect(await dates('pending')).toEqual([]);
  });
});
