// What publishing writes really arrives by mail, each message once, with links that open and a calendar entry.
import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it, jest } from '@jest/globals';
import ICAL from 'ical.js';
import { readConfig } from '../../../apps/worker/src/config.ts';
import { type RunningWorker, startWorker } from '../../../apps/worker/src/worker.ts';
import { inviteUser } from '../../../libs/data/src/account.repository.ts';
import { hashToken, linkToken, readLink } from '../../../libs/data/src/action-link.repository.ts';
import { recordAnswer } from '../../../libs/data/src/confirmation.repository.ts';
import { addRow } from '../../../libs/data/src/season-rows.repository.ts';
import { createSignInLink, readSignInLink } from '../../../libs/data/src/sign-in.repository.ts';
import { fixedClock, type Instant } from '../../../libs/kernel/src/index.ts';
import { actor, hill, linkSecret, mailDomain, now, openStage, publish, type Stage } from '../data/stage.ts';
import { type MailServer, startMailServer, type TakenMail, textOf } from './mail-server.ts';
import { recordedLog, until } from './worker-bench.ts';

jest.setTimeout(60_000);

const lake = {
  job: 'lake-build',
  crew: 'south',
  days: ['2026-06-15', '2026-06-16'],
  liftUnit: 'crane-1',
  casualHands: ['eli'],
};

describe('messages of a published plan', () => {
  let stage: Stage;
  let server: MailServer;
  let worker: RunningWorker;
  const { log, lines } = recordedLog();
  // Early in the season that is published.
  const clock = fixedClock('2026-05-01T13:00:00.000Z' as Instant);

  beforeAll(async () => {
    stage = await openStage();
    const masses = { massKg: 1240, heaviestPartKg: 310 };
    const kit = {
      key: 'dome-46',
      name: '4.6 m dome',
      diameterM: 4.6,
      ...masses,
      pallets: 1,
      bays: 1,
      panelAreaM2: 3,
    };
    await addRow(stage.db, { seasonId: stage.seasonId, table: 'kits', row: kit, actor });
    const jobKit = { job: 'hill-build', kit: 'dome-46', count: 1 };
    await addRow(stage.db, { seasonId: stage.seasonId, table: 'jobKits', row: jobKit, actor });
    server = await startMailServer();
    const environment = {
      DATABASE_URL: stage.url,
      DRYSPELL_PUBLIC_URL: 'https://plan.example.org',
      DRYSPELL_SECRET: linkSecret,
      DRYSPELL_SMTP_URL: server.url,
      DRYSPELL_MAIL_FROM: 'Larch & Loon Domes <plan@larchandloon.test>',
      DRYSPELL_WORKER_HEALTH_PORT: '0',
    };
    worker = await startWorker(readConfig(environment), log, clock);
  });
  afterAll(async () => {
    await worker.stop();
    await server.close();
    await stage.close();
  });

  const openOnes = async () =>
    stage.db.client.delivery.count({ where: { state: { in: ['pending', 'sending', 'handing_over'] } } });
  const allSent = () => until('no message waits', async () => (await openOnes()) === 0, 30_000);
  const mailTo = (address: string, subject: RegExp): TakenMail => {
    const found = server.taken.filter((mail) => mail.to.includes(address) && subject.test(textSubject(mail)));
    expect(found.length).toBe(1);
    return found[0] as TakenMail;
  };
  const textSubject = (mail: TakenMail) => /^Subject: (.*(?:\r\n[ \t].*)*)/im.exec(mail.raw)?.[1] ?? '';
  const tokenIn = (mail: TakenMail, path = '/l/') =>
    new RegExp(`https://plan\\.example\\.org${path}([A-Za-z0-9_-]+)`).exec(textOf(mail))?.[1] ?? '';
  const openableAt = '2026-06-01T12:00:00.000Z' as Instant;

  it('go to crew, customers, lift hire and haulier, each once, from the firm', async () => {
    const report = await publish(stage, [hill, lake]);
    await allSent();
    const rows = await stage.db.client.delivery.findMany({ orderBy: { createdAt: 'asc' } });
    expect(rows.length).toBe(report.deliveries);
    const problems = rows
      .filter((row) => row.state !== 'sent')
      .map((row) => [row.recipientKey, row.state, row.lastFault]);
    // Dov has no address in the season.
    expect(problems).toEqual([['dov', 'held', 'no address is known']]);
    const sent = rows.filter((row) => row.state === 'sent');
    expect(server.taken.map((mail) => mail.messageId).sort()).toEqual(
      sent.map((row) => row.messageId).sort(),
    );
    expect(new Set(server.taken.map((mail) => mail.from))).toEqual(new Set(['plan@larchandloon.test']));
    expect(new Set(sent.map((row) => row.template))).toEqual(
      new Set(['crew-assignment', 'arrival-notice', 'site-preparation', 'lift-request', 'delivery-request']),
    );
  });

  it('carry a link that opens, and only the reader of the mail can know it', async () => {
    const mail = mailTo('ana@example.org', /Your visit/);
    const token = tokenIn(mail);
    const link = await readLink(stage.db, { tokenHash: hashToken(token), now: openableAt });
    expect(link).toMatchObject({ purpose: 'crew-assignment', recipient: { kind: 'person', key: 'ana' } });
    const dump = JSON.stringify(await stage.db.client.delivery.findMany(), (_key, value) =>
      typeof value === 'bigint' ? String(value) : value,
    );
    expect(dump).toContain('/l/***');
    expect(dump).not.toContain(token);
    expect(JSON.stringify(lines)).not.toContain(token);
  });

  it('bring the crew a calendar entry that a standard reader understands', () => {
    const mail = mailTo('ana@example.org', /Your visit/);
    expect(mail.raw).toMatch(/Content-Type: text\/calendar;[\s\S]*?method=REQUEST/i);
    const attached =
      /Content-Disposition: attachment; filename=visit\.ics\r\n[\s\S]*?\r\n\r\n([\s\S]*?)\r\n--/i.exec(
        mail.raw,
      );
    const text = Buffer.from(attached?.[1] ?? '', 'base64').toString('utf8');
    // ical.js is the outside reader here (RFC 5545).
    const event = new ICAL.Event(
      new ICAL.Component(ICAL.parse(text)).getFirstSubcomponent('vevent') as never,
    );
    expect(event.startDate.toString()).toBe('2026-06-08');
    expect(event.endDate.toString()).toBe('2026-06-10'); // exclusive: the site days are the 8th and 9th
    expect(String(event.organizer)).toContain('plan@larchandloon.test');
    expect(event.attendees.map((attendee) => String(attendee.getFirstValue()).toLowerCase())).toEqual([
      'mailto:ana@example.org',
    ]);
  });

  it('show words of caution, and say of each unknown measure that it is unknown', () => {
    const lift = textOf(mailTo('hoist@example.org', /Lift needed.*hill/i));
    expect(lift).toContain('load chart');
    expect(lift).toMatch(/Hook height: not known yet/);
    expect(lift).toMatch(/Gust at which we stop: not known yet/);
    expect(lift).toMatch(/Ground: not known yet/);
  });

  it('follow a change and a call-off, to those concerned only', async () => {
    server.taken.length = 0;
    const moved = { ...hill, days: ['2026-06-10', '2026-06-11'], reserve: ['2026-06-12'] };
    await publish(stage, [{ ...moved, deliveryDay: '2026-06-09' }]);
    await allSent();
    const changed = mailTo('ana@example.org', /Changed/);
    expect(textOf(changed)).toMatch(/Before: Site hill,.*8/);
    expect(changed.raw).toMatch(/method=REQUEST/i);
    const calledOff = mailTo('cat@example.org', /Called off/);
    expect(calledOff.raw).toMatch(/method=CANCEL/i);
    expect(server.taken.filter((mail) => mail.to.includes('lake@example.org')).length).toBe(1);
    const states = await stage.db.client.delivery.groupBy({ by: ['state'], _count: true });
    // Dov's first message was never sent and is called off for the newer one.
    expect(states.map((row) => row.state).sort()).toEqual(['cancelled', 'held', 'sent']);
  });

  it('include reminders when their moment has come, also to somebody who has answered already', async () => {
    const link = await stage.db.client.actionLink.findFirst({
      where: { recipientKey: 'ana', purpose: 'crew-assignment', revokedAt: null },
    });
    await recordAnswer(stage.db, {
      tokenHash: link?.tokenHash as string,
      answer: 'accepted',
      now: openableAt,
      mailDomain,
    });
    // On the morning of the visit all reminders of it are due.
    clock.set('2026-06-10T10:00:00.000Z' as Instant);
    await until(
      'no reminder waits',
      async () => (await stage.db.client.reminder.count({ where: { state: 'pending' } })) === 0,
      20_000,
    );
    await allSent();
    const templates = await stage.db.client.delivery.groupBy({
      by: ['template'],
      where: { reminderId: { not: null } },
    });
    expect(templates.map((row) => row.template).sort()).toEqual([
      'crew-reminder',
      'morning-brief',
      'partner-reminder',
      'site-preparation-reminder',
    ]);
    // Once more for Ana, now that her link is used up.
    const again = await stage.db.client.reminder.findFirstOrThrow({
      where: { recipientKey: 'ana', purpose: 'crew-day-before', state: 'done' },
    });
    await stage.db.client.delivery.deleteMany({ where: { reminderId: again.id } });
    server.taken.length = 0;
    await stage.db.client.reminder.update({
      where: { id: again.id },
      data: { state: 'pending', doneAt: null },
    });
    await until('it went out', () => server.taken.length > 0, 20_000);
    await allSent();
    const failed = await stage.db.client.delivery.findMany({ where: { state: 'failed' } });
    expect(failed.map((row) => [row.template, row.lastFault])).toEqual([]);
    const mail = mailTo('ana@example.org', /Reminder/);
    expect(textOf(mail)).toContain('Change your answer');
    expect(tokenIn(mail)).not.toBe('');
  });

  it('include the sign-in link and the answers that a manager must see', async () => {
    server.taken.length = 0;
    await inviteUser(stage.db, {
      organisationId: stage.organisationId,
      email: 'manager@example.org',
      name: 'Mo',
      role: 'manager',
      subjectKey: null,
      actor,
    });
    const linkId = randomUUID();
    const asked = await createSignInLink(stage.db, {
      email: 'manager@example.org',
      tokenHash: hashToken(linkToken(linkSecret, linkId)),
      expiresAt: '2026-07-01T00:00:00.000Z' as Instant,
      now,
      mailDomain,
      messageData: { links: [{ id: linkId, purpose: 'sign-in' }] },
    });
    expect(asked).toBe(true);
    await allSent();
    const mail = mailTo('manager@example.org', /Sign in/);
    const account = await readSignInLink(stage.db, { tokenHash: hashToken(tokenIn(mail, '/sign-in/')), now });
    expect(account).not.toBeNull();
    const link = await stage.db.client.actionLink.findFirst({
      where: { recipientKey: 'ben', purpose: 'crew-assignment', revokedAt: null, usedAt: null },
    });
    await recordAnswer(stage.db, {
      tokenHash: link?.tokenHash as string,
      answer: 'declined',
      note: 'I am away',
      now: openableAt,
      mailDomain,
    });
    await allSent();
    const notice = textOf(mailTo('manager@example.org', /^No:/));
    expect(notice).toContain('I am away');
  });

  it('leave a worker that says it is ready', async () => {
    const response = await fetch(`http://127.0.0.1:${worker.healthPort}/ready`);
    expect(response.status).toBe(200);
    expect(await response.json()).toMatchObject({
      ready: true,
      checks: { database: true, queue: true, outbox: true },
      leads: true,
      oldestOutboxRowAt: null,
    });
    expect((await fetch(`http://127.0.0.1:${worker.healthPort}/live`)).status).toBe(200);
    expect((await fetch(`http://127.0.0.1:${worker.healthPort}/secrets`)).status).toBe(404);
  });
});
