import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { applyImport } from '../../../libs/data/src/season-import.repository.ts';
import { fullSeasonFile } from '../data/full-season.ts';
import { type ApiStage, actor, openApiStage } from './api-stage.ts';

const SMALL = '/api/v1/seasons/small';

describe('rows of the season’s tables', () => {
  let stage: ApiStage;
  beforeAll(async () => {
    stage = await openApiStage();
  }, 120_000);
  afterAll(async () => {
    await stage.close();
  });

  const get = (url: string) => stage.call('GET', url);
  const add = (table: string, row: object, headers: Record<string, string> = {}) =>
    stage.call('POST', `${SMALL}/${table}`, { body: row, headers });

  it('adds a row, shows it, changes only what is named, empties with null, and removes it', async () => {
    const made = await add('customers', {
      key: 'gull',
      name: 'Gull school',
      language: 'en',
      email: 'gull@example.org',
    });
    expect([made.status, made.headers['etag']]).toEqual([201, '"1"']);
    const changed = await stage.call('PATCH', `${SMALL}/customers/gull`, {
      body: { name: 'Gull Bay school', email: null },
      headers: { 'if-match': '"1"' },
    });
    expect(changed.body).toEqual({
      version: 2,
      row: { key: 'gull', name: 'Gull Bay school', language: 'en' },
    });
    expect((await get(`${SMALL}/customers/gull`)).headers['etag']).toBe('"2"');
    const stale = await stage.call('PATCH', `${SMALL}/customers/gull`, {
      body: { name: 'X' },
      headers: { 'if-match': '"1"' },
    });
    expect([stale.status, stale.body.code]).toEqual([412, 'version-conflict']);
    const gone = await stage.call('DELETE', `${SMALL}/customers/gull`, { headers: { 'if-match': '"2"' } });
    expect([gone.status, gone.text]).toEqual([204, '']);
    expect((await get(`${SMALL}/customers/gull`)).status).toBe(404);
    const audit = await get('/api/v1/audit?subjectKind=customers&limit=3');
    expect(audit.body.items.map((row: { action: string }) => row.action)).toEqual([
      'customers.removed',
      'customers.changed',
      'customers.added',
    ]);
    expect(audit.body.items[1]).toMatchObject({
      actor: { kind: 'user', name: 'manager of firm' },
      before: { name: 'Gull school' },
      after: { name: 'Gull Bay school' },
    });
  });

  it('refuses a row with each fault named, and keeps nothing of it', async () => {
    const refused = await add('sites', { key: 'bad key', name: '', lat: 200, colour: 'red' });
    expect(refused.status).toBe(422);
    const pointers = refused.body.errors.map((fault: { pointer: string }) => fault.pointer);
    for (const name of ['key', 'name', 'lat', 'lon', 'zone', 'customer', 'colour'])
      expect(pointers).toContain(`/body/${name}`);
    expect((await get(`${SMALL}/sites`)).body.items).toHaveLength(3);
  });

  it('refuses a reference to nothing, a key twice, and removing what others refer to', async () => {
    const ticket = { person: 'nobody', ticket: 'none', validFrom: '2026-01-01' };
    expect((await add('tickets', ticket)).body.code).toBe('invalid-input');
    expect((await add('customers', { key: 'hill-school', name: 'Again', language: 'en' })).body.code).toBe(
      'already-exists',
    );
    const site = await get(`${SMALL}/sites/hill`);
    const removal = await stage.call('DELETE', `${SMALL}/sites/hill`, {
      headers: { 'if-match': site.headers['etag'] as string },
    });
    expect([removal.status, removal.body.code]).toEqual([409, 'in-use']);
  });

  it('does not let anybody write what only publishing writes', async () => {
    const job = await get(`${SMALL}/jobs/hill-build`);
    const answer = await stage.call('PATCH', `${SMALL}/jobs/hill-build`, {
      body: { publishedStart: '2026-06-01' },
      headers: { 'if-match': job.headers['etag'] as string },
    });
    expect([answer.status, answer.body.errors[0].pointer]).toEqual([422, '/body/publishedStart']);
  });

  it('adds once however often the same request comes', async () => {
    const headers = { 'idempotency-key': randomUUID() };
    const row = { key: 'tern', name: 'Tern', language: 'en' };
    const first = await add('customers', row, headers);
    const again = await add('customers', row, headers);
    expect([again.status, again.text, again.headers['idempotency-replayed']]).toEqual([
      201,
      first.text,
      'true',
    ]);
    expect(again.headers['etag']).toBe('"1"');
    const other = await add('customers', { ...row, name: 'Other' }, headers);
    expect([other.status, other.body.code]).toEqual([422, 'repeat-differs']);
  });

  it('walks a list page by page in any order, each row once, also while rows are added', async () => {
    for (let i = 0; i < 11; i += 1) {
      const email = i % 3 === 0 ? {} : { email: `p${i % 4}@example.org` };
      await add('people', {
        key: `p-${i}`,
        name: `Person ${i % 5}`,
        language: 'en',
        kind: 'casual',
        ...email,
      });
    }
    const all = (await get(`${SMALL}/people?limit=200`)).body.items.length;
    for (const sort of ['', '&sort=name', '&sort=-name', '&sort=email', '&sort=-email']) {
      const seen: string[] = [];
      const values: (string | undefined)[] = [];
      let cursor = '';
      for (let page = 0; page < 20; page += 1) {
        const answer = await get(`${SMALL}/people?limit=3${sort}${cursor}`);
        expect(answer.status).toBe(200);
        for (const { row } of answer.body.items) {
          seen.push(row.key);
          values.push(row[sort.replace(/&sort=-?/, '')]);
        }
        if (answer.body.nextCursor === null) break;
        cursor = `&cursor=${encodeURIComponent(answer.body.nextCursor)}`;
      }
      expect(seen.length).toBe(all);
      expect(new Set(seen).size).toBe(all);
      if (sort.includes('name') || sort.includes('email')) {
        const filled = values.filter((value) => value !== undefined) as string[];
        const inOrder = [...filled].sort((a, b) => (a < b ? -1 : 1));
        expect(filled).toEqual(sort.includes('-') ? inOrder.reverse() : inOrder);
        // Empty cells come last in either direction.
        expect(values.slice(0, filled.length)).toEqual(filled);
      }
    }
  });

  it('refuses a cursor that is altered or belongs to another list', async () => {
    const { nextCursor } = (await get(`${SMALL}/people?limit=2`)).body;
    for (const url of [
      `${SMALL}/people?limit=2&cursor=${nextCursor}x`,
      `${SMALL}/people?limit=2&sort=name&cursor=${nextCursor}`,
      `${SMALL}/sites?limit=2&cursor=${nextCursor}`,
    ]) {
      const answer = await get(url);
      expect([answer.status, answer.body.errors[0].pointer]).toEqual([422, '/query/cursor']);
    }
  });

  it('narrows a list by references, choices and yes or no', async () => {
    const items = await get(`${SMALL}/readiness-items?job=hill-build&state=open&mustBeTrue=true`);
    expect(items.body.items.map(({ row }: { row: { key: string } }) => row.key)).toEqual([
      'level',
      'pad',
      'power',
    ]);
    expect((await get(`${SMALL}/readiness-items?state=claimed`)).body.items).toEqual([]);
    expect((await get(`${SMALL}/readiness-items?state=nearly`)).status).toBe(422);
  });

  it('finds every row of every table by the key in its address', async () => {
    await applyImport(stage.db, stage.firm.organisationId, fullSeasonFile(), actor);
    const milestone = (await get('/api/v1/seasons/one/milestones')).body.items[0].row;
    expect(
      [milestone.consignment ?? null, milestone.container ?? null].filter((value) => value === null),
    ).toHaveLength(1);
    const address = [milestone.consignment ?? '-', milestone.container ?? '-', milestone.kind].join('/');
    expect((await get(`/api/v1/seasons/one/milestones/${address}`)).body.row).toEqual(milestone);
  });
});
