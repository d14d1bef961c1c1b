import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { getSeason } from '../../../libs/data/src/season.repository.ts';
import { changeRow, findRow } from '../../../libs/data/src/season-rows.repository.ts';
import { actor, hill, now, publish } from '../data/stage.ts';
import { type ApiStage, formOf, open, openApiStage, send } from './links-stage.ts';

let stage: ApiStage;
let token: string;
let manager: string;

beforeAll(async () => {
  stage = await openApiStage();
  await publish(stage, [hill]);
  token = await stage.token('readiness', 'hill-school');
  manager = (await stage.signIn('manager', null)).token;
}, 120_000);

afterAll(() => stage.close());

const item = (key: string) =>
  stage.db.client.readinessItem.findFirstOrThrow({ where: { job: 'hill-build', key } });
const itemsForm = async () => formOf((await open(stage, token)).text, 'items');
const answersTo = async (key: string) =>
  stage.db.client.confirmation.findMany({
    where: { subjectId: (await item(key)).id },
    orderBy: { at: 'asc' },
  });
/** What the page says about one item. */
async function partOf(key: string): Promise<string> {
  const { id } = await item(key);
  const { text } = await open(stage, token);
  const found = new RegExp(`<(fieldset|section)[^>]* id="item-${id}"[\\s\\S]*?</\\1>`).exec(text);
  return found?.[0] ?? '';
}
/** What the office does by the interface. */
async function judge(key: string, as: string, remark: string | null): Promise<number> {
  const { version } = await item(key);
  const response = await fetch(
    `${stage.origin}/api/v1/seasons/small/readiness-items/hill-build/${key}/judgement`,
    {
      method: 'POST',
      headers: {
        authorization: `Bearer ${manager}`,
        'content-type': 'application/json',
        'if-match': `"${version}"`,
      },
      body: JSON.stringify({ as, remark }),
    },
  );
  return response.status;
}
const whatNext = async () => {
  const headers = { authorization: `Bearer ${manager}` };
  const answer = await fetch(`${stage.origin}/api/v1/what-next`, { headers });
  return ((await answer.json()) as { items: { kind: string; subjectId: string; title: string }[] }).items;
};

describe('the list of what must be ready', () => {
  it('shows each item with its day, its limits and its state, and calls nothing ready that is not known to be', async () => {
    const { status, text } = await open(stage, token);
    expect(status).toBe(200);
    expect(text).toContain('0 of 4 settled, 0 told and not looked at yet, 4 still to do.');
    // Due 14 days before Monday, June 8, 2026.
    expect(await partOf('level')).toContain('Due by Monday, May 25, 2026.');
    expect(await partOf('level')).toContain('Measured value in mm (from -3 to 3 mm)');
    expect(await partOf('pad')).toContain('<strong>Still to do</strong>');
    expect(await partOf('photo')).toContain('attach it');
    expect(await partOf('photo')).not.toContain('<input');
    expect(text).not.toMatch(/ checked/);
    expect(text).not.toMatch(/<script/i);
  });

  it('says what is overdue', async () => {
    stage.clock.set('2026-05-26T12:00:00.000Z');
    expect(await partOf('pad')).toContain('Was due by Monday, May 25, 2026: overdue.');
    expect(await partOf('power')).not.toContain('overdue');
    stage.clock.set(now);
  });

  it('keeps nothing of a form of which a part is wrong, and says where', async () => {
    const { id: pad } = await item('pad');
    const { id: level } = await item('level');
    const form = {
      ...(await itemsForm()),
      ready: pad,
      [`value-${level}`]: 'about 2',
      [`note-${pad}`]: '"poured" <May>',
    };
    const answer = await send(stage, token, form);
    const page = await answer.text();
    expect(answer.status).toBe(422);
    expect(page).toContain(`<a href="#value-${level}">`);
    expect(page).toContain(`aria-describedby="value-${level}-fault"`);
    expect(page).toContain('value="about 2"');
    expect(page).toContain('&quot;poured&quot; &lt;May&gt;');
    expect(page).toMatch(new RegExp(`value="${pad}" checked`));
    expect((await item('pad')).state).toBe('open');
    expect(await answersTo('pad')).toEqual([]);
    const nothing = await send(stage, token, await itemsForm());
    expect([nothing.status, await nothing.text()]).toEqual([
      422,
      expect.stringContaining('Nothing was ticked'),
    ]);
  });

  it('takes one answer today and others later with the same link', async () => {
    const { id: pad } = await item('pad');
    const { id: power } = await item('power');
    const { id: level } = await item('level');
    expect((await send(stage, token, { ...(await itemsForm()), ready: pad })).status).toBe(303);
    expect((await item('pad')).state).toBe('claimed');
    expect(await partOf('pad')).toContain('We have not looked at it yet.');
    const later = { ...(await itemsForm()), ready: power, [`value-${level}`]: '2,5' };
    expect((await send(stage, token, later)).status).toBe(303);
    expect((await item('power')).state).toBe('claimed');
    expect(await item('level')).toMatchObject({ state: 'claimed', value: 2.5 });
    expect((await whatNext()).filter(({ kind }) => kind === 'readiness-claimed').length).toBe(3);
    const audit = await stage.db.client.auditRow.findMany({ where: { action: 'readinessItem.answered' } });
    expect(audit.map((row) => row.actorName)).toEqual(Array(3).fill('customer hill-school'));
  });

  it('takes the same form twice at once as one', async () => {
    const { id: level } = await item('level');
    const form = { ...(await itemsForm()), [`value-${level}`]: '2.5' };
    const both = await Promise.all([1, 2].map(() => send(stage, token, form)));
    expect(both.map((response) => response.status)).toEqual([303, 303]);
    expect((await answersTo('level')).length).toBe(1);
  });

  it('does not accept a figure outside its limits, and says why', async () => {
    const { id: level } = await item('level');
    expect((await send(stage, token, { ...(await itemsForm()), [`value-${level}`]: '−12' })).status).toBe(
      303,
    );
    expect(await item('level')).toMatchObject({ state: 'refused', value: -12 });
    expect(await partOf('level')).toContain('-12 mm is outside the limits: from -3 to 3 mm.');
    expect(await whatNext()).toContainEqual(
      expect.objectContaining({ kind: 'readiness-refused', subjectId: level }),
    );
  });

  it('shows the reason of the office when an item is returned, and takes it again', async () => {
    const { id: pad } = await item('pad');
    expect(await judge('pad', 'returned', 'The <edge> is cracked; see photo 3')).toBe(200);
    const part = await partOf('pad');
    expect(part).toContain('<strong>Not accepted yet</strong>');
    expect(part).toContain('We wrote: The &lt;edge&gt; is cracked; see photo 3');
    expect((await send(stage, token, { ...(await itemsForm()), ready: pad })).status).toBe(303);
    expect((await item('pad')).state).toBe('claimed');
    expect((await answersTo('pad')).length).toBe(2);
  });

  it('closes an item that was accepted, also to a page that was opened before', async () => {
    const { id: pad } = await item('pad');
    const before = { ...(await itemsForm()), unready: pad };
    expect(await judge('pad', 'accepted', null)).toBe(200);
    const late = await send(stage, token, before);
    expect(late.status).toBe(422);
    expect((await item('pad')).state).toBe('accepted');
    const part = await partOf('pad');
    expect(part).toContain('Accepted. Nothing more to do.');
    expect(part).not.toContain('<input');
    expect((await open(stage, token)).text).toContain('1 of 4 settled');
  });

  it('lets what was said be taken back, which the office hears of', async () => {
    const { id: power } = await item('power');
    const note = 'the cable was cut again';
    const form = { ...(await itemsForm()), unready: power, [`note-${power}`]: note };
    expect((await send(stage, token, form)).status).toBe(303);
    expect(await item('power')).toMatchObject({ state: 'open', remark: note, doneOn: null });
    expect((await answersTo('power')).map((row) => row.answer)).toEqual(['done', 'declined']);
    const told = await stage.db.client.delivery.findFirst({
      where: { template: 'answer-received' },
      orderBy: { createdAt: 'desc' },
    });
    expect(told?.data).toMatchObject({ answer: 'no', note });
  });

  it('takes no answer to an item of another job', async () => {
    const other = await stage.db.client.readinessItem.findFirstOrThrow({ where: { job: 'lake-build' } });
    const answer = await send(stage, token, { ...(await itemsForm()), ready: other.id });
    expect(answer.status).toBe(422);
    expect((await stage.db.client.readinessItem.findUniqueOrThrow({ where: { id: other.id } })).state).toBe(
      'open',
    );
  });

  it('takes a yes, another day, or a no to the dates, and the manager sees the wish', async () => {
    const dates = async () => formOf((await open(stage, token)).text, 'dates');
    expect((await send(stage, token, { ...(await dates()), answer: 'accepted' })).status).toBe(303);
    expect((await open(stage, token)).text).toContain('the dates suit you');
    const wish = {
      ...(await dates()),
      answer: 'proposed',
      proposedDay: '2026-06-22',
      note: 'exams until then',
    };
    expect((await send(stage, token, wish)).status).toBe(303);
    expect(await whatNext()).toContainEqual(
      expect.objectContaining({
        kind: 'other-date-proposed',
        title: expect.stringMatching(/2026-06-22.*exams/),
      }),
    );
    const page = (await open(stage, token)).text;
    expect(page).toContain('First day: Monday, June 22, 2026');
    const visit = await stage.db.client.visit.findFirstOrThrow({ where: { job: 'hill-build' } });
    expect(visit.startDay.toISOString()).toContain('2026-06-08');
  });

  it('goes on while the crew works, and is closed when the visit is called off', async () => {
    stage.clock.set('2026-06-08T15:00:00.000Z');
    const page = (await open(stage, token)).text;
    expect(() => formOf(page, 'dates')).toThrow();
    expect(formOf(page, 'items')).toHaveProperty('mark');
    const form = await itemsForm();
    await publish(stage, []);
    const off = await open(stage, token);
    expect(off.text).toContain('This was called off. You need not do anything.');
    expect(off.text).not.toContain('<form');
    const { id: power } = await item('power');
    expect((await send(stage, token, { ...form, ready: power })).status).toBe(409);
    expect((await item('power')).state).toBe('open');
    stage.clock.set(now);
  });

  it('shows only to its own customer: a site that changed hands opens nothing', async () => {
    await publish(stage, [hill]);
    const fresh = await stage.token('readiness', 'hill-school');
    const season = await getSeason(stage.db, stage.organisationId, 'small');
    const target = { seasonId: season.id, table: 'sites' } as const;
    const site = await findRow(stage.db, { ...target, key: { key: 'hill' } });
    await changeRow(stage.db, {
      ...target,
      id: site?.id as string,
      version: site?.version as number,
      changes: { customer: 'lake-school' },
      actor,
    });
    expect((await open(stage, fresh)).status).toBe(410);
  });
});
