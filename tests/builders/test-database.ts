import { createHash, randomBytes } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import pg from 'pg';
import { applyMigrations } from '../../libs/data/src/migrate.ts';
import { testPostgresUrl } from './test-services.ts';

const migrationsDir = path.resolve(import.meta.dirname, '../../prisma/migrations');
/** Any fixed number of our own: test files that run at the same time wait for one another while the template is made. */
const TEMPLATE_LOCK = 4_170_211;

export interface TestDatabase {
  readonly url: string;
  readonly name: string;
  /** Ends every session on the database and removes it. */
  drop(): Promise<void>;
}

async function asAdmin<T>(work: (admin: pg.Client) => Promise<T>): Promise<T> {
  const admin = new pg.Client({ connectionString: testPostgresUrl() });
  await admin.connect();
  try {
    return await work(admin);
  } finally {
    await admin.end();
  }
}

function urlOf(name: string): string {
  const url = new URL(testPostgresUrl());
  url.pathname = `/${name}`;
  return url.href;
}

/** The template carries a hash of the migrations in its name, so a changed migration never meets an old template. */
function templateName(): string {
  const hash = createHash('sha256');
  for (const entry of fs.readdirSync(migrationsDir).sort()) {
    const file = path.join(migrationsDir, entry, 'migration.sql');
    if (fs.existsSync(file)) hash.update(entry).update(fs.readFileSync(file));
  }
  return `dryspell_template_${hash.digest('hex').slice(0, 16)}`;
}

async function ensureTemplate(admin: pg.Client): Promise<string> {
  const name = templateName();
  await admin.query('SELECT pg_advisory_lock($1)', [TEMPLATE_LOCK]);
  try {
    const { rowCount } = await admin.query('SELECT 1 FROM pg_database WHERE datname = $1', [name]);
    if (rowCount === 1) return name;
    // Renamed when it is complete: a run killed in between leaves no template that only looks finished.
    const half = `${name}_${randomBytes(4).toString('hex')}`;
    await admin.query(`CREATE DATABASE ${half}`);
    await applyMigrations({ databaseUrl: urlOf(half), migrationsDir });
    await admin.query(`ALTER DATABASE ${half} RENAME TO ${name}`);
    return name;
  } finally {
    await admin.query('SELECT pg_advisory_unlock($1)', [TEMPLATE_LOCK]);
  }
}

async function create(statementTail: string): Promise<TestDatabase> {
  const name = `t_${randomBytes(8).toString('hex')}`;
  await asAdmin((admin) => admin.query(`CREATE DATABASE ${name} ${statementTail}`));
  return {
    name,
    url: urlOf(name),
    drop: async () => {
      await asAdmin((admin) => admin.query(`DROP DATABASE IF EXISTS ${name} WITH (FORCE)`));
    },
  };
}

/** A migrated database of its own for one test file, cloned from a template that is made once per run. */
export async function createTestDatabase(): Promise<TestDatabase> {
  const template = await asAdmin(ensureTemplate);
  return create(`TEMPLATE ${template}`);
}

/** A database without any table, for tests of the migrations themselves. */
export async function createEmptyDatabase(): Promise<TestDatabase> {
  return create('TEMPLATE template0');
}
