import { describe, expect, it } from '@jest/globals';
import { z } from 'zod';
import { faultsOf, jsonPointer } from '../errors/problem.ts';
import { isProblemCode, PROBLEMS } from '../errors/problem-codes.ts';
import { allEndpoints } from './all.ts';
import { defineEndpoint, type EndpointSpec, json, pathParameters } from './endpoint.ts';
import { buildOpenApi } from './openapi.ts';

type Json = Record<string, unknown>;
const info = { title: 'Test', version: '0', description: 'd', serverUrl: '/' };
const document = buildOpenApi(allEndpoints, info);

function walk(value: unknown, visit: (node: Json) => void): void {
  if (Array.isArray(value)) for (const item of value) walk(item, visit);
  else if (typeof value === 'object' && value !== null) {
    visit(value as Json);
    for (const item of Object.values(value)) walk(item, visit);
  }
}

const operations = Object.entries(document['paths'] as Record<string, Record<string, Json>>).flatMap(
  ([path, methods]) => Object.entries(methods).map(([method, operation]) => ({ path, method, operation })),
);

describe('the OpenAPI document', () => {
  it('has one operation for each endpoint, each with an id of its own', () => {
    expect(operations.length).toBe(allEndpoints.length);
    const ids = operations.map(({ operation }) => operation['operationId']);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('gives each operation a summary, tags, security and answers, one of them for problems', () => {
    for (const { path, method, operation } of operations) {
      const where = `${method} ${path}`;
      expect([where, typeof operation['summary'], (operation['tags'] as string[]).length > 0]).toEqual([
        where,
        'string',
        true,
      ]);
      expect(Array.isArray(operation['security'])).toBe(true);
      const responses = operation['responses'] as Json;
      expect(Object.keys(responses)).toContain('default');
      expect(Object.keys(responses).length).toBeGreaterThan(1);
      for (const response of Object.values(responses))
        expect(typeof (response as Json)['description']).toBe('string');
    }
  });

  it('describes every parameter that a path names', () => {
    for (const { path, operation } of operations) {
      const named = [...path.matchAll(/\{([^}]+)\}/g)].map((match) => match[1]);
      const described = (operation['parameters'] as Json[])
        .filter((p) => p['in'] === 'path')
        .map((p) => p['name']);
      expect(described.sort()).toEqual(named.sort());
    }
  });

  it('refers only to what is in it', () => {
    const schemas = (document['components'] as { schemas: Json }).schemas;
    let references = 0;
    walk(document, (node) => {
      if (typeof node['$ref'] !== 'string') return;
      references += 1;
      const name = node['$ref'].replace('#/components/schemas/', '');
      expect(Object.keys(schemas)).toContain(name);
    });
    expect(references).toBeGreaterThan(100);
  });

  it('lets nobody but the named roles change anything', () => {
    // Open changes are only these: asking for a sign-in link, using one, and forms behind secret links.
    const open = allEndpoints.filter(
      (endpoint) => endpoint.method !== 'GET' && !Array.isArray(endpoint.access),
    );
    expect(open.map((endpoint) => endpoint.id).sort()).toEqual([
      'answerLink',
      'createSession',
      'requestSignInLink',
      'signInByPage',
    ]);
  });

  it('asks for the version wherever something that has one is changed in place', () => {
    const without = allEndpoints.filter(
      (endpoint) => ['PUT', 'PATCH'].includes(endpoint.method) && endpoint.etag !== 'requires',
    );
    expect(without.map((endpoint) => endpoint.id)).toEqual([]);
  });

  it('pages every list that grows', () => {
    const unpaged = allEndpoints.filter((endpoint) => endpoint.id.startsWith('list') && !endpoint.paginated);
    // A firm has a handful of seasons; what one person sees of the own is short; a visit has a few briefs, a place a few weather series.
    expect(unpaged.map((endpoint) => endpoint.id).sort()).toEqual([
      'listBriefs',
      'listMyJobs',
      'listMyRequests',
      'listMySites',
      'listSeasons',
      'listWeatherSeries',
    ]);
  });

  it('refuses two schemas of one name that differ', () => {
    const shared = { method: 'GET', access: 'public', summary: 's', tags: ['t'] } as const;
    const one = defineEndpoint({
      ...shared,
      id: 'a',
      path: '/a',
      responses: { 200: json(z.object({ a: z.string() }).meta({ id: 'Same' }), 'a') },
    });
    const two = defineEndpoint({
      ...shared,
      id: 'b',
      path: '/b',
      responses: { 200: json(z.object({ b: z.string() }).meta({ id: 'Same' }), 'b') },
    });
    expect(() => buildOpenApi([one, two] as unknown as EndpointSpec[], info)).toThrow(
      'Two schemas are called Same.',
    );
  });
});

describe('an endpoint', () => {
  const base = {
    id: 'x',
    method: 'GET',
    path: '/x',
    access: 'public',
    responses: { 200: json(z.object({}), 'x') },
    summary: 's',
    tags: ['t'],
  } as const;

  it('is refused when its description contradicts itself', () => {
    expect(() => defineEndpoint({ ...base, path: '/x/:id' })).toThrow('path names id');
    expect(() => defineEndpoint({ ...base, access: [] })).toThrow('nobody may call it');
    expect(() => defineEndpoint({ ...base, responses: {} })).toThrow('no response');
    expect(() => defineEndpoint({ ...base, idempotency: 'optional' })).toThrow('Idempotency-Key');
  });

  it('has the parameters that its path names', () => {
    expect(pathParameters('/seasons/:season/jobs/:key.ics')).toEqual(['season', 'key']);
  });
});

describe('the table of problems', () => {
  it('has a client or server status, a title and a next step for each code', () => {
    for (const [code, entry] of Object.entries(PROBLEMS)) {
      expect(isProblemCode(code)).toBe(true);
      expect(entry.status).toBeGreaterThanOrEqual(400);
      expect(entry.status).toBeLessThan(600);
      expect(entry.title.length).toBeGreaterThan(5);
      expect(entry.nextStep.length).toBeGreaterThan(5);
    }
    expect(isProblemCode('nothing-such')).toBe(false);
  });

  it('points by JSON Pointer (RFC 6901 section 3: ~ is ~0, / is ~1)', () => {
    // The examples of RFC 6901 section 5 for the names "a/b" and "m~n".
    expect(jsonPointer(['a/b'])).toBe('/a~1b');
    expect(jsonPointer(['m~n'])).toBe('/m~0n');
    expect(jsonPointer([])).toBe('');
  });

  it('names what would be right for each fault of a body', () => {
    const schema = z.strictObject({ count: z.int().min(1), kind: z.enum(['a', 'b']) });
    const { error } = schema.safeParse({ count: 0, kind: 'c', more: 1 });
    expect(
      faultsOf(error as z.ZodError, 'body')
        .map(({ pointer, expected }) => [pointer, expected])
        .sort(),
    ).toEqual([
      ['/body/count', 'number of at least 1'],
      ['/body/kind', 'one of a, b'],
      ['/body/more', 'leave it out'],
    ]);
  });
});
