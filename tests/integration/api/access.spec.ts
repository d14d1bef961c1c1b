import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { allEndpoints } from '../../../libs/contracts/src/http/all.ts';
import { type EndpointSpec, ROLES, type Role } from '../../../libs/contracts/src/http/endpoint.ts';
import { applyImport } from '../../../libs/data/src/season-import.repository.ts';
import { fullSeasonFile } from '../data/full-season.ts';
import { addressOf, caseOf, type FirmObjects, makeObjects } from './access-cases.ts';
import { type ApiStage, actor, openApiStage } from './api-stage.ts';

const restricted = allEndpoints.filter((endpoint) => Array.isArray(endpoint.access));
const rolesOf = (endpoint: EndpointSpec) => endpoint.access as readonly Role[];

/**
 * What a caller who may call an endpoint is told when the request itself is left incomplete on purpose, so that the walk changes
 * nothing: the answer shows that the guard let it pass.
 */
function incompleteStatus(endpoint: EndpointSpec): number {
  if (endpoint.body?.kind === 'file') return 415;
  if (endpoint.body) return 422;
  if (endpoint.etag === 'requires') return 428;
  return 0;
}

describe('who may call what', () => {
  let stage: ApiStage;
  let own: FirmObjects;
  let foreign: FirmObjects;

  beforeAll(async () => {
    stage = await openApiStage();
    for (const firm of [stage.firm, stage.other])
      await applyImport(stage.db, firm.organisationId, fullSeasonFile(), actor);
    own = await makeObjects(stage, stage.firm);
    foreign = await makeObjects(stage, stage.other);
  }, 120_000);
  afterAll(async () => {
    await stage.close();
  });

  const complete = (endpoint: EndpointSpec, params: Readonly<Record<string, string>>, as: string | null) => {
    const { body } = caseOf(endpoint);
    const headers = { 'if-match': '"999999"', 'idempotency-key': randomUUID() };
    return stage.call(endpoint.method, addressOf(endpoint, params), {
      as,
      headers,
      ...(endpoint.body ? { body: body ?? {} } : {}),
    });
  };

  it('knows how to call every endpoint', () => {
    expect(restricted.length).toBeGreaterThan(250);
    for (const endpoint of restricted) expect(() => caseOf(endpoint)).not.toThrow();
  });

  it.each(restricted.map((endpoint) => [endpoint.id, endpoint] as const))(
    '%s asks who it is',
    async (_id, endpoint) => {
      const params = caseOf(endpoint).params(own);
      expect((await complete(endpoint, params, null)).status).toBe(401);
      expect((await complete(endpoint, params, 'x'.repeat(43))).status).toBe(401);
    },
  );

  const beyond = restricted.flatMap((endpoint) =>
    ROLES.filter((role) => !rolesOf(endpoint).includes(role)).map(
      (role) => [endpoint.id, role, endpoint] as const,
    ),
  );
  it.each(beyond)('%s is not there for the role %s', async (_id, role, endpoint) => {
    const answer = await complete(endpoint, caseOf(endpoint).params(own), stage.firm.tokens[role]);
    expect([answer.status, answer.body.code]).toEqual([404, 'not-found']);
  });

  const within = restricted.flatMap((endpoint) =>
    rolesOf(endpoint).map((role) => [endpoint.id, role, endpoint] as const),
  );
  const readable = within.filter(([id, , endpoint]) => endpoint.method === 'GET' && id !== 'planRunEvents');
  it.each(readable)('%s answers the role %s about its own', async (_id, role, endpoint) => {
    const answer = await stage.call('GET', addressOf(endpoint, caseOf(endpoint).params(own)), {
      as: stage.firm.tokens[role],
    });
    expect([answer.status, answer.text.slice(0, 300)]).toEqual([200, expect.anything()]);
  });

  const incomplete = within.filter(
    ([, , endpoint]) => endpoint.method !== 'GET' && incompleteStatus(endpoint) > 0,
  );
  it.each(incomplete)(
    '%s reads the request of the role %s before it does anything',
    async (_id, role, endpoint) => {
      const answer = await stage.call(endpoint.method, addressOf(endpoint, caseOf(endpoint).params(own)), {
        as: stage.firm.tokens[role],
        ...(endpoint.body
          ? { body: ['not', 'an', 'object'], headers: { 'content-type': 'application/json' } }
          : {}),
        ...(endpoint.body?.kind === 'file'
          ? { bytes: { mediaType: 'application/zip', data: Buffer.from('no') } }
          : {}),
      });
      expect(answer.status).toBe(incompleteStatus(endpoint));
    },
  );

  const objects = within.filter(([, , endpoint]) => caseOf(endpoint).object);
  it.each(objects)(
    '%s does not find what belongs to another firm for the role %s',
    async (_id, role, endpoint) => {
      const answer = await complete(endpoint, caseOf(endpoint).params(foreign), stage.firm.tokens[role]);
      expect([answer.status, answer.body?.code]).toEqual([404, 'not-found']);
    },
  );

  const strange = within.flatMap(([id, role, endpoint]) => {
    const params = caseOf(endpoint).strange?.[role];
    return params ? [[id, role, endpoint, params] as const] : [];
  });
  it.each(strange)(
    '%s does not find what is not the own of the role %s',
    async (_id, role, endpoint, params) => {
      const answer = await complete(endpoint, params(own), stage.firm.tokens[role]);
      expect([answer.status, answer.body?.code]).toEqual([404, 'not-found']);
    },
  );

  it('shows the crew, the customer and the partner no cost, no address of others, and only their own', async () => {
    const { tokens } = stage.firm;
    const crewVisits = await stage.call('GET', '/api/v1/visits', { as: tokens.crew });
    expect(crewVisits.body.items.map((visit: { job: string }) => visit.job)).toEqual(['hill-build']);
    const customerVisits = await stage.call('GET', '/api/v1/visits', { as: tokens.customer });
    expect(customerVisits.body.items.map((visit: { job: string }) => visit.job)).toEqual(['hill-build']);
    const assignments = await stage.call('GET', '/api/v1/assignments?person=cat', { as: tokens.crew });
    expect(assignments.body.items.map((row: { person: string }) => row.person)).toEqual(['ana']);
    const requests = await stage.call('GET', '/api/v1/my/requests', { as: tokens.partner });
    expect(requests.body.items.map((row: { kind: string }) => row.kind)).toEqual(['liftHold']);
    const texts = [crewVisits, customerVisits, requests].map((answer) => answer.text);
    for (const role of ['crew', 'customer'] as const) {
      for (const url of [
        `/api/v1/visits/${own.visit}`,
        '/api/v1/my/sites',
        ...(role === 'customer' ? ['/api/v1/my/jobs'] : []),
      ]) {
        texts.push((await stage.call('GET', url, { as: tokens[role] })).text);
      }
    }
    for (const text of texts) expect(text).not.toMatch(/[cC]ents|@example\.org/);
  });

  it('shows a customer first names only, and no phone', async () => {
    const visit = await stage.call('GET', `/api/v1/visits/${own.visit}`, { as: stage.firm.tokens.customer });
    expect(
      visit.body.people.every(
        (one: { phone: unknown; key: unknown }) => one.phone === null && one.key === null,
      ),
    ).toBe(true);
  });
});
