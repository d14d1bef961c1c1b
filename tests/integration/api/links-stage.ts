import { randomBytes } from 'node:crypto';
import { appModule } from '../../../apps/api/src/app.module.ts';
import { type ApiConfig, readConfig } from '../../../apps/api/src/config.ts';
import { buildServer } from '../../../apps/api/src/server.ts';
import { allEndpoints } from '../../../libs/contracts/src/http/all.ts';
import { type Account, inviteUser } from '../../../libs/data/src/account.repository.ts';
import { hashToken, linkToken } from '../../../libs/data/src/action-link.repository.ts';
import { createDatabase, type Database } from '../../../libs/data/src/database.ts';
import { ensureOrganisation } from '../../../libs/data/src/organisation.repository.ts';
import { applyImport } from '../../../libs/data/src/season-import.repository.ts';
import { addMinutes, type Instant, instantFromMs, instantToMs } from '../../../libs/kernel/src/index.ts';
import { createTestDatabase } from '../../builders/test-database.ts';
import { smallSeasonFile } from '../data/small-season.ts';
import { actor, linkSecret, now } from '../data/stage.ts';

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

/** A database with one firm and its season, and the whole API in front of it on a port of its own. */
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
  const app = await buildServer(appModule(config, clock), config, allEndpoints);
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
