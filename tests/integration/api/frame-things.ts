import { Controller, Global, Module } from '@nestjs/common';
import { z } from 'zod';
import { type ApiConfig, readConfig } from '../../../apps/api/src/config.ts';
import { Bind } from '../../../apps/api/src/frame/bind.decorator.ts';
import type { Call } from '../../../apps/api/src/frame/call.ts';
import { LinkReader, SessionReader } from '../../../apps/api/src/frame/caller.ts';
import { FrameModule } from '../../../apps/api/src/frame/frame.module.ts';
import {
  type ClaimResult,
  type KeptAnswer,
  type KeyClaim,
  KeyStore,
} from '../../../apps/api/src/frame/idempotency.ts';
import { Reply } from '../../../apps/api/src/frame/reply.ts';
import { hashSecret } from '../../../apps/api/src/frame/secret-token.ts';
import { API_CONFIG } from '../../../apps/api/src/tokens.ts';
import { pageQuery } from '../../../libs/contracts/src/http/common.ts';
import {
  defineEndpoint,
  type EndpointSpec,
  formBody,
  type InputOf,
  json,
  jsonBody,
  page,
} from '../../../libs/contracts/src/http/endpoint.ts';
import { DryspellError } from '../../../libs/kernel/src/index.ts';

export const token = 'm'.repeat(43);
export const crewToken = 'c'.repeat(43);
export const ok = json(z.object({ name: z.string(), version: z.number().optional() }), 'ok');
const thing = { params: z.object({ id: z.string().regex(/^[a-z]+$/) }), path: '/api/v1/things/:id' } as const;
export const shared = { access: ['manager'], summary: 's', tags: ['t'] } as const;

const getThing = defineEndpoint({
  ...shared,
  ...thing,
  id: 'getThing',
  method: 'GET',
  responses: { 200: ok },
  etag: 'sends',
});
const patchThing = defineEndpoint({
  ...shared,
  ...thing,
  id: 'patchThing',
  method: 'PATCH',
  body: jsonBody(z.strictObject({ massKg: z.number().min(1) })),
  responses: { 200: ok },
  etag: 'requires',
});
const addThing = defineEndpoint({
  ...shared,
  id: 'addThing',
  method: 'POST',
  path: '/api/v1/things',
  body: jsonBody(z.strictObject({ name: z.string() })),
  responses: { 201: ok },
  idempotency: 'required',
});
const listThings = defineEndpoint({
  ...shared,
  id: 'listThings',
  method: 'GET',
  path: '/api/v1/things',
  query: z.strictObject(pageQuery),
  responses: { 200: ok },
  paginated: true,
});
const breaks = defineEndpoint({
  ...shared,
  id: 'breaks',
  method: 'GET',
  path: '/api/v1/breaks',
  responses: { 200: ok },
});
const linkPage = defineEndpoint({
  ...shared,
  id: 'linkPage',
  method: 'GET',
  path: '/l/:token',
  access: { link: ['readiness'] },
  params: z.object({ token: z.string() }),
  responses: { 200: page('a page') },
  rate: 'link',
});
const form = defineEndpoint({
  ...shared,
  id: 'form',
  method: 'POST',
  path: '/form',
  access: 'public',
  body: formBody(z.object({ word: z.string() })),
  responses: { 303: { description: 'on', mediaType: null, schema: null } },
});
export const endpoints = [
  getThing,
  patchThing,
  addThing,
  listThings,
  breaks,
  linkPage,
  form,
] as unknown as EndpointSpec[];

let added = 0;

@Controller()
class ThingController {
  @Bind(getThing)
  get(input: InputOf<typeof getThing>, call: Call) {
    return { name: `${input.params.id} of ${call.user.name}`, version: 3, passwordHash: 'never shown' };
  }

  @Bind(patchThing)
  patch(input: InputOf<typeof patchThing>) {
    if (input.version !== 3) throw new DryspellError('version-conflict');
    return { name: `${input.body.massKg} kg`, version: 4 };
  }

  @Bind(addThing)
  async add(input: InputOf<typeof addThing>) {
    added += 1;
    if (input.body.name === 'refused') throw new DryspellError('already-exists');
    return Reply.json(201, { name: `${input.body.name} ${added}` });
  }

  @Bind(listThings)
  list(input: InputOf<typeof listThings>) {
    return { name: String(input.query.limit) };
  }

  @Bind(breaks)
  break() {
    throw new Error('SELECT secret FROM users');
  }

  @Bind(linkPage)
  link() {
    return Reply.page(200, '<!doctype html>');
  }

  @Bind(form)
  form(input: InputOf<typeof form>) {
    return Reply.seeOther(`/done/${encodeURIComponent(input.body.word)}`);
  }
}

class MemoryKeys extends KeyStore {
  private readonly kept = new Map<string, { requestHash: string; answer: KeptAnswer | null }>();
  async claim(claim: KeyClaim): Promise<ClaimResult> {
    const old = this.kept.get(claim.key);
    if (!old) this.kept.set(claim.key, { requestHash: claim.requestHash, answer: null });
    if (!old) return { kind: 'ours' };
    return old.answer
      ? { kind: 'answered', ...old, answer: old.answer }
      : { kind: 'running', requestHash: old.requestHash };
  }
  async keep(claim: KeyClaim, answer: KeptAnswer): Promise<void> {
    this.kept.set(claim.key, { requestHash: claim.requestHash, answer });
  }
  async release(claim: KeyClaim): Promise<void> {
    this.kept.delete(claim.key);
  }
}

export const config: ApiConfig = readConfig({
  DATABASE_URL: 'postgresql://nobody@127.0.0.1:1/none',
  DRYSPELL_SECRET: 's'.repeat(32),
  DRYSPELL_LOG_LEVEL: 'silent',
  DRYSPELL_PUBLIC_URL: 'https://plan.example.org',
  DRYSPELL_RATE_LINK_PER_MIN: '5',
  DRYSPELL_BODY_MAX_BYTES: '2000',
});

const people = new Map([
  [hashSecret(token), { role: 'manager' as const, name: 'Ada' }],
  [hashSecret(crewToken), { role: 'crew' as const, name: 'Cy' }],
]);

const providers = [
  { provide: API_CONFIG, useValue: config },
  { provide: KeyStore, useClass: MemoryKeys },
  {
    provide: SessionReader,
    useValue: {
      read: async (hash: string) => {
        const person = people.get(hash);
        return person
          ? {
              sessionId: 's',
              userId: 'u',
              organisationId: 'o',
              subjectKey: null,
              email: 'a@example.org',
              ...person,
            }
          : null;
      },
    },
  },
  { provide: LinkReader, useValue: { read: async () => null } },
];

@Global()
@Module({ imports: [FrameModule], controllers: [ThingController], providers, exports: providers })
export class ThingModule {}
