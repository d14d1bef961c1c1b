import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import ICAL from 'ical.js';
import { revokeUser } from '../../../libs/data/src/account.repository.ts';
import { hashToken } from '../../../libs/data/src/action-link.repository.ts';
import { recordManagerAnswer } from '../../../libs/data/src/confirmation.repository.ts';
import { createDraftPlan } from '../../../libs/data/src/plan.repository.ts';
import { publishPlan } from '../../../libs/data/src/publish.repository.ts';
import { planOf, smallPatterns, type VisitSketch } from '../data/small-season.ts';
import { actor, hill, linkSecret, mailDomain, now } from '../data/stage.ts';
import { type ApiStage, openApiStage } from './links-stage.ts';

const cape = { job: 'cape-build', crew: 'south', days: ['2026-06-15'] };
const lake = { job: 'lake-build', crew: 'north', days: ['2026-07-06', '2026-07-07'], liftUnit: 'crane-1' };

/** Publishes these visits; the cape is a visit of one day here, so that its hours are in the calendar. */
async function publish({ db, seasonId }: ApiStage, visits: readonly VisitSketch[]): Promise<void> {
  const plan = await createDraftPlan(db, { seasonId, plan: planOf(visits), actor });
  const jobs = smallPatterns.jobs.map((job) =>
    job.id === 'cape-build' ? { ...job, pattern: job.pattern.slice(0, 1) } : job,
  );
  const what = { seasonId, planId: plan.id, version: plan.version, problem: { jobs } };
  await publishPlan(db, { ...what, actor, now, linkSecret, mailDomain });
}

let stage: ApiStage;
let manager: string;

beforeAll(async () => {
  stage = await openApiStage();
  await publish(stage, [hill, cape, lake]);
  manager = (await stage.signIn('manager', null)).token;
}, 120_000);

afterAll(() => stage.close());

const call = (token: string, method: string, path: string, body?: unknown) =>
  fetch(`${stage.origin}${path}`, {
    method,
    headers: {
      authorization: `Bearer ${token}`,
      ...(body === undefined ? {} : { 'content-type': 'application/json' }),
    },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
interface Feed {
  readonly id: string;
  readonly url: string;
  readonly kind: string;
  readonly key: string;
}
async function make(token: string, kind: string, key: string): Promise<Feed> {
  const answer = await call(token, 'POST', '/api/v1/calendar-feeds', { season: 'small', kind, key });
  expect(answer.status).toBe(201);
  return (await answer.json()) as Feed;
}
/** Follows an address as a calendar program does, which has no account. */
const follow = (feed: Feed, headers: Record<string, string> = {}) =>
  fetch(`${stage.origin}${new URL(feed.url).pathname}`, { headers });
/** Read by ical.js, a reader of RFC 5545 that shares no code with the writer. */
async function eventsOf(feed: Feed): Promise<ICAL.Event[]> {
  const answer = await follow(feed);
  expect(answer.status).toBe(200);
  expect(answer.headers.get('content-type')).toBe('text/calendar; charset=utf-8');
  const calendar = new ICAL.Component(ICAL.parse(await answer.text()) as never);
  expect(calendar.getFirstPropertyValue('version')).toBe('2.0');
  expect(calendar.getFirstPropertyValue('method')).toBeNull();
  for (const zone of calendar.getAllSubcomponents('vtimezone')) ICAL.TimezoneService.register(zone as never);
  const events = calendar.getAllSubcomponents('vevent').map((event) => new ICAL.Event(event as never));
  return events.sort((a, b) => a.startDate.compare(b.startDate));
}

describe('the calendar of a crew', () => {
  it('has each of its visits once, at the right moments', async () => {
    const north = await eventsOf(await make(manager, 'crew', 'north'));
    expect(north.map((event) => event.summary)).toEqual(['Build: Dome at hill', 'Build: Dome at lake']);
    // Whole days; the end is exclusive (RFC 5545 section 3.6.1).
    expect(north.map((event) => [event.startDate.toString(), event.endDate.toString()])).toEqual([
      ['2026-06-08', '2026-06-10'],
      ['2026-07-06', '2026-07-08'],
    ]);
    const [south] = await eventsOf(await make(manager, 'crew', 'south'));
    // Newfoundland is two and a half hours behind UTC in June (IANA time zone data): 8:00 there is 10:30 UTC.
    expect(south?.startDate.zone.tzid).toBe('America/St_Johns');
    expect(south?.startDate.toJSDate().toISOString()).toBe('2026-06-15T10:30:00.000Z');
    expect(south?.endDate.toJSDate().toISOString()).toBe('2026-06-15T18:30:00.000Z');
    expect(south?.description).toContain('Newfoundland Time, UTC-2:30');
    expect(String(south?.component.getFirstPropertyValue('geo'))).toBe('47.5,-52.7');
  });

  it('names no person, and carries no address, phone or attendee', async () => {
    for (const [kind, key] of [
      ['crew', 'north'],
      ['site', 'hill'],
      ['season', 'small'],
      ['person', 'ana'],
    ] as const) {
      const text = await (await follow(await make(manager, kind, key))).text();
      const plain = text.replace(/\r\n[ \t]/g, '');
      // The calendar of a person has that one's own name, as its title.
      const others = kind === 'person' ? /Ben|Quill|Cat|Ashby|DOV/ : /Ana|Marlow|Ben|Quill|Cat|Ashby|DOV/;
      expect(plain).not.toMatch(others);
      expect(plain).not.toMatch(/ATTENDEE|ORGANIZER|mailto|\+1506|hill-school/);
      expect(plain).not.toMatch(/[a-z]@example\.org/);
      expect(plain).toContain('planning aids');
    }
  });
});

describe('the calendar of a person', () => {
  it('is made by that person alone, shows what is not answered yet, and reminds', async () => {
    const crew = await stage.signIn('crew', 'ana');
    for (const [kind, key] of [
      ['person', 'ben'],
      ['crew', 'north'],
      ['site', 'hill'],
      ['season', 'small'],
    ] as const) {
      const refused = await call(crew.token, 'POST', '/api/v1/calendar-feeds', {
        season: 'small',
        kind,
        key,
      });
      expect(refused.status).toBe(404);
    }
    const feed = await make(crew.token, 'person', 'ana');
    const [first] = await eventsOf(feed);
    const row = await stage.db.client.assignment.findFirstOrThrow({
      where: { person: 'ana', visit: { job: 'hill-build' } },
    });
    expect(first?.uid).toBe(row.icalUid);
    expect(first?.component.getFirstPropertyValue('status')).toBe('TENTATIVE');
    expect(first?.component.getAllSubcomponents('valarm').length).toBe(1);
    const { organisationId } = stage;
    const answer = {
      organisationId,
      subjectKind: 'assignment',
      subjectId: row.id,
      actor,
      now,
      mailDomain,
    } as const;
    await recordManagerAnswer(stage.db, { ...answer, answer: 'accepted' });
    expect((await eventsOf(feed))[0]?.component.getFirstPropertyValue('status')).toBe('CONFIRMED');
    await recordManagerAnswer(stage.db, { ...answer, answer: 'declined' });
    expect((await eventsOf(feed)).map((event) => event.summary)).toEqual(['Build: Dome at lake']);
  });

  it('ends when the account ends', async () => {
    const { token, account } = await stage.signIn('crew', 'ben');
    const feed = await make(token, 'person', 'ben');
    expect((await follow(feed)).status).toBe(200);
    const { organisationId } = stage;
    await revokeUser(stage.db, { organisationId, id: account.id, version: account.version, actor });
    expect((await follow(feed)).status).toBe(404);
  });
});

describe('the address of a calendar', () => {
  it('is kept as a hash alone, and shown once', async () => {
    const feed = await make(manager, 'season', 'small');
    const token = /\/calendar\/([A-Za-z0-9_-]{43})\.ics$/.exec(feed.url)?.[1] as string;
    const kept = await stage.db.client.actionLink.findUniqueOrThrow({ where: { id: feed.id } });
    expect(kept.tokenHash).toBe(hashToken(token));
    expect(
      JSON.stringify(await stage.db.client.auditRow.findMany({ where: { subjectId: feed.id } }), big),
    ).not.toContain(token);
    const list = (await (await call(manager, 'GET', '/api/v1/calendar-feeds')).json()) as { items: Feed[] };
    expect(list.items).toContainEqual(
      expect.objectContaining({ id: feed.id, kind: 'season', key: 'small', url: null }),
    );
    expect((await eventsOf(feed)).length).toBe(3);
  });

  it('stops working when it is made anew or withdrawn', async () => {
    const old = await make(manager, 'site', 'hill');
    const fresh = await make(manager, 'site', 'hill');
    expect([(await follow(old)).status, (await follow(fresh)).status]).toEqual([404, 200]);
    const crew = await stage.signIn('crew', 'cat');
    expect((await call(crew.token, 'DELETE', `/api/v1/calendar-feeds/${fresh.id}`)).status).toBe(404);
    expect((await follow(fresh)).status).toBe(200);
    expect((await call(manager, 'DELETE', `/api/v1/calendar-feeds/${fresh.id}`)).status).toBe(204);
    expect((await follow(fresh)).status).toBe(404);
  });

  it('lists to a crew member the own ones alone', async () => {
    const crew = await stage.signIn('crew', 'cat');
    const own = await make(crew.token, 'person', 'cat');
    const list = (await (await call(crew.token, 'GET', '/api/v1/calendar-feeds')).json()) as {
      items: Feed[];
    };
    expect(list.items.map(({ id }) => id)).toEqual([own.id]);
  });

  it('answers "not changed" to a reader that has it, and anew after a change', async () => {
    const feed = await make(manager, 'crew', 'north');
    const first = await follow(feed);
    const etag = first.headers.get('etag') as string;
    expect(etag).toMatch(/^"[A-Za-z0-9_-]+"$/);
    expect(first.headers.get('cache-control')).toBe('private, no-cache');
    expect(first.headers.get('referrer-policy')).toBe('no-referrer');
    const again = await follow(feed, { 'if-none-match': etag });
    expect([again.status, await again.text()]).toEqual([304, '']);
    await publish(stage, [{ ...hill, days: ['2026-06-10', '2026-06-11'], reserve: [] }, cape, lake]);
    const after = await follow(feed, { 'if-none-match': etag });
    expect(after.status).toBe(200);
    const [moved] = await eventsOf(feed);
    expect([moved?.startDate.toString(), moved?.sequence]).toEqual(['2026-06-10', 1]);
  });

  it('is refused for what does not exist, and to somebody without an account', async () => {
    const make404 = (kind: string, key: string, season = 'small') =>
      call(manager, 'POST', '/api/v1/calendar-feeds', { season, kind, key });
    expect((await make404('crew', 'nobody')).status).toBe(404);
    expect((await make404('crew', 'north', 'elsewhere')).status).toBe(404);
    expect((await make404('season', 'north')).status).toBe(404);
    expect((await make404('planet', 'north')).status).toBe(422);
    expect((await fetch(`${stage.origin}/calendar/${'x'.repeat(43)}.ics`)).status).toBe(404);
    expect((await fetch(`${stage.origin}/calendar/short.ics`)).status).toBe(404);
    expect((await fetch(`${stage.origin}/api/v1/calendar-feeds`)).status).toBe(401);
  });

  it('expires', async () => {
    const feed = await make(manager, 'crew', 'south');
    stage.clock.set('2027-12-01T00:00:00.000Z');
    expect((await follow(feed)).status).toBe(404);
    stage.clock.set(now);
  });
});

function big(_key: string, value: unknown): unknown {
  return typeof value === 'bigint' ? String(value) : value;
}
