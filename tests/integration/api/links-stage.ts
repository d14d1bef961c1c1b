import { randomBytes } from 'node:crypto';
import { Global, Module } from '@nestjs/common';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { AnswersModule } from '../../../apps/api/src/answers/answers.module.ts';
import { CalendarsModule } from '../../../apps/api/src/calendars/calendars.module.ts';
import { type ApiConfig, readConfig } from '../../../apps/api/src/config.ts';
import { DATABASE } from '../../../apps/api/src/data/database.token.ts';
import { StoredKeys } from '../../../apps/api/src/data/stored-keys.ts';
import { StoredLinks, StoredSessions } from '../../../apps/api/src/data/stored-sessions.ts';
import { LinkReader, SessionReader } from '../../../apps/api/src/frame/caller.ts';
import { FrameModule } from '../../../apps/api/src/frame/frame.module.ts';
import { KeyStore } from '../../../apps/api/src/frame/idempotency.ts';
import { LinksModule } from '../../../apps/api/src/links/links.module.ts';
import { buildServer } from '../../../apps/api/src/server.ts';
import { SystemModule } from '../../../apps/api/src/system/system.module.ts';
import { API_CONFIG, CLOCK } from '../../../apps/api/src/tokens.ts';
import * as answers from '../../../libs/contracts/src/http/answers.ts';
import * as calendars from '../../../libs/contracts/src/http/calendars.ts';
import type { EndpointSpec } from '../../../libs/contracts/src/http/endpoint.ts';
import * as links from '../../../libs/contracts/src/http/links.ts';
import * as system from '../../../libs/contracts/src/http/system.ts';
import { type Account, inviteUser } from '../../../libs/data/src/account.repository.ts';
import { hashToken, linkToken } from '../../../libs/data/src/action-link.repository.ts';
import { createDatabase, type Database } from '../../../libs/data/src/database.ts';
import { ensureOrganisation } from '../../../libs/data/src/organisation.repository.ts';
import { applyImport } from '../../../libs/data/src/season-import.repository.ts';
import { addMinutes, type Instant, instantFromMs, instantToMs } from '../../../libs/kernel/src/index.ts';
import { createTestDatabase } from '../../builders/test-database.ts';
import { smallSeasonFile } from '../data/small-season.ts';
import { actor, linkSecret, now } from '../data/stage.ts';

const PARTS = [answers, links, calendars, system];
const isEndpoint = (value: unknown): value is EndpointSpec =>
  typeof value === 'object' && value !== null && 'access' in value && 'responses' in value;

/** A clock that the test moves; each look at it is a millisecond later, as in life. */
export class TestClock {
  #ms = instantToMs(now);
  now(): Instant {
    this.#ms += 1;
    return instantFromMs(this.#ms);
  }
  set(moment: Instant | string): void {
    this.#ms = instantToMs(moment as Instant);
  }
}

export interface ApiStage {
  readonly db: Database;
  readonly organisationId: string;
  readonly seasonId: string;
  readonly clock: TestClock;
  /** Scheme, host and port. */
  readonly origin: string;
  readonly config: ApiConfig;
  /** The token in the newest living link of a purpose to one reader. */
  token(purpose: string, reader: string, subjectKind?: string): Promise<string>;
  /** A session of somebody with an account, as its bearer token. */
  signIn(role: 'manager' | 'crew', subjectKey: string | null): Promise<{ token: string; account: Account }>;
  close(): Promise<void>;
}

/** What the small season lacks: figures, papers, kits, full names, a second firm. */
export function linkSeasonFile(): Record<string, unknown> {
  const file = smallSeasonFile() as Record<string, Record<string, unknown>[]>;
  const names: Record<string, string> = { ana: 'Ana Marlow', ben: 'Ben <b>Quill</b>', cat: 'Cat Ashby' };
  const item = { job: 'hill-build', responsible: 'customer', mustBeTrue: true, state: 'open' };
  return {
    ...file,
    people: file['people']?.map((person) => ({
      ...person,
      name: names[String(person['key'])] ?? person['name'],
      phoneE164: '+15065550100',
    })),
    readinessItems: [
      ...(file['readinessItems'] ?? []),
      {
        ...item,
        key: 'level',
        title: 'Pad level',
        evidence: 'number',
        unit: 'mm',
        toleranceLow: -3,
        toleranceHigh: 3,
        dueDaysBefore: 14,
      },
      {
        ...item,
        key: 'photo',
        title: 'Photo of the gate',
        evidence: 'photo',
        dueDaysBefore: 7,
        mustBeTrue: false,
      },
    ],
    kits: [
      {
        key: 'dome-6',
        name: 'Dome 6 m',
        massKg: 1200,
        diameterM: 6,
        heightM: 5,
        bays: 2,
        panelAreaM2: 6,
        pallets: 4,
        heaviestPartKg: 310,
        liftHeightM: 7,
      },
    ],
    jobKits: [{ job: 'hill-build', kit: 'dome-6', count: 1 }],
  };
}

/** A database with one firm and its season, and the API in front of it on a port of its own. */
export async function openApiStage(environment: Record<string, string> = {}): Promise<ApiStage> {
  const testDatabase = await createTestDatabase();
  const db = createDatabase({ url: testDatabase.url });
  const firm = { key: 'firm', name: 'Larch & Loon Domes (invented)', zone: 'America/Halifax', isDemo: true };
  const organisationId = (await ensureOrganisation(db, firm, actor)).id;
  const report = await applyImport(db, organisationId, linkSeasonFile(), actor);
  const clock = new TestClock();
  const config = readConfig({
    DATABASE_URL: testDatabase.url,
    DRYSPELL_SECRET: linkSecret,
    DRYSPELL_LOG_LEVEL: 'silent',
    DRYSPELL_RATE_LINK_PER_MIN: '100000',
    DRYSPELL_RATE_PER_MIN: '100000',
    ...environment,
  });
  const app = await serve(db, clock, config);
  await app.listen({ port: 0, host: '127.0.0.1' });
  const origin = await app.getUrl();
  return {
    db,
    organisationId,
    seasonId: report.seasonId as string,
    clock,
    origin,
    config,
    token: async (purpose, reader, subjectKind) => {
      const link = await db.client.actionLink.findFirstOrThrow({
        where: {
          purpose,
          recipientKey: reader,
          revokedAt: null,
          ...(subjectKind === undefined ? {} : { subjectKind }),
        },
        orderBy: { createdAt: 'desc' },
      });
      return linkToken(linkSecret, link.id);
    },
    signIn: async (role, subjectKey) => {
      const email = `${role}-${subjectKey ?? 'one'}-${randomBytes(4).toString('hex')}@example.org`;
      const account = await inviteUser(db, { organisationId, email, name: 'Mo', role, subjectKey, actor });
      const token = randomBytes(32).toString('base64url');
      const expiresAt = new Date(addMinutes(now, 400 * 24 * 60));
      await db.client.session.create({
        data: { membershipId: account.id, tokenHash: hashToken(token), expiresAt },
      });
      return { token, account };
    },
    close: async () => {
      await app.close();
      await db.close();
      await testDatabase.drop();
    },
  };
}

/** The parts of the API under test, on the test's own clock. */
function serve(db: Database, clock: TestClock, config: ApiConfig): Promise<NestFastifyApplication> {
  @Global()
  @Module({
    providers: [
      { provide: API_CONFIG, useValue: config },
      { provide: DATABASE, useValue: db },
      { provide: CLOCK, useValue: clock },
      { provide: SessionReader, useClass: StoredSessions },
      { provide: LinkReader, useClass: StoredLinks },
      { provide: KeyStore, useClass: StoredKeys },
    ],
    exports: [API_CONFIG, DATABASE, CLOCK, SessionReader, LinkReader, KeyStore],
  })
  class Ground {}
  @Module({ imports: [Ground, FrameModule, AnswersModule, LinksModule, CalendarsModule, SystemModule] })
  class Parts {}
  return buildServer(Parts, config, PARTS.flatMap((part) => Object.values(part)).filter(isEndpoint));
}

/** The forms of a page, by their `about`, each with its hidden fields. */
export function formOf(page: string, about: string): Record<string, string> {
  for (const [, inside = ''] of page.matchAll(/<form\b[^>]*>([\s\S]*?)<\/form>/g)) {
    const hidden = [...inside.matchAll(/<input type="hidden" name="([^"]*)" value="([^"]*)">/g)];
    const fields = Object.fromEntries(hidden.map(([, name = '', value = '']) => [name, value]));
    if (fields['about'] === about) return fields;
  }
  throw new Error(`the page has no form about ${about}`);
}

/** Sends a form as a browser does: with the origin of our own page. */
export async function send(
  stage: ApiStage,
  token: string,
  fields: Readonly<Record<string, string | readonly string[]>>,
  headers: Readonly<Record<string, string>> = {},
): Promise<Response> {
  const body = new URLSearchParams();
  for (const [name, value] of Object.entries(fields))
    for (const each of [value].flat() as string[]) body.append(name, each);
  return fetch(`${stage.origin}/l/${token}`, {
    method: 'POST',
    body,
    redirect: 'manual',
    headers: { 'sec-fetch-site': 'same-origin', ...headers },
  });
}

/** Opens the page of a link. */
export async function open(
  stage: ApiStage,
  token: string,
): Promise<{ status: number; text: string; headers: Headers }> {
  const response = await fetch(`${stage.origin}/l/${token}`);
  return { status: response.status, text: await response.text(), headers: response.headers };
}
