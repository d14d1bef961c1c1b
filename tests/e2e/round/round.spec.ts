// The whole round as the firm walks it, on the program as `npm start` starts it: no Redis, no PostgreSQL of one's own,
// a real mail server on this machine. The steps follow one another; each test is one of them.
import { spawnSync } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it, jest } from '@jest/globals';
import { freePort } from '../../../apps/cli/src/postgres/free-port.ts';
import { runningServer } from '../../../apps/cli/src/postgres/running-server.ts';
import { type DatabasePrint, databasePrint } from '../../builders/database-print.ts';
import { eventually } from '../../builders/eventually.ts';
import { HttpClient } from '../../builders/http-client.ts';
import { type StartedDryspell, startDryspell } from '../../builders/started-dryspell.ts';
import { type MailServer, startMailServer } from '../../integration/worker/mail-server.ts';
import { readCalendar } from '../../reference/calendar/read-calendar.ts';
import {
  expectedCounts,
  expectedEntries,
  type PlannedVisit,
  type SeasonRows,
  zoneOf,
} from './expected-mail.ts';
import {
  countsOf,
  entryOf,
  linkIn,
  Manager,
  openLink,
  type PublishReport,
  type Received,
  received,
  signIn,
  sorted,
} from './round.ts';

jest.setTimeout(300_000);

const root = path.resolve(import.meta.dirname, '../../..');
const SEASON = 'larch-loon-2027';
const FROM = 'planning@larch-and-loon.example';

let folder: string;
let data: string;
let port: number;
let mailServer: MailServer;
let program: StartedDryspell | undefined;
let manager: Manager;
let season: SeasonRows;
let visits: readonly PlannedVisit[];
let report: PublishReport;
let mails: Received[];

const start = async (from: 'npm start' | 'built program'): Promise<StartedDryspell> => {
  program = startDryspell(
    ['--data', data, '--port', String(port)],
    { DRYSPELL_SMTP_URL: mailServer.url, DRYSPELL_MAIL_FROM: `Larch & Loon Domes <${FROM}>` },
    from,
  );
  await program.saw('Ready.', 120_000);
  return program;
};

const signInLink = (started: StartedDryspell): string =>
  /http:\/\/localhost:\d+\/sign-in\/[\w-]{43}/.exec(started.output())?.[0] ?? '';

/** A print of the embedded database; what a start or a look at the clock may change of itself is left out. */
const print = (): Promise<DatabasePrint> => {
  const { rolePassword } = JSON.parse(fs.readFileSync(path.join(data, 'settings.json'), 'utf8'));
  const url = runningServer(path.join(data, 'database'), rolePassword);
  if (url === undefined) throw new Error('the embedded database does not run');
  return databasePrint(url);
};

const mailTo = (address: string, subject: RegExp): Received => {
  const found = mails.filter((mail) => mail.to === address && subject.test(mail.subject));
  const subjects = mails.filter((mail) => mail.to === address).map((mail) => mail.subject);
  if (!found[0]) throw new Error(`no mail to ${address} like ${subject}: ${subjects.join('; ')}`);
  return found[0];
};

beforeAll(async () => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-round-'));
  fs.chmodSync(folder, 0o755);
  data = path.join(folder, 'data');
  port = await freePort();
  mailServer = await startMailServer();
});

afterAll(async () => {
  await program?.end('SIGTERM');
  await mailServer.close();
  fs.rmSync(folder, { recursive: true, force: true });
});

describe('the round of a season', () => {
  it('starts with one command, plans the demo seasons and prints a way in', async () => {
    const started = await start('npm start');
    expect(started.output()).toContain('26 of 26 jobs have dates');
    expect(started.output()).toMatch(/✓ database +embedded PostgreSQL/);
    expect(started.output()).toMatch(/✓ queue +on PostgreSQL/);
    expect(signInLink(started)).not.toBe('');
  });

  it('lets the manager in by the printed link, once, and only when the button is pressed', async () => {
    const link = signInLink(program as StartedDryspell);
    const stranger = new HttpClient(new URL(link).origin);
    const before = await print();
    for (const _look of [1, 2]) expect((await stranger.get(link)).status).toBe(200);
    expect(stranger.cookies).toEqual([]);
    expect(await print()).toEqual(before);
    expect((await stranger.get('/api/v1/me')).status).toBe(401);

    const client = await signIn(link);
    expect(client.cookies).toEqual(['dryspell_session']);
    const me = await client.get<{ role: string; organisation: { demo: boolean } }>('/api/v1/me');
    expect(me.body).toMatchObject({ role: 'manager', organisation: { demo: true } });
    await expect(signIn(link)).rejects.toThrow('status 410');
    manager = new Manager(client, SEASON);
  });

  it('made a plan that the independent check finds valid against its season', async () => {
    const files = { season: path.join(folder, 'season.json'), plan: path.join(folder, 'plan.json') };
    const run = (command: string, args: string[]) =>
      spawnSync(command, args, { cwd: root, encoding: 'utf8', env: { ...process.env, TZ: 'UTC' } });
    const built = (...args: string[]) =>
      run(process.execPath, [path.join(root, 'dist/apps/cli/src/main.js'), ...args]);
    const exported = built('export', files.season, '--plan', files.plan, '--season', SEASON, '--data', data);
    expect([exported.status, exported.stderr]).toEqual([0, '']);
    const checked = run('npm', ['run', '--silent', 'dryspell', '--', 'check', files.season, files.plan]);
    // What takes a while is said on stderr; nothing else is.
    const complaints = checked.stderr.split('\n').filter((line) => line !== '' && !line.startsWith('· '));
    expect([checked.status, complaints]).toEqual([0, []]);
    expect(checked.stdout).toContain('valid: 26 visits of 26 jobs keep every rule');
    // The check is no rubber stamp: a visit on other days is caught.
    const plan = JSON.parse(fs.readFileSync(files.plan, 'utf8'));
    const visit = plan.visits.find((each: PlannedVisit) => each.days.length > 1);
    visit.days[0] = '2027-04-19';
    fs.writeFileSync(files.plan, JSON.stringify(plan));
    expect(built('check', files.season, files.plan).status).toBe(1);
  });

  it('publishes once, however often the same request comes, and not from an old version', async () => {
    await manager.dropQuietHours();
    season = await manager.seasonFile();
    const draft = await manager.draft();
    visits = draft.plan.visits;
    expect(draft.plan.seasonChangesSince).toBe(1);
    expect((await manager.tryPublish({ ...draft, etag: '"99"' })).status).toBe(412);
    const key = randomUUID();
    report = await manager.publish(draft, key);
    expect(report.visits.added).toBe(26);
    const again = await manager.tryPublish(draft, key);
    expect([again.status, again.headers.get('idempotency-replayed')]).toEqual([200, 'true']);
    expect(again.body).toEqual(report);
    expect((await manager.tryPublish(draft)).status).toBe(412);
    expect((await manager.plan(draft.plan.id)).plan.status).toBe('published');
  });

  it('sends exactly one message to each who must hear of it, from the firm', async () => {
    const deliveries = await manager.allSettled();
    expect(deliveries.filter(({ state }) => state !== 'sent')).toEqual([]);
    expect(deliveries).toHaveLength(report.deliveries);
    expect(sorted(countsOf(mailServer.taken))).toEqual(sorted(expectedCounts(season, visits)));
    expect(new Set(mailServer.taken.map(({ messageId }) => messageId)).size).toBe(mailServer.taken.length);
    expect(new Set(mailServer.taken.map(({ from }) => from))).toEqual(new Set([FROM]));
    mails = received(mailServer.taken);
    // The demo says so in each message: nobody may take an invented firm for a real one.
    expect(
      mails.filter(({ text }) => !/invented|demonstration/i.test(text)).map(({ subject }) => subject),
    ).toEqual([]);
  });

  it('brings the crew calendar entries that an independent reader reads with the right moments', () => {
    const expected = expectedEntries(season, visits);
    const read = mails.filter((mail) => mail.calendars.length > 0).map(entryOf);
    const inOrder = (entries: typeof expected) => entries.map((entry) => JSON.stringify(entry)).sort();
    expect(inOrder(read)).toEqual(inOrder(expected));
    // Visits of one day have a time; the demo has some in two zones.
    const oneDay = visits.filter(({ days }) => days.length === 1).map(({ job }) => job);
    const zones = new Set(oneDay.map((job) => zoneOf(season, job)));
    expect(zones).toEqual(new Set(['America/Halifax', 'America/New_York']));
    expect(read.filter(({ start }) => start.includes('T')).length).toBeGreaterThanOrEqual(oneDay.length);
  });

  it('takes the yes of the crew by the link of the mail, and looking alone changes nothing', async () => {
    const mail = mailTo('adele@larch-and-loon.example', /Gull Point School/);
    const link = linkIn(mail);
    const before = await print();
    const page = await openLink(link);
    await openLink(link);
    expect(await print()).toEqual(before);
    expect(page.text).toContain('You have not answered yet.');
    const after = await page.send('assignment', { answer: 'accepted', note: '' });
    expect(after.text).toMatch(/Your answer: <strong>yes<\/strong>/);
    const stateOf = async (): Promise<string | undefined> => {
      const mine = (
        await manager.all<{ person: string; job: string; state: string }>(
          `/api/v1/assignments?season=${SEASON}&person=adele`,
        )
      ).filter(({ state }) => state === 'accepted');
      return mine.map(({ job }) => job).join();
    };
    expect(visits.map(({ job }) => job)).toContain(await stateOf());
  });

  it('shows the manager at once what the customer says is ready', async () => {
    const visit = visits.find(({ job }) => job === 'harbour-hill') as PlannedVisit;
    const mail = mailTo('harbour-hill@customers.example', /ready|prepare/i);
    const page = await openLink(linkIn(mail));
    const boxes = page
      .form('items')
      .fields.filter(({ name, type }) => name === 'ready' && type === 'checkbox');
    const before = await manager.visitOf(visit.job);
    const known = new Set((await manager.whatNext()).items.map(({ subjectId }) => subjectId));
    expect(boxes.length).toBeGreaterThan(0);
    // The part of the page about an item is named after it.
    const boxOf = (title: string) => {
      const part = page.text.split('id="item-').find((each) => each.includes(title));
      return boxes.find(({ value }) => part?.startsWith(value));
    };
    const tick = before.readiness.find(({ state, title }) => state === 'open' && boxOf(title));
    if (!tick) throw new Error('nothing can be ticked on the page');
    const box = boxOf(tick.title);
    await page.send('items', { ready: box?.value ?? '' });
    const item = (await manager.visitOf(visit.job)).readiness.find(({ key }) => key === tick.key);
    expect(item?.state).toBe('claimed');
    const claims = (await manager.whatNext()).items.filter(
      ({ kind, subjectId }) => kind === 'readiness-claimed' && !known.has(subjectId),
    );
    expect(claims).toEqual([expect.objectContaining({ subjectId: box?.value, visitId: before.id })]);
    // And it goes on: the manager accepts it, and what is next no longer names it.
    const judged = await manager.client.post(
      `/api/v1/seasons/${SEASON}/readiness-items/${visit.job}/${tick.key}/judgement`,
      { json: { as: 'accepted' }, ifMatch: `"${item?.version}"` },
    );
    expect([judged.status, judged.text]).toEqual([200, expect.stringContaining('accepted')]);
    const left = (await manager.whatNext()).items.filter(({ subjectId }) => subjectId === box?.value);
    expect(left).toEqual([]);
  });

  it('takes the confirmation of a hire firm', async () => {
    const visit = visits.find(({ liftUnit }) => liftUnit === 'tele-moncton') as PlannedVisit;
    const before = await manager.visitOf(visit.job);
    expect(before.lifts.map(({ state }) => state)).toEqual(['asked']);
    const links = mails.filter((mail) => mail.to === 'desk@fundy-lift.example').map(linkIn);
    // The firm has several requests; each link is for one of them only.
    const answered: string[] = [];
    for (const link of links) {
      const page = await openLink(link);
      if ((await manager.visitOf(visit.job)).lifts[0]?.state === 'confirmed') break;
      await page.send('liftHold', { answer: 'accepted', reference: 'FLH-204', proposedDay: '', note: '' });
      answered.push(link);
    }
    expect((await manager.visitOf(visit.job)).lifts.map(({ state }) => state)).toEqual(['confirmed']);
    const states = await Promise.all(
      visits.map(async ({ job }) => (await manager.visitOf(job)).lifts[0]?.state),
    );
    expect(states.filter((state) => state === 'confirmed')).toHaveLength(answered.length);
    expect(states).not.toContain('declined');
  });

  it('offers calendars to follow that an independent reader reads whole', async () => {
    const kinds = { season: SEASON, crew: 'tern', site: 'gull-point', person: 'adele' };
    const expected = {
      season: visits.length,
      crew: visits.filter(({ crew }) => crew === 'tern').length,
      site: (await manager.visits()).filter(({ site }) => site.key === 'gull-point').length,
      person: mails.filter(({ to, calendars }) => to.startsWith('adele@') && calendars.length > 0).length,
    };
    for (const [kind, key] of Object.entries(kinds)) {
      const url = new URL(await manager.feed(kind, key));
      const answer = await new HttpClient(url.origin).get(url.pathname);
      expect([kind, answer.status, answer.headers.get('content-type')]).toEqual([
        kind,
        200,
        'text/calendar; charset=utf-8',
      ]);
      const { events } = readCalendar(answer.text);
      expect([kind, events.length]).toEqual([kind, expected[kind as keyof typeof expected]]);
    }
  });

  it('goes on from the same data after a stop, plans nothing anew and sends nothing again', async () => {
    const sent = mailServer.taken.length;
    const before = await print();
    expect(await program?.end('SIGTERM')).toBe(0);
    const again = await start('built program');
    expect(again.output()).not.toMatch(/✓ (?:demo|planning)/);
    expect(again.output()).toMatch(/✓ migrations +up to date/);
    expect(again.output()).toContain('published plan');
    const after = await print();
    // A start makes a fresh sign-in link and notes that it did.
    const differs = Object.keys(before).filter((table) => before[table] !== after[table]);
    expect(differs.sort()).toEqual(['audit', 'sign_in_links']);
    // The manager is still signed in, and a message that is asked for now goes out alone.
    expect((await manager.client.get('/api/v1/me')).status).toBe(200);
    const asked = await manager.client.post('/api/v1/sign-in-links', {
      json: { email: 'manager@larch-and-loon.example' },
    });
    expect(asked.status).toBe(202);
    await eventually('the sign-in link comes', () => mailServer.taken.length > sent);
    expect(mailServer.taken.slice(sent).map(({ to }) => to)).toEqual([['manager@larch-and-loon.example']]);
  });
});
