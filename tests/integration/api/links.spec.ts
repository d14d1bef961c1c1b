import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { newSecret } from '../../../apps/api/src/frame/secret-token.ts';
import { createLink, linkToken } from '../../../libs/data/src/action-link.repository.ts';
import { ensureOrganisation } from '../../../libs/data/src/organisation.repository.ts';
import { applyImport } from '../../../libs/data/src/season-import.repository.ts';
import { setVisitState } from '../../../libs/data/src/visit.repository.ts';
import type { Instant } from '../../../libs/kernel/src/index.ts';
import { smallSeasonFile } from '../data/small-season.ts';
import { actor, hill, linkSecret, now, publish } from '../data/stage.ts';
import { type ApiStage, formOf, open, openApiStage, send } from './links-stage.ts';

const cape = { job: 'cape-build', crew: 'south', days: ['2026-06-15', '2026-06-16'] };
let stage: ApiStage;
let manager: string;

beforeAll(async () => {
  stage = await openApiStage();
  await publish(stage, [hill, cape]);
  manager = (await stage.signIn('manager', null)).token;
}, 120_000);

afterAll(() => stage.close());

const asManager = (path: string, init: RequestInit = {}) =>
  fetch(`${stage.origin}${path}`, {
    ...init,
    headers: { authorization: `Bearer ${manager}`, ...init.headers },
  });
const whatNext = async (): Promise<{ kind: string; title: string; subjectId: string }[]> =>
  ((await (await asManager('/api/v1/what-next')).json()) as { items: never[] }).items;
const assignmentOf = (person: string) =>
  stage.db.client.assignment.findFirstOrThrow({ where: { person, visit: { job: 'hill-build' } } });
const counts = async () => ({
  confirmations: await stage.db.client.confirmation.count(),
  audit: await stage.db.client.auditRow.count(),
  deliveries: await stage.db.client.delivery.count(),
  used: await stage.db.client.actionLink.count({ where: { usedAt: { not: null } } }),
});

describe('the page of a crew member', () => {
  it('says where, when in the time of the site, with whom, with what, and what to beware of', async () => {
    const { status, text, headers } = await open(stage, await stage.token('crew-assignment', 'ana'));
    expect(status).toBe(200);
    expect(headers.get('cache-control')).toBe('no-store');
    expect(headers.get('referrer-policy')).toBe('no-referrer');
    expect(headers.get('content-security-policy')).toContain("default-src 'none'");
    expect(text).toContain('<meta name="robots" content="noindex">');
    expect(text).toContain('Hello Ana.');
    expect(text).toContain('Site hill');
    expect(text).toContain('Monday, June 8, 2026, 8:00 AM to 4:00 PM, outside work');
    expect(text).toContain('Tuesday, June 9, 2026');
    // Halifax keeps summer time in June: three hours behind UTC (IANA time zone data).
    expect(text).toContain('Atlantic Time, UTC-3');
    expect(text).toContain('in reserve for weather: Wednesday, June 10, 2026');
    expect(text).toContain('Dome 6 m');
    expect(text).toContain('Crane 1 (Mobile crane), not confirmed yet; gust limit not known yet');
    expect(text).toContain('Trailer 1');
    expect(text).toContain('planning aids');
    expect(text).not.toMatch(/<script/i);
  });

  it('names others by first name alone, and shows no phone, address or markup of theirs', async () => {
    const { text } = await open(stage, await stage.token('crew-assignment', 'ana'));
    expect(text).toContain('<dt>With whom</dt><dd>Ben</dd>');
    expect(text).not.toMatch(/Quill|<b>|\+1506|@example\.org/);
  });

  it('is changed by nobody who only opens it, however often', async () => {
    const token = await stage.token('crew-assignment', 'ana');
    const before = await counts();
    const address = `${stage.origin}/l/${token}?utm_source=scanner&kept=0`;
    for (const method of ['GET', 'HEAD', 'GET']) expect((await fetch(address, { method })).status).toBe(200);
    expect(await counts()).toEqual(before);
  });

  it('keeps a yes, audited, and shows it', async () => {
    const token = await stage.token('crew-assignment', 'ana');
    const form = formOf((await open(stage, token)).text, 'assignment');
    const answer = await send(stage, token, { ...form, answer: 'accepted', note: '' });
    expect([answer.status, answer.headers.get('location')]).toEqual([303, `/l/${token}?kept=1`]);
    const page = await (await fetch(`${stage.origin}/l/${token}?kept=1`)).text();
    expect(page).toContain('Your answer is kept');
    expect(page).toMatch(
      /Your answer: <strong>yes<\/strong> \(Friday, May 1, 2026, 9:00 AM \(Atlantic Time, UTC-3\)\)/,
    );
    expect(page).toContain('value="accepted" checked');
    const row = await assignmentOf('ana');
    expect(row.state).toBe('accepted');
    const audit = await stage.db.client.auditRow.findFirst({
      where: { subjectId: row.id, actorKind: 'link' },
    });
    expect(audit).toMatchObject({ action: 'assignment.answered', actorName: 'person ana' });
    expect((await whatNext()).map((item) => item.subjectId)).not.toContain(row.id);
  });

  it('takes the same answer again, even twice at once, as one', async () => {
    const token = await stage.token('crew-assignment', 'ana');
    const form = formOf((await open(stage, token)).text, 'assignment');
    const before = await counts();
    const twice = [1, 2].map(() => send(stage, token, { ...form, answer: 'accepted', note: '' }));
    expect((await Promise.all(twice)).map((response) => response.status)).toEqual([303, 303]);
    expect(await counts()).toEqual(before);
  });

  it('asks for the reason of a no at the field, and keeps nothing without it', async () => {
    const token = await stage.token('crew-assignment', 'ana');
    const form = formOf((await open(stage, token)).text, 'assignment');
    const answer = await send(stage, token, { ...form, answer: 'declined', note: '   ' });
    const page = await answer.text();
    expect(answer.status).toBe(422);
    expect(page).toContain('<title>Please mend: ');
    expect(page).toContain('<a href="#note">Write the reason');
    expect(page).toMatch(/<textarea id="note"[^>]* aria-invalid="true" aria-describedby="note-fault"/);
    expect(page).toContain('id="note-fault"');
    expect(page).toContain('value="declined" checked');
    expect((await assignmentOf('ana')).state).toBe('accepted');
  });

  it('lets the answer be changed, keeps each, and tells the manager of the no', async () => {
    const token = await stage.token('crew-assignment', 'ana');
    const form = formOf((await open(stage, token)).text, 'assignment');
    const note = 'My <sister> & I marry';
    expect((await send(stage, token, { ...form, answer: 'declined', note })).status).toBe(303);
    const row = await assignmentOf('ana');
    expect(row).toMatchObject({ state: 'declined', answerNote: note });
    const kept = await stage.db.client.confirmation.findMany({
      where: { subjectId: row.id },
      orderBy: { at: 'asc' },
    });
    expect(kept.map((each) => each.answer)).toEqual(['accepted', 'declined']);
    expect(await whatNext()).toContainEqual(
      expect.objectContaining({
        kind: 'assignment-declined',
        subjectId: row.id,
        title: expect.stringContaining(note),
      }),
    );
    expect((await open(stage, token)).text).toContain('Your reason: My &lt;sister&gt; &amp; I marry');
  });

  it.each([
    ['no answer', { answer: '' }, 422],
    ['an answer that is not offered', { answer: 'proposed' }, 422],
    ['a reason that is far too long', { answer: 'declined', note: 'x'.repeat(1500) }, 422],
    ['days that are no longer asked for', { answer: 'accepted', shown: '2026-06-01/2026-06-02' }, 409],
    ['a mark that is not ours', { answer: 'accepted', mark: 'x'.repeat(43) }, 403],
  ])('refuses %s', async (_what, fields, status) => {
    const token = await stage.token('crew-assignment', 'ben');
    const form = formOf((await open(stage, token)).text, 'assignment');
    const answer = await send(stage, token, { ...form, note: 'because', ...fields });
    expect(answer.status).toBe(status);
    expect(answer.headers.get('content-type')).toContain('text/html');
    expect((await assignmentOf('ben')).state).toBe('asked');
  });

  it('refuses a form that another site or another link made', async () => {
    const token = await stage.token('crew-assignment', 'ben');
    const own = formOf((await open(stage, token)).text, 'assignment');
    const other = formOf((await open(stage, await stage.token('crew-assignment', 'ana'))).text, 'assignment');
    const yes = { answer: 'accepted' };
    expect((await send(stage, token, { ...own, ...yes }, { 'sec-fetch-site': 'cross-site' })).status).toBe(
      403,
    );
    expect((await send(stage, token, { ...own, ...yes, mark: other['mark'] as string })).status).toBe(403);
    expect((await assignmentOf('ben')).state).toBe('asked');
  });

  it('says from the first day on that it is too late, and where to turn', async () => {
    const token = await stage.token('crew-assignment', 'ben');
    const form = formOf((await open(stage, token)).text, 'assignment');
    // Half an hour past midnight of the first day in Halifax, which is 03:30 UTC.
    stage.clock.set('2026-06-08T03:30:00.000Z');
    const page = await open(stage, token);
    expect(page.status).toBe(200);
    expect(page.text).toContain('Please telephone');
    expect(page.text).not.toContain('<form');
    const late = await send(stage, token, { ...form, answer: 'accepted' });
    expect(late.status).toBe(409);
    expect(await late.text()).toContain('was not kept');
    expect((await assignmentOf('ben')).state).toBe('asked');
    stage.clock.set(now);
  });

  it('takes no answer to a visit that has begun', async () => {
    const token = await stage.token('crew-assignment', 'cat');
    const { id, version } = await stage.db.client.visit.findFirstOrThrow({ where: { job: 'cape-build' } });
    const form = formOf((await open(stage, token)).text, 'assignment');
    const { organisationId } = stage;
    await setVisitState(stage.db, { organisationId, visitId: id, version, state: 'underway', actor });
    expect((await send(stage, token, { ...form, answer: 'accepted' })).status).toBe(409);
  });
});

describe('the page of a partner', () => {
  it('of lift hire says each unknown figure, takes a yes with a reference, and shows it', async () => {
    const token = await stage.token('partner-confirm', 'hoist');
    const page = await open(stage, token);
    expect(page.text).toContain('<dt>Heaviest part</dt><dd>310 kg</dd>');
    expect(page.text).toContain('<dt>Hook height</dt><dd>7 m</dd>');
    expect(page.text).toContain('<dt>Reach from the machine</dt><dd>not known yet');
    expect(page.text).toContain('load chart');
    const form = formOf(page.text, 'liftHold');
    const answer = { ...form, answer: 'accepted', reference: 'HH-1182', note: '' };
    expect((await send(stage, token, answer)).status).toBe(303);
    const hold = await stage.db.client.liftHold.findFirstOrThrow({});
    expect(hold).toMatchObject({ state: 'confirmed', reference: 'HH-1182' });
    const after = (await open(stage, token)).text;
    expect(after).toContain('Your answer: <strong>confirmed</strong>');
    expect(after).toContain('Your reference: HH-1182');
    expect((await whatNext()).map((item) => item.subjectId)).not.toContain(hold.id);
  });

  it('of a haulier takes another day, and the manager sees it', async () => {
    const token = await stage.token('partner-confirm', 'haul');
    const page = await open(stage, token);
    expect(page.text).toContain('Friday, June 5, 2026, between 8:00 AM and 12:00 PM');
    const form = formOf(page.text, 'deliveryRun');
    for (const [proposedDay, words] of [
      ['', 'Say which day'],
      ['2026-02-30', 'Say which day'],
      ['2026-04-30', 'still to come'],
      ['2028-06-05', 'within the next year'],
      ['2026-06-05', 'the day we asked for'],
    ] as const) {
      const refused = await send(stage, token, { ...form, answer: 'proposed', proposedDay });
      expect([refused.status, await refused.text()]).toEqual([422, expect.stringContaining(words)]);
    }
    const wish = { ...form, answer: 'proposed', proposedDay: '2026-06-04', note: 'lorry is away on Friday' };
    expect((await send(stage, token, wish)).status).toBe(303);
    const run = await stage.db.client.deliveryRun.findFirstOrThrow({});
    expect(run.state).toBe('asked');
    expect(await whatNext()).toContainEqual(
      expect.objectContaining({
        kind: 'other-date-proposed',
        subjectId: run.id,
        title: expect.stringMatching(/2026-06-04.*lorry is away/),
      }),
    );
    const after = (await open(stage, token)).text;
    expect(after).toContain('another day would suit');
    expect(after).toContain('First day: Thursday, June 4, 2026');
  });

  it('takes a no only with its reason, after which somebody else must be found', async () => {
    const token = await stage.token('partner-confirm', 'haul');
    const form = formOf((await open(stage, token)).text, 'deliveryRun');
    expect((await send(stage, token, { ...form, answer: 'declined' })).status).toBe(422);
    const no = { ...form, answer: 'declined', note: 'no driver' };
    expect((await send(stage, token, no)).status).toBe(303);
    const run = await stage.db.client.deliveryRun.findFirstOrThrow({});
    expect(run.state).toBe('needed');
    expect(await whatNext()).toContainEqual(
      expect.objectContaining({ kind: 'delivery-run-unconfirmed', subjectId: run.id }),
    );
  });
});

describe('a link that opens nothing', () => {
  const page = async (token: string) => {
    const { status, text, headers } = await open(stage, token);
    expect(headers.get('content-type')).toContain('text/html');
    expect(headers.get('cache-control')).toBe('no-store');
    expect(headers.get('referrer-policy')).toBe('no-referrer');
    expect(text).toContain('What to do');
    expect(text).not.toMatch(/Site hill|Ana|Hoist/);
    return [status, text] as const;
  };

  it('because nobody made it, or half of it is missing, is not found', async () => {
    expect(await page(newSecret())).toEqual([404, expect.stringContaining('copy the whole of it')]);
    const half = (await stage.token('crew-assignment', 'ben')).slice(0, 20);
    expect(await page(half)).toEqual([404, expect.stringContaining('copy the whole of it')]);
  });

  it('because it has expired is gone, and takes no answer', async () => {
    const token = await stage.token('partner-confirm', 'hoist');
    const form = formOf((await open(stage, token)).text, 'liftHold');
    stage.clock.set('2026-06-11T03:30:00.000Z');
    expect(await page(token)).toEqual([410, expect.stringContaining('lies in the past')]);
    expect((await send(stage, token, { ...form, answer: 'declined', note: 'no' })).status).toBe(410);
    stage.clock.set(now);
  });

  it('because a newer plan was published sends the reader to the newest message', async () => {
    const old = await stage.token('crew-assignment', 'ben');
    const answered = await stage.token('crew-assignment', 'ana');
    const moved = { ...hill, days: ['2026-06-09', '2026-06-10'], reserve: ['2026-06-11'] };
    await publish(stage, [moved, cape]);
    expect(await page(old)).toEqual([410, expect.stringContaining('the newest message')]);
    expect(await page(answered)).toEqual([410, expect.stringContaining('the newest message')]);
    const fresh = await open(stage, await stage.token('crew-assignment', 'ana'));
    expect(fresh.text).toContain('You have not answered yet.');
    expect(fresh.text).toContain('Tuesday, June 9, 2026');
  });

  it('because the manager withdrew it, as the list then shows', async () => {
    const token = await stage.token('crew-assignment', 'ben');
    const ids: string[] = [];
    for (let cursor = ''; ; ) {
      const list = await asManager(`/api/v1/links?purpose=crew-assignment&open=true&limit=1${cursor}`);
      const page = (await list.json()) as { items: { id: string }[]; nextCursor: string | null };
      expect(JSON.stringify(page)).not.toMatch(/token|hash/i);
      ids.push(...page.items.map((link) => link.id));
      if (page.nextCursor === null) break;
      cursor = `&cursor=${encodeURIComponent(page.nextCursor)}`;
    }
    // Two people at the hill, two at the cape; the older links of the hill are over.
    expect(ids.length).toBe(4);
    expect(ids.map((id) => linkToken(linkSecret, id))).toContain(token);
    for (const id of ids) {
      const revoked = await asManager(`/api/v1/links/${id}/revoke`, { method: 'POST' });
      expect([revoked.status, await revoked.json()]).toEqual([
        200,
        expect.objectContaining({ id, revokedAt: expect.any(String) }),
      ]);
    }
    expect(await page(token)).toEqual([410, expect.stringContaining('It was withdrawn')]);
    const left = await asManager('/api/v1/links?purpose=crew-assignment&open=true');
    expect(await left.json()).toEqual({ items: [], nextCursor: null });
    expect(await stage.db.client.auditRow.count({ where: { action: 'link.revoked' } })).toBe(4);
  });

  it('because it is for a calendar is not a page', async () => {
    const { organisationId, seasonId } = stage;
    const input = {
      organisationId,
      seasonId,
      purpose: 'calendar-feed',
      subjectKind: 'season',
      subjectId: seasonId,
    };
    const recipient = { kind: 'user', key: 'x' } as const;
    const expiresAt = '2027-01-01T00:00:00.000Z' as Instant;
    const id = await createLink(stage.db.client, { ...input, recipient, expiresAt }, linkSecret);
    expect((await open(stage, linkToken(linkSecret, id))).status).toBe(410);
  });
});

describe('another firm', () => {
  it('sees and withdraws none of these links, and a link into another firm’s visit opens nothing', async () => {
    const other = { key: 'other', name: 'Heron Huts (invented)', zone: 'America/Halifax', isDemo: true };
    const organisationId = (await ensureOrganisation(stage.db, other, actor)).id;
    await applyImport(stage.db, organisationId, smallSeasonFile(), actor);
    const stranger = await stage.signIn('manager', null);
    await stage.db.client.membership.update({
      where: { id: stranger.account.id },
      data: { organisationId },
    });
    const headers = { authorization: `Bearer ${stranger.token}` };
    const list = await (await fetch(`${stage.origin}/api/v1/links`, { headers })).json();
    expect(list).toEqual({ items: [], nextCursor: null });
    const { id } = await stage.db.client.actionLink.findFirstOrThrow({ where: { revokedAt: null } });
    const revoke = await fetch(`${stage.origin}/api/v1/links/${id}/revoke`, { method: 'POST', headers });
    expect(revoke.status).toBe(404);
    const { id: subjectId } = await assignmentOf('ana');
    const forged = await createLink(
      stage.db.client,
      {
        organisationId,
        seasonId: null,
        purpose: 'crew-assignment',
        subjectKind: 'assignment',
        subjectId,
        recipient: { kind: 'person', key: 'ana' },
        expiresAt: '2027-01-01T00:00:00.000Z' as Instant,
      },
      linkSecret,
    );
    expect((await open(stage, linkToken(linkSecret, forged))).status).toBe(410);
  });
});

describe('guessing', () => {
  it('is slowed down', async () => {
    const guarded = await openApiStage({ DRYSPELL_RATE_LINK_PER_MIN: '5' });
    const statuses = [];
    for (let i = 0; i < 6; i += 1) statuses.push((await open(guarded, newSecret())).status);
    expect(statuses).toEqual([404, 404, 404, 404, 404, 429]);
    await guarded.close();
  }, 60_000);
});
