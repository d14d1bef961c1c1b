import { type ChildProcess, fork } from 'node:child_process';
import { createHash, randomBytes } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { freePort } from '../../../apps/cli/src/postgres/free-port.ts';
import { validateSeasonFile } from '../../../libs/contracts/src/index.ts';
import { inviteUser } from '../../../libs/data/src/account.repository.ts';
import { systemActor } from '../../../libs/data/src/actor.ts';
import { createDatabase, type Database } from '../../../libs/data/src/database.ts';
import { ensureOrganisation, type Organisation } from '../../../libs/data/src/organisation.repository.ts';
import { applyImport } from '../../../libs/data/src/season-import.repository.ts';
import { createSignInLink } from '../../../libs/data/src/sign-in.repository.ts';
import { addMinutes, parseInstant } from '../../../libs/kernel/src/index.ts';
import { createTestDatabase, type TestDatabase } from '../../builders/test-database.ts';

const root = path.resolve(import.meta.dirname, '../../..');
const READY_WAIT_MS = 60_000;

/** The whole program as its users meet it: the built API with the built pages, the built worker, a database of its own. */
export interface RunningProgram {
  readonly url: string;
  readonly db: Database;
  readonly organisation: Organisation;
  /** Key of the demo season that it holds. */
  readonly season: string;
  /** Address of a sign-in link for a mail address, as the server would print or mail it. */
  signInLink(email: string): Promise<string>;
  stop(): Promise<void>;
}

export const MANAGER = 'mara@larch-and-loon.example';
export const CREW_LEAD = 'adele@larch-and-loon.example';

/** Starts it without a mail server, so that every message is held. */
export async function startProgram(): Promise<RunningProgram> {
  const database = await createTestDatabase();
  const db = createDatabase({ url: database.url, maxConnections: 2 });
  const children: ChildProcess[] = [];
  const stop = async (): Promise<void> => {
    await Promise.all(children.map(ended));
    await db.close();
    await database.drop();
  };
  try {
    const { organisation, season } = await fill(db);
    const url = `http://127.0.0.1:${await freePort()}`;
    const env = environmentOf(database, url);
    for (const name of ['api', 'worker']) {
      const child = fork(path.join(root, `dist/apps/${name}/src/main.js`), [], {
        cwd: root,
        env,
        stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
        execArgv: [],
      });
      children.push(child);
      await readiness(name, child);
    }
    return { url, db, organisation, season, signInLink: (email) => linkFor(db, url, email), stop };
  } catch (error) {
    await stop();
    throw error;
  }
}

function environmentOf(database: TestDatabase, url: string): NodeJS.ProcessEnv {
  const { REDIS_URL: _redis, DRYSPELL_SMTP_URL: _smtp, NODE_OPTIONS: _options, ...rest } = process.env;
  return {
    ...rest,
    TZ: 'UTC',
    NODE_ENV: 'production',
    HOST: '127.0.0.1',
    PORT: new URL(url).port,
    DATABASE_URL: database.url,
    DRYSPELL_PUBLIC_URL: url,
    DRYSPELL_SECRET: randomBytes(32).toString('hex'),
    DRYSPELL_LOG_LEVEL: 'error',
    // Everybody signs in from one address within seconds here; the limit itself is tried in tests/integration/api.
    DRYSPELL_RATE_SIGN_IN_PER_MIN: '600',
  };
}

async function fill(db: Database): Promise<{ organisation: Organisation; season: string }> {
  const actor = systemActor('test');
  const organisation = await ensureOrganisation(
    db,
    { key: 'larch-loon', name: 'Larch & Loon Domes (invented)', zone: 'America/Halifax', isDemo: true },
    actor,
  );
  const text = fs.readFileSync(path.join(root, 'prisma/demo/larch-and-loon-2027.json'), 'utf8');
  const file = validateSeasonFile(JSON.parse(text));
  if (!file.ok) throw new Error('the demo season is not valid');
  // Without quiet hours a test goes the same way at any hour of the day.
  const { quietFrom: _from, quietTo: _to, ...head } = file.value.season;
  await applyImport(db, organisation.id, { ...file.value, season: head }, actor);
  const common = { organisationId: organisation.id, actor };
  await inviteUser(db, { ...common, email: MANAGER, name: 'Mara Voss', role: 'manager', subjectKey: null });
  await inviteUser(db, {
    ...common,
    email: CREW_LEAD,
    name: 'Adèle Comeau',
    role: 'crew',
    subjectKey: 'adele',
  });
  return { organisation, season: file.value.season.key };
}

async function linkFor(db: Database, url: string, email: string): Promise<string> {
  const token = randomBytes(32).toString('base64url');
  const now = parseInstant(new Date().toISOString());
  const known = await createSignInLink(db, {
    email,
    tokenHash: createHash('sha256').update(token).digest('hex'),
    expiresAt: addMinutes(now, 30),
    now,
    mailDomain: 'plan.example',
    messageData: { links: [] },
  });
  if (!known) throw new Error(`nobody has the address ${email}`);
  return `${url}/sign-in/${token}`;
}

function readiness(name: string, child: ChildProcess): Promise<void> {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => reject(new Error(`the ${name} is not ready`)), READY_WAIT_MS);
    child.on('message', (message) => {
      if ((message as { kind?: unknown }).kind !== 'ready') return;
      clearTimeout(timer);
      resolve();
    });
    child.once('exit', (code) => {
      clearTimeout(timer);
      reject(new Error(`the ${name} ended while it started (exit code ${code})`));
    });
  });
}

function ended(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return Promise.resolve();
  return new Promise((resolve) => {
    child.once('exit', () => resolve());
    child.kill('SIGTERM');
  });
}
