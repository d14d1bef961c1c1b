// From publishing to the mail in the morning: a forecast of a service of our own on this machine turns a go into a hold.
import { afterAll, beforeAll, describe, expect, it, jest } from '@jest/globals';
import { readConfig } from '../../../apps/worker/src/config.ts';
import { type RunningWorker, startWorker } from '../../../apps/worker/src/worker.ts';
import { findWhatNext } from '../../../libs/data/src/listing/what-next.ts';
import { fixedClock, type Instant, type LocalDate } from '../../../libs/kernel/src/index.ts';
import { linkSecret, type Stage } from '../data/stage.ts';
import { openBriefStage } from './brief-stage.ts';
import { type ForecastServer, metAnswer, startForecastServer } from './forecast-server.ts';
import { type MailServer, startMailServer, type TakenMail, textOf } from './mail-server.ts';
import { recordedLog, until } from './worker-bench.ts';

jest.setTimeout(180_000);

const at = (instant: string): Instant => instant as Instant;
const subjectOf = ({ raw }: TakenMail): string =>
  (/^Subject: (.*(?:\r\n[ \t].*)*)/im.exec(raw)?.[1] ?? '').replace(/\r\n[ \t]/g, ' ');

describe('the morning brief of a published visit', () => {
  let stage: Stage;
  let mail: MailServer;
  let service: ForecastServer;
  let worker: RunningWorker;
  const { log } = recordedLog();
  // Halifax keeps UTC-3 in June. The first outside day is 8 June.
  const clock = fixedClock(at('2026-06-07T18:30:00.000Z'));
  const start = async () => {
    const environment = {
      DATABASE_URL: stage.url,
      DRYSPELL_PUBLIC_URL: 'https://plan.example.org',
      DRYSPELL_SECRET: linkSecret,
      DRYSPELL_SMTP_URL: mail.url,
      DRYSPELL_MAIL_FROM: 'Larch & Loon Domes <plan@larchandloon.test>',
      DRYSPELL_FORECAST_MET_URL: service.url,
      DRYSPELL_FORECAST_CONTACT: 'office@example.org',
    };
    worker = await startWorker(readConfig(environment), log, clock);
  };
  const answer = (issuedAt: string, expires: string, gustMps: number) => {
    service.answer = () => ({
      status: 200,
      headers: { expires },
      body: metAnswer(at(issuedAt), 60, { rainMm: 0, gustMps }),
    });
  };
  const briefs = () => stage.db.client.visitBrief.findMany({ orderBy: { madeAt: 'asc' } });
  const settled = async () =>
    (await stage.db.client.delivery.count({
      where: { channel: 'mail', template: 'morning-brief', state: { not: 'sent' } },
    })) === 0;
  const briefMails = () => mail.taken.filter((each) => /^(?:GO|HOLD|CANNOT SAY): /.test(subjectOf(each)));

  beforeAll(async () => {
    stage = await openBriefStage();
    mail = await startMailServer();
    service = await startForecastServer();
    answer('2026-06-07T18:00:00.000Z', 'Mon, 08 Jun 2026 00:00:00 GMT', 5);
    await start();
  }, 120_000);
  afterAll(async () => {
    await worker?.stop();
    await mail?.close();
    await service?.stop();
    await stage?.close();
  });

  it('is two rows from the moment of publishing, at the hours of the site', async () => {
    const rows = await stage.db.client.reminder.findMany({
      where: { purpose: { startsWith: 'brief' } },
      orderBy: { dueAt: 'asc' },
    });
    expect(
      rows.map((row) => [row.purpose, row.localTime, row.zone, row.dueAt.toISOString(), row.state]),
    ).toEqual([
      ['brief-day-before', '16:00', 'America/Halifax', '2026-06-07T19:00:00.000Z', 'pending'],
      ['brief-on-the-day', '05:30', 'America/Halifax', '2026-06-08T08:30:00.000Z', 'pending'],
    ]);
  });

  it('says go the day before, to the manager and the lead, with odds, costs, rule and cautions', async () => {
    const fetched = async () => (await stage.db.client.weatherForecastIssue.count()) === 1;
    await until('the forecast is there', fetched, 25_000);
    clock.set(at('2026-06-07T19:00:05.000Z'));
    await until('both mails left', async () => briefMails().length === 2 && (await settled()), 25_000);
    expect(
      briefMails()
        .map(({ to }) => to[0])
        .sort(),
    ).toEqual(['ana@example.org', 'manager@example.org']);
    const [first] = briefMails() as [TakenMail];
    expect(subjectOf(first)).toBe('GO: Site hill, Monday, June 8, 2026');
    const text = textOf(first);
    // One good run of one, without a record: (1 + 0.1) / (1 + 0.2) = 92 %.
    expect(text).toContain('Odds of a good day: 92 %, from the forecast alone');
    expect(text).toMatch(/A failed start costs: CAD [\d,.]+\s/);
    expect(text).toMatch(/Holding costs: CAD [\d,.]+\s/);
    expect(text).toContain('hold when the chance of failing is above the cost of holding divided by');
    expect(text).toMatch(/chance of failing 8 %, cost of holding \/ cost of a failed start \d+ %/);
    expect(text).toContain('No last moment is known for: Crane 1');
    expect(text).toMatch(/Latest workable start: 12:00/);
    expect(text).toContain('Sunrise: 5:');
    expect(text).toContain('issued Sunday, June 7, 2026, 3:00 PM (Atlantic Time, UTC-3)');
    expect(text).toContain('measured at the height of the load and the maker’s chart');
  });

  it('is also a short text for the lead, which is held and shown as not sent', async () => {
    const rows = await stage.db.client.delivery.findMany({ where: { channel: 'text' } });
    expect(rows).toHaveLength(1);
    expect(rows[0]).toMatchObject({
      state: 'held',
      address: '+15555550123',
      lastFault: 'There is no way to send by text on this server.',
    });
    const body = rows[0]?.body ?? '';
    expect(body).toMatch(/^GO Site hill 2026-06-08 08:00\. Good day 92 %\. Fail CAD/);
    expect(body).toContain('competent person on site decides');
    expect([...body].length).toBeLessThanOrEqual(300);
  });

  it('turns to hold when a newer forecast is windy, and the manager sees why at once', async () => {
    answer('2026-06-08T00:00:00.000Z', 'Mon, 08 Jun 2026 12:00:00 GMT', 14);
    clock.set(at('2026-06-08T00:30:00.000Z'));
    const turned = async () => (await briefs()).length === 2;
    await until('the turn is noted', turned, 90_000);
    expect((await briefs()).map(({ purpose, advice, turnedFrom }) => [purpose, advice, turnedFrom])).toEqual([
      ['day-before', 'go', null],
      ['newer-forecast', 'hold', 'go'],
    ]);
    const { items } = await findWhatNext(stage.db, {
      organisationId: stage.organisationId,
      today: '2026-06-07' as LocalDate,
      limit: 20,
    });
    const item = items.find(({ kind }) => kind === 'advice-turned');
    expect(item).toMatchObject({ job: 'hill-build', dueOn: '2026-06-08', facts: { from: 'go', to: 'hold' } });
    expect(item?.facts['why']).toContain('gustMps 14, allowed 9');
    // The mail of the morning will say it too; nothing is sent in the night.
    expect(briefMails()).toHaveLength(2);
  });

  it('says hold at half past five, that it was go before, and which limit breaks when', async () => {
    // A worker that is started anew sends neither of the earlier ones again.
    await worker.stop();
    await start();
    clock.set(at('2026-06-08T08:30:05.000Z'));
    await until('two more mails left', async () => briefMails().length === 4 && (await settled()), 25_000);
    const last = briefMails().slice(2);
    expect(last.map(subjectOf)).toEqual(Array(2).fill('HOLD: Site hill, Monday, June 8, 2026'));
    const text = textOf(last[0] as TakenMail);
    expect(text).toContain('the brief before said GO, and now it is HOLD');
    expect(text).toContain('Gust at the load, m/s: allowed 9, expected 14, at worst 14; from 8:00 AM');
    const messages = await stage.db.client.delivery.findMany({ where: { template: 'morning-brief' } });
    expect(messages).toHaveLength(6);
    const kept = await briefs();
    expect(kept.map(({ purpose, advice, turnedFrom }) => [purpose, advice, turnedFrom])).toEqual([
      ['day-before', 'go', null],
      ['newer-forecast', 'hold', 'go'],
      ['on-the-day', 'hold', 'go'],
    ]);
    // What it rested on is kept with it: the hours of the run, as issued.
    const input = kept[2]?.input as { forecasts: { issuedAt: string; members: { gustMps: number[] }[] }[] };
    expect(input.forecasts[0]?.issuedAt).toBe('2026-06-08T00:00:00.000Z');
    expect(new Set(input.forecasts[0]?.members[0]?.gustMps)).toEqual(new Set([14]));
  });
});
