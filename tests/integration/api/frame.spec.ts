import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { Controller, Get, Module } from '@nestjs/common';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { buildServer } from '../../../apps/api/src/server.ts';
import { defineEndpoint, type EndpointSpec } from '../../../libs/contracts/src/http/endpoint.ts';
import { config, crewToken, endpoints, ok, shared, ThingModule, token } from './frame-things.ts';

const bearer = { authorization: `Bearer ${token}` };

describe('the frame of the API', () => {
  let app: NestFastifyApplication;
  beforeAll(async () => {
    app = await buildServer(ThingModule, config, endpoints);
  });
  afterAll(async () => {
    await app.close();
  });

  it('answers what the schema names and drops the rest', async () => {
    const answer = await app.inject({ url: '/api/v1/things/dome', headers: bearer });
    expect(answer.statusCode).toBe(200);
    expect(answer.json()).toEqual({ name: 'dome of Ada', version: 3 });
    expect(answer.headers['etag']).toBe('"3"');
    expect(answer.headers['content-type']).toBe('application/json; charset=utf-8');
  });

  it('answers 304 when the caller has the version already', async () => {
    const answer = await app.inject({
      url: '/api/v1/things/dome',
      headers: { ...bearer, 'if-none-match': 'W/"3"' },
    });
    expect(answer.statusCode).toBe(304);
    expect(answer.body).toBe('');
  });

  it('asks who it is, and hides what is beyond a role', async () => {
    const nobody = await app.inject({ url: '/api/v1/things/dome' });
    expect(nobody.statusCode).toBe(401);
    expect(nobody.headers['www-authenticate']).toContain('Bearer');
    expect(nobody.headers['content-type']).toContain('application/problem+json');
    expect(nobody.json()).toMatchObject({
      code: 'not-signed-in',
      status: 401,
      type: '/problems/not-signed-in',
    });
    const crew = await app.inject({
      url: '/api/v1/things/dome',
      headers: { authorization: `Bearer ${crewToken}` },
    });
    expect(crew.statusCode).toBe(404);
  });

  it('names every fault of a body with its pointer and what is expected', async () => {
    const answer = await app.inject({
      method: 'PATCH',
      url: '/api/v1/things/dome',
      headers: { ...bearer, 'if-match': '"3"' },
      payload: { massKg: 0, colour: 'red' },
    });
    expect(answer.statusCode).toBe(422);
    expect(
      answer
        .json()
        .errors.map((fault: { pointer: string }) => fault.pointer)
        .sort(),
    ).toEqual(['/body/colour', '/body/massKg']);
    expect(answer.json().instance).toMatch(/^urn:uuid:[0-9a-f-]{36}$/);
  });

  it('wants the version of what is changed: 428 without, 412 when it is old', async () => {
    const patch = (headers: Record<string, string>) =>
      app.inject({
        method: 'PATCH',
        url: '/api/v1/things/dome',
        headers: { ...bearer, ...headers },
        payload: { massKg: 5 },
      });
    expect((await patch({})).statusCode).toBe(428);
    expect((await patch({ 'if-match': '"2"' })).statusCode).toBe(412);
    expect((await patch({ 'if-match': '*' })).statusCode).toBe(412);
    expect((await patch({ 'if-match': '"3"' })).headers['etag']).toBe('"4"');
  });

  it('does a request with an Idempotency-Key once and gives its answer again', async () => {
    const add = (name: string, key?: string) =>
      app.inject({
        method: 'POST',
        url: '/api/v1/things',
        headers: { ...bearer, ...(key ? { 'idempotency-key': key } : {}) },
        payload: { name },
      });
    expect((await add('a')).json().code).toBe('idempotency-key-required');
    const first = await add('a', 'key-00001');
    const second = await add('a', 'key-00001');
    expect(first.statusCode).toBe(201);
    expect(second.body).toBe(first.body);
    expect(second.statusCode).toBe(201);
    expect(second.headers['idempotency-replayed']).toBe('true');
    expect((await add('b', 'key-00001')).json().code).toBe('repeat-differs');
    expect((await add('refused', 'key-00002')).statusCode).toBe(409);
    expect((await add('refused', 'key-00002')).statusCode).toBe(409);
  });

  it('keeps what went wrong inside to itself', async () => {
    const answer = await app.inject({ url: '/api/v1/breaks', headers: bearer });
    expect(answer.statusCode).toBe(500);
    expect(answer.body).not.toContain('SELECT');
    expect(answer.json().code).toBe('internal');
  });

  it('answers problem details for what the framework refuses', async () => {
    const unknown = await app.inject({ url: '/api/v1/nowhere' });
    expect([unknown.statusCode, unknown.json().code]).toEqual([404, 'not-found']);
    const broken = await app.inject({
      method: 'POST',
      url: '/api/v1/things',
      headers: { ...bearer, 'content-type': 'application/json' },
      payload: '{"name":',
    });
    expect([broken.statusCode, broken.json().code]).toEqual([400, 'malformed-request']);
    const large = await app.inject({
      method: 'POST',
      url: '/api/v1/things',
      headers: bearer,
      payload: { name: 'x'.repeat(3000) },
    });
    expect([large.statusCode, large.json().code]).toEqual([413, 'too-large']);
    const media = await app.inject({
      method: 'POST',
      url: '/api/v1/things',
      headers: { ...bearer, 'content-type': 'text/plain' },
      payload: 'name',
    });
    expect([media.statusCode, media.json().code]).toEqual([415, 'media-type-not-supported']);
    const query = await app.inject({ url: '/api/v1/things?limit=1000&sort=x', headers: bearer });
    expect(query.statusCode).toBe(422);
    const oddUrl = await app.inject({ url: '/api/v1/things/%E0%A4%A' });
    expect(oddUrl.headers['content-type']).toContain('application/problem+json');
  });

  it('takes a change by cookie only from its own pages', async () => {
    const patch = (headers: Record<string, string>) =>
      app.inject({
        method: 'PATCH',
        url: '/api/v1/things/dome',
        headers: { cookie: `dryspell_session=${token}`, 'if-match': '"3"', ...headers },
        payload: { massKg: 5 },
      });
    expect((await patch({})).json().code).toBe('cross-site');
    expect((await patch({ 'sec-fetch-site': 'cross-site' })).statusCode).toBe(403);
    expect((await patch({ 'sec-fetch-site': 'same-site' })).statusCode).toBe(403);
    expect((await patch({ origin: 'https://evil.example' })).statusCode).toBe(403);
    expect((await patch({ origin: 'https://plan.example.org' })).statusCode).toBe(200);
    expect((await patch({ 'sec-fetch-site': 'same-origin' })).statusCode).toBe(200);
  });

  it('reads a form, also one sent from a page without referrer', async () => {
    const post = (headers: Record<string, string>) =>
      app.inject({
        method: 'POST',
        url: '/form',
        headers: { 'content-type': 'application/x-www-form-urlencoded', ...headers },
        payload: 'word=a+b%26c',
      });
    const answer = await post({ origin: 'null' });
    expect([answer.statusCode, answer.headers['location']]).toEqual([303, '/done/a%20b%26c']);
    expect((await post({ 'sec-fetch-site': 'cross-site' })).statusCode).toBe(403);
  });

  it('shows a page to the holder of a dead link, forbids framing and referrers, and limits guessing', async () => {
    const answers = [];
    for (let i = 0; i < 7; i += 1) answers.push(await app.inject({ url: `/l/${'x'.repeat(43)}` }));
    expect(answers[0]?.statusCode).toBe(410);
    expect(answers[0]?.headers['content-type']).toContain('text/html');
    expect(answers[0]?.body).toContain('What to do');
    expect(answers[0]?.headers['referrer-policy']).toBe('no-referrer');
    expect(answers[0]?.headers['content-security-policy']).toContain("frame-ancestors 'none'");
    expect(answers[0]?.headers['x-content-type-options']).toBe('nosniff');
    expect(answers[6]?.statusCode).toBe(429);
    expect(answers[6]?.headers['retry-after']).toBeDefined();
  });
});

describe('a server that is not complete', () => {
  it('does not start with a handler that is bound to no endpoint', async () => {
    @Controller()
    class Loose {
      @Get('/loose')
      loose(): string {
        return 'open to everybody';
      }
    }
    @Module({ imports: [ThingModule], controllers: [Loose] })
    class LooseModule {}
    await expect(buildServer(LooseModule, config, endpoints)).rejects.toMatchObject({
      data: { faults: ['Loose.loose is bound to no endpoint, so nobody may call it'] },
    });
  });

  it('does not start with an endpoint that has no handler', async () => {
    const extra = defineEndpoint({
      ...shared,
      id: 'extra',
      method: 'GET',
      path: '/extra',
      responses: { 200: ok },
    });
    await expect(
      buildServer(ThingModule, config, [...endpoints, extra as unknown as EndpointSpec]),
    ).rejects.toMatchObject({
      data: { faults: ['extra has no handler'] },
    });
  });
});
