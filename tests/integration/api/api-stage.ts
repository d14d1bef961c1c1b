import { randomUUID } from 'node:crypto';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { appModule } from '../../../apps/api/src/app.module.ts';
import { type ApiConfig, readConfig } from '../../../apps/api/src/config.ts';
import { hashSecret, newSecret } from '../../../apps/api/src/frame/secret-token.ts';
import { buildServer } from '../../../apps/api/src/server.ts';
import { allEndpoints } from '../../../libs/contracts/src/http/all.ts';
import type { Role } from '../../../libs/contracts/src/http/endpoint.ts';
import { type Account, inviteUser } from '../../../libs/data/src/account.repository.ts';
import { linkToken } from '../../../libs/data/src/action-link.repository.ts';
import { systemActor } from '../../../libs/data/src/actor.ts';
import { createDatabase, type Database } from '../../../libs/data/src/database.ts';
import { ensureOrganisation } from '../../../libs/data/src/organisation.repository.ts';
import { createDraftPlan, type PlanInfo } from '../../../libs/data/src/plan.repository.ts';
import { applyImport } from '../../../libs/data/src/season-import.repository.ts';
import { createSignInLinkByHand } from '../../../libs/data/src/sign-in-by-hand.repository.ts';
import { type FixedClock, fixedClock, type Instant } from '../../../libs/kernel/src/index.ts';
import { createTestDatabase } from '../../builders/test-database.ts';
import { apiPlan, apiSeasonFile } from './api-season.ts';

export const SECRET = 'a-secret-of-the-api-tests-that-is-long-enough';
export const PUBLIC_URL = 'https://plan.example.org';
export const actor = systemActor('test');

interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | number | undefined>>;
  readonly text: string;
  // biome-ignore lint/suspicious/noExplicitAny: tests look into answers of many shapes
  readonly body: any;
}

interface Request {
  readonly as?: string | null;
  readonly body?: unknown;
  readonly form?: Readonly<Record<string, string | readonly string[]>>;
  readonly bytes?: { readonly mediaType: string; readonly data: Buffer };
  readonly headers?: Readonly<Record<string, string>>;
}

export interface Firm {
  readonly organisationId: string;
  readonly seasonId: string;
  /** Session tokens by role. */
  readonly tokens: Readonly<Record<Role, string>>;
  readonly accounts: Readonly<Record<Role, Account>>;
}

export interface ApiStage {
  readonly app: NestFastifyApplication;
  readonly db: Database;
  readonly clock: FixedClock;
  readonly config: ApiConfig;
  /** Two firms with the same keys: what belongs to one is foreign to the other. */
  readonly firm: Firm;
  readonly other: Firm;
  call(method: string, url: string, request?: Request): Promise<Answer>;
  /** The same call as often as its Idempotency-Key is new: a fresh one is added. */
  draft(firm?: Firm): Promise<PlanInfo>;
  publish(firm?: Firm): Promise<string>;
  token(linkId: string): string;
  close(): Promise<void>;
}

const SUBJECTS: Readonly<Record<Role, string | null>> = {
  manager: null,
  crew: 'ana',
  customer: 'hill-school',
  partner: 'hoist',
};

async function openFirm(db: Database, key: string, clock: FixedClock): Promise<Firm> {
  const organisation = {
    key,
    name: `Larch & Loon Domes (invented, ${key})`,
    zone: 'America/Halifax',
    isDemo: true,
  };
  const { id: organisationId } = await ensureOrganisation(db, organisation, actor);
  const { seasonId } = await applyImport(db, organisationId, apiSeasonFile(), actor);
  const accounts = {} as Record<Role, Account>;
  const tokens = {} as Record<Role, string>;
  for (const role of ['manager', 'crew', 'customer', 'partner'] as const) {
    const account = {
      organisationId,
      email: `${role}@${key}.example.org`,
      name: `${role} of ${key}`,
      role,
      subjectKey: SUBJECTS[role],
    };
    accounts[role] = await inviteUser(db, { ...account, actor });
    tokens[role] = await session(db, accounts[role], clock);
  }
  return { organisationId, seasonId: seasonId as string, tokens, accounts };
}

async function session(db: Database, account: Account, clock: FixedClock): Promise<string> {
  const token = newSecret();
  await db.client.session.create({
    data: {
      tokenHash: hashSecret(token),
      membershipId: account.id,
      createdAt: new Date(clock.now()),
      lastSeenAt: new Date(clock.now()),
      expiresAt: new Date('2027-01-01T00:00:00Z'),
    },
  });
  return token;
}

/** A fresh sign-in link of an account, as whoever runs the server makes it. */
export async function signInToken(stage: ApiStage, email: string): Promise<string> {
  const token = newSecret();
  const now = stage.clock.now();
  const expiresAt = '2026-05-02T12:00:00.000Z' as Instant;
  await createSignInLinkByHand(stage.db, { email, tokenHash: hashSecret(token), expiresAt, now, actor });
  return token;
}

/** The whole API on a database of its own, with two firms. The clock stands at noon UTC on 1 May 2026. */
export async function openApiStage(environment: Record<string, string> = {}): Promise<ApiStage> {
  const database = await createTestDatabase();
  const db = createDatabase({ url: database.url, maxConnections: 4 });
  const clock = fixedClock('2026-05-01T12:00:00.000Z' as Instant);
  const config = readConfig({
    DATABASE_URL: database.url,
    DRYSPELL_SECRET: SECRET,
    DRYSPELL_PUBLIC_URL: PUBLIC_URL,
    DRYSPELL_LOG_LEVEL: 'silent',
    DRYSPELL_RATE_PER_MIN: '100000',
    DRYSPELL_RATE_LINK_PER_MIN: '100000',
    DRYSPELL_RATE_SIGN_IN_PER_MIN: '100000',
    ...environment,
  });
  const firm = await openFirm(db, 'firm', clock);
  const other = await openFirm(db, 'other', clock);
  const app = await buildServer(appModule(config, clock), config, allEndpoints);

  const call: ApiStage['call'] = async (method, url, request = {}) => {
    const token = request.as === undefined ? firm.tokens.manager : request.as;
    const headers: Record<string, string> = {
      ...(token === null ? {} : { authorization: `Bearer ${token}` }),
      ...request.headers,
    };
    let payload: string | Buffer | undefined;
    if (request.form) {
      headers['content-type'] = 'application/x-www-form-urlencoded';
      payload = new URLSearchParams(
        Object.entries(request.form).flatMap(([name, value]) =>
          [value].flat().map((one) => [name, String(one)] as [string, string]),
        ),
      ).toString();
    } else if (request.bytes) {
      headers['content-type'] = request.bytes.mediaType;
      payload = request.bytes.data;
    } else if (request.body !== undefined) {
      headers['content-type'] = 'application/json';
      payload = JSON.stringify(request.body);
    }
    const answer = await app.inject({
      method: method as 'GET',
      url,
      headers,
      ...(payload === undefined ? {} : { payload }),
    });
    const isJson = String(answer.headers['content-type'] ?? '').includes('json');
    return {
      status: answer.statusCode,
      headers: answer.headers,
      text: answer.body,
      body: isJson ? answer.json() : null,
    };
  };
  const draft: ApiStage['draft'] = (of = firm) =>
    createDraftPlan(db, { seasonId: of.seasonId, plan: apiPlan(), actor });

  return {
    app,
    db,
    clock,
    config,
    firm,
    other,
    call,
    draft,
    publish: async (of = firm) => {
      const plan = await draft(of);
      const answer = await call('POST', `/api/v1/seasons/small/plans/${plan.id}/publish`, {
        as: of.tokens.manager,
        body: { seasonChangesSeen: 0 },
        headers: { 'if-match': `"${plan.version}"`, 'idempotency-key': randomUUID() },
      });
      if (answer.status !== 200) throw new Error(`publishing answered ${answer.status}: ${answer.text}`);
      return plan.id;
    },
    token: (linkId) => linkToken(SECRET, linkId),
    close: async () => {
      await app.close();
      await db.close();
      await database.drop();
    },
  };
}
