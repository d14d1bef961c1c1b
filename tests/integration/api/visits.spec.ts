import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { type ApiStage, openApiStage } from './api-stage.ts';

interface Item {
  readonly kind: string;
  readonly title: string;
  readonly nextStep: string;
  readonly subjectId: string;
}

describe('visits, answers and what is next', () => {
  let stage: ApiStage;
  beforeAll(async () => {
    stage = await openApiStage();
    await stage.publish();
  }, 120_000);
  afterAll(async () => {
    await stage.close();
  });

  const whatNext = async (): Promise<Item[]> => (await stage.call('GET', '/api/v1/what-next')).body.items;
  const kinds = async () => (await whatNext()).map((item) => item.kind);
  const visitOf = async (job: string) =>
    (await stage.call('GET', '/api/v1/visits')).body.items.find(
      (visit: { job: string }) => visit.job === job,
    );

  it('lists what waits for others after publishing, the most pressing first', async () => {
    const items = await whatNext();
    const found = new Set(items.map((item) => item.kind));
    for (const kind of ['assignment-unanswered', 'lift-unconfirmed', 'delivery-run-unconfirmed'])
      expect(found).toContain(kind);
    for (const item of items) expect(item.nextStep.length).toBeGreaterThan(10);
    const due = (await stage.call('GET', '/api/v1/what-next')).body.items.map(
      (item: { dueOn: string | null }) => item.dueOn ?? '9999',
    );
    expect(due).toEqual([...due].sort());
  });

  it('keeps the answer of a crew member with an account, shows a "no" to the manager, and lets it be changed', async () => {
    const { tokens } = stage.firm;
    const [mine] = (await stage.call('GET', '/api/v1/assignments', { as: tokens.crew })).body.items;
    const answer = (word: string, note: string | null) =>
      stage.call('POST', `/api/v1/assignments/${mine.id}/answer`, {
        as: tokens.crew,
        body: { answer: word, note },
      });
    expect((await answer('declined', 'A wedding')).body).toMatchObject({
      state: 'declined',
      subjectKind: 'assignment',
    });
    const item = (await whatNext()).find(({ subjectId }) => subjectId === mine.id);
    expect(item).toMatchObject({
      kind: 'assignment-declined',
      title: 'ANA declined Dome at hill. They say: “A wedding”',
    });
    const [kept] = (await stage.call('GET', '/api/v1/answers')).body.items;
    expect(kept).toMatchObject({
      source: 'account',
      answer: 'declined',
      note: 'A wedding',
      about: 'ANA: Dome at hill',
    });
    const told = await stage.db.client.delivery.findMany({ where: { template: 'answer-received' } });
    expect(told.map((mail) => mail.address)).toEqual(['manager@firm.example.org']);
    // Who said no no longer sees the visit among the own; the assignment is still there to change the answer.
    expect((await stage.call('GET', '/api/v1/visits', { as: tokens.crew })).body.items).toEqual([]);
    expect((await answer('accepted', null)).body.state).toBe('accepted');
    expect(await kinds()).not.toContain('assignment-declined');
  });

  it('lets only the lead who accepted say that a visit has begun', async () => {
    const { tokens } = stage.firm;
    const visit = await visitOf('hill-build');
    const say = (as: string, state: string, version: number) =>
      stage.call('PATCH', `/api/v1/visits/${visit.id}`, {
        as,
        body: { state },
        headers: { 'if-match': `"${version}"` },
      });
    const begun = await say(tokens.crew, 'underway', visit.version);
    expect([begun.status, begun.body.state]).toEqual([200, 'underway']);
    expect((await say(tokens.crew, 'done', visit.version)).status).toBe(412);
    const back = await say(tokens.manager, 'planned', begun.body.version);
    expect(back.body.state).toBe('planned');
    const assignment = await stage.db.client.assignment.findFirstOrThrow({
      where: { seasonId: stage.firm.seasonId, person: 'ana' },
    });
    await stage.db.client.assignment.update({ where: { id: assignment.id }, data: { role: 'hand' } });
    const refused = await say(tokens.crew, 'underway', back.body.version);
    expect([refused.status, refused.body.code]).toEqual([403, 'not-allowed']);
  });

  it('shows the cautions, and never an unknown as harmless', async () => {
    const visit = await visitOf('hill-build');
    const { cautions, lifts } = (await stage.call('GET', `/api/v1/visits/${visit.id}`)).body;
    expect(lifts[0].maxGustMps).toBeNull();
    expect(cautions.join('\n')).toContain('The wind limit of Crane 1 is not known.');
    expect(cautions.join('\n')).toContain('planning aids');
  });

  it('takes the answer of a partner: another day, then yes', async () => {
    const { tokens } = stage.firm;
    const [request] = (await stage.call('GET', '/api/v1/my/requests', { as: tokens.partner })).body.items;
    const answer = (body: object) =>
      stage.call('POST', `/api/v1/requests/liftHold/${request.id}/answer`, { as: tokens.partner, body });
    expect((await answer({ answer: 'proposed' })).body.errors[0].pointer).toBe('/body/proposedDay');
    expect((await answer({ answer: 'proposed', proposedDay: '2026-06-15' })).status).toBe(200);
    expect(await kinds()).toContain('other-date-proposed');
    stage.clock.advanceMin(1);
    expect((await answer({ answer: 'accepted', reference: 'H-77' })).body.state).toBe('confirmed');
    const after = await kinds();
    expect(after).not.toContain('other-date-proposed');
    expect(after).not.toContain('lift-unconfirmed');
  });

  it('accepts, returns and waives readiness items, each from the states in which that makes sense', async () => {
    const url = '/api/v1/seasons/small/readiness-items/hill-build/pad';
    const judge = async (as: string, remark: string | null = null) => {
      const { headers } = await stage.call('GET', url);
      return stage.call('POST', `${url}/judgement`, {
        body: { as, remark },
        headers: { 'if-match': headers['etag'] as string },
      });
    };
    expect((await judge('returned')).body.errors[0].pointer).toBe('/body/remark');
    expect((await judge('returned', 'Not level')).body.code).toBe('state-conflict');
    const item = await stage.call('GET', url);
    const claim = { body: { state: 'claimed' }, headers: { 'if-match': item.headers['etag'] as string } };
    expect((await stage.call('PATCH', url, claim)).status).toBe(200);
    expect(await kinds()).toContain('readiness-claimed');
    expect((await judge('returned', 'Not level')).body.state).toBe('refused');
    expect(await kinds()).toContain('readiness-refused');
    expect((await judge('accepted')).body.state).toBe('accepted');
    expect((await judge('waived')).status).toBe(409);
  });

  it('says what is overdue when its day has passed', async () => {
    expect(await kinds()).not.toContain('readiness-overdue');
    stage.clock.advanceMin(38 * 24 * 60);
    expect(await kinds()).toContain('readiness-overdue');
    stage.clock.advanceMin(-38 * 24 * 60);
  });

  it('lets the manager decide on messages that did not go out by themselves', async () => {
    const [delivery] = (await stage.call('GET', '/api/v1/deliveries?state=pending&limit=1')).body.items;
    await stage.db.client.delivery.update({ where: { id: delivery.id }, data: { state: 'uncertain' } });
    expect(await kinds()).toContain('message-uncertain');
    const { headers } = await stage.call('GET', `/api/v1/deliveries/${delivery.id}`);
    const decide = (as: string, etag: string) =>
      stage.call('POST', `/api/v1/deliveries/${delivery.id}/decision`, {
        body: { as },
        headers: { 'if-match': etag },
      });
    const sent = await decide('arrived', headers['etag'] as string);
    expect([sent.status, sent.body.state]).toEqual([200, 'sent']);
    expect((await decide('send', sent.headers['etag'] as string)).body.code).toBe('state-conflict');
    const held = await stage.db.client.delivery.updateMany({
      where: { state: 'pending', address: { not: null }, organisationId: stage.firm.organisationId },
      data: { state: 'held' },
    });
    expect((await stage.call('POST', '/api/v1/deliveries/release-held')).body).toEqual({
      released: held.count,
    });
  });

  it('walks messages, assignments and the audit page by page, each once', async () => {
    for (const url of [
      '/api/v1/deliveries',
      '/api/v1/assignments',
      '/api/v1/audit',
      '/api/v1/links',
      '/api/v1/seasons/small/reminders',
      '/api/v1/visits',
    ]) {
      const seen: string[] = [];
      let cursor = '';
      do {
        const { body } = await stage.call('GET', `${url}?limit=2${cursor}`);
        seen.push(...body.items.map((item: { id: string }) => item.id));
        cursor = body.nextCursor === null ? '' : `&cursor=${encodeURIComponent(body.nextCursor)}`;
      } while (cursor !== '');
      const whole = (await stage.call('GET', `${url}?limit=200`)).body.items.map(
        (item: { id: string }) => item.id,
      );
      expect([url, seen]).toEqual([url, whole]);
      expect(new Set(seen).size).toBe(seen.length);
    }
  });
});
