import { randomUUID } from 'node:crypto';
import { afterAll, beforeEach, describe, expect, it } from '@jest/globals';
import { finishPlanRun, reportProgress, startPlanRun } from '../../../libs/data/src/plan-run.repository.ts';
import { apiPlan } from './api-season.ts';
import { type ApiStage, actor, openApiStage } from './api-stage.ts';

const SMALL = '/api/v1/seasons/small';

interface Event {
  readonly id: string;
  readonly name: string;
  readonly data: { readonly state: string; readonly progress: unknown; readonly version: number };
}

/** Reads server-sent events by the rules of the HTML standard, section 9.2.6: blocks end at an empty line. */
function eventsOf(text: string): Event[] {
  return text.split('\n\n').flatMap((block) => {
    const fields = new Map(
      block.split('\n').map((line) => [line.slice(0, line.indexOf(':')), line.slice(line.indexOf(':') + 2)]),
    );
    const data = fields.get('data');
    return data
      ? [{ id: fields.get('id') ?? '', name: fields.get('event') ?? '', data: JSON.parse(data) }]
      : [];
  });
}

describe('planning over HTTP', () => {
  let stage: ApiStage;
  beforeEach(async () => {
    await stage?.close();
    stage = await openApiStage();
  }, 120_000);
  afterAll(async () => {
    await stage.close();
  });

  const publishing = (planId: string, version: number, more: { key?: string; seen?: number } = {}) =>
    stage.call('POST', `${SMALL}/plans/${planId}/publish`, {
      body: { seasonChangesSeen: more.seen ?? 0 },
      headers: { 'if-match': `"${version}"`, 'idempotency-key': more.key ?? randomUUID() },
    });

  it('asks for a plan: a row, an outbox row with it, and an address to watch', async () => {
    const answer = await stage.call('POST', `${SMALL}/plan-runs`, { body: { seed: 7, iterations: 100 } });
    expect([answer.status, answer.body.state, answer.body.kind]).toEqual([202, 'queued', 'plan']);
    expect(answer.headers['location']).toBe(`${SMALL}/plan-runs/${answer.body.id}`);
    const outbox = await stage.db.client.outboxRow.findMany({ where: { topic: 'plan.run' } });
    expect(outbox.map((row) => row.payload)).toEqual([{ planRunId: answer.body.id }]);
    const stopped = await stage.call('POST', `${SMALL}/plan-runs/${answer.body.id}/stop`);
    expect([stopped.status, stopped.body.stopRequested]).toEqual([202, true]);
  });

  it('streams a run as it goes on, and only what is newer after a break', async () => {
    const { body: run } = await stage.call('POST', `${SMALL}/plan-runs`, { body: {} });
    const url = `${SMALL}/plan-runs/${run.id}/events`;
    const watching = stage.call('GET', url);
    const now = stage.clock.now();
    const pause = () => new Promise((resolve) => setTimeout(resolve, 1000));
    await pause();
    const work = await startPlanRun(stage.db, { id: run.id, now });
    await reportProgress(stage.db, { id: run.id, attempt: 1, progress: { share: 0.5 }, now });
    await pause();
    const draft = { seasonId: stage.firm.seasonId, plan: apiPlan(), actor };
    await finishPlanRun(stage.db, { id: run.id, attempt: work!.attempts, state: 'done', draft, now });
    const answer = await watching;
    expect(answer.headers['content-type']).toBe('text/event-stream; charset=utf-8');
    const events = eventsOf(answer.text);
    expect(events[0]).toMatchObject({ name: 'run', data: { state: 'queued' } });
    expect(events.map((event) => event.data.progress)).toContainEqual({ share: 0.5 });
    expect(events.at(-1)?.data.state).toBe('done');
    const versions = events.map((event) => Number(event.id));
    expect(versions).toEqual([...versions].sort((a, b) => a - b));
    const later = await stage.call('GET', url, { headers: { 'last-event-id': String(versions.at(-2)) } });
    expect(eventsOf(later.text).map((event) => event.data.state)).toEqual(['done']);
    expect(eventsOf((await stage.call('GET', url, { headers: { 'last-event-id': '999' } })).text)).toEqual(
      [],
    );
  }, 30_000);

  it('shows a draft with dates and what it would change', async () => {
    const plan = await stage.draft();
    const shown = await stage.call('GET', `${SMALL}/plans/${plan.id}`);
    expect(shown.headers['etag']).toBe(`"${plan.version}"`);
    expect(shown.body.visits[0]).toMatchObject({
      job: 'hill-build',
      days: ['2026-06-08', '2026-06-09'],
      reserve: ['2026-06-10'],
    });
    expect(shown.body).toMatchObject({ status: 'draft', currency: 'CAD', seasonChangesSince: 0 });
    const difference = await stage.call('GET', `${SMALL}/plans/${plan.id}/difference`);
    expect(difference.body).toMatchObject({ fromPlanId: null, unchanged: 0 });
    expect(difference.body.added.map((place: { job: string }) => place.job)).toEqual([
      'hill-build',
      'cape-build',
    ]);
  });

  it('publishes once: the same key again gives the same answer and nothing more', async () => {
    const plan = await stage.draft();
    const key = randomUUID();
    const first = await publishing(plan.id, plan.version, { key });
    expect([first.status, first.body.visits]).toEqual([
      200,
      { added: 2, changed: 0, cancelled: 0, unchanged: 0 },
    ]);
    const deliveries = await stage.db.client.delivery.count();
    const again = await publishing(plan.id, plan.version, { key });
    expect([again.status, again.text]).toEqual([200, first.text]);
    expect(await stage.db.client.delivery.count()).toBe(deliveries);
    const another = await publishing(plan.id, plan.version);
    expect(another.status).toBe(412);
    const third = await publishing(plan.id, plan.version + 1);
    expect([third.status, third.body.code]).toEqual([409, 'state-conflict']);
  });

  it('publishes once when two do it at the same moment', async () => {
    const plan = await stage.draft();
    const answers = await Promise.all([publishing(plan.id, plan.version), publishing(plan.id, plan.version)]);
    const statuses = answers.map((answer) => answer.status).sort();
    expect(statuses[0]).toBe(200);
    expect([409, 412]).toContain(statuses[1]);
    expect(
      await stage.db.client.plan.count({ where: { status: 'published', seasonId: stage.firm.seasonId } }),
    ).toBe(1);
  });

  it('wants the publisher to have seen what changed after the plan was drafted', async () => {
    const plan = await stage.draft();
    const site = await stage.call('GET', `${SMALL}/sites/hill`);
    const change = {
      body: { accessNotes: 'Gate at the back' },
      headers: { 'if-match': site.headers['etag'] as string },
    };
    expect((await stage.call('PATCH', `${SMALL}/sites/hill`, change)).status).toBe(200);
    const refused = await publishing(plan.id, plan.version);
    expect([refused.status, refused.body.facts]).toEqual([409, { seasonChangesSince: 1 }]);
    expect((await stage.call('GET', `${SMALL}/plans/${plan.id}`)).body.seasonChangesSince).toBe(1);
    expect((await publishing(plan.id, plan.version, { seen: 1 })).status).toBe(200);
  });

  it('keeps nothing of a plan that does not fit the season any more', async () => {
    const plan = await stage.draft();
    const job = await stage.call('GET', `${SMALL}/jobs/hill-build`);
    await stage.call('PATCH', `${SMALL}/jobs/hill-build`, {
      body: { template: null },
      headers: { 'if-match': job.headers['etag'] as string },
    });
    const answer = await publishing(plan.id, plan.version, { seen: 1 });
    expect([answer.status, answer.body.code]).toEqual([409, 'plan-not-valid']);
    expect(await stage.db.client.visit.count()).toBe(0);
    expect((await stage.call('GET', `${SMALL}/plans/${plan.id}`)).body.status).toBe('draft');
  });

  it('puts a draft away, and pins and unpins a job', async () => {
    const plan = await stage.draft();
    const discard = await stage.call('POST', `${SMALL}/plans/${plan.id}/discard`, {
      headers: { 'if-match': `"${plan.version}"` },
    });
    expect([discard.status, discard.body.status]).toEqual([200, 'discarded']);
    const job = await stage.call('GET', `${SMALL}/jobs/lake-build`);
    const pin = (body: object, etag: string) =>
      stage.call('PUT', `${SMALL}/pins/lake-build`, { body, headers: { 'if-match': etag } });
    const etag = job.headers['etag'] as string;
    expect((await pin({}, etag)).status).toBe(422);
    expect((await pin({ start: '2027-01-01' }, etag)).body.errors[0].pointer).toBe('/body/start');
    const pinned = await pin({ start: '2026-07-20', crew: 'south', reason: 'School is away' }, etag);
    expect(pinned.body).toMatchObject({
      job: 'lake-build',
      start: '2026-07-20',
      crew: 'south',
      reason: 'School is away',
    });
    expect((await stage.call('GET', `${SMALL}/jobs/lake-build`)).body.row.pinnedCrew).toBe('south');
    const out = await stage.call('DELETE', `${SMALL}/pins/lake-build`, {
      headers: { 'if-match': pinned.headers['etag'] as string },
    });
    expect(out.body).toMatchObject({ start: null, crew: null, reason: null });
  });
});
