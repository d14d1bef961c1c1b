import { createHash, randomUUID } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import pg from 'pg';
import { DryspellError } from '../../kernel/src/index.ts';

/** The advisory lock under which Prisma's own tool migrates; sharing it keeps the two from running at once. */
const MIGRATION_LOCK = 72_707_369;

interface Migration {
  readonly name: string;
  readonly sql: string;
  readonly checksum: string;
}

interface AppliedRow {
  readonly migration_name: string;
  readonly checksum: string;
  readonly finished_at: Date | null;
  readonly rolled_back_at: Date | null;
}

export interface MigrateInput {
  readonly databaseUrl: string;
  /** Folder with one folder a migration, each holding `migration.sql`. */
  readonly migrationsDir: string;
}

/**
 * Applies the migrations that the database lacks, in the order of their names, and says which. Each runs as one
 * transaction and is noted in `_prisma_migrations` the way Prisma's own tool does, so either can go on from the other.
 * Several processes may call it at once: one applies, the others wait and find nothing to do.
 * Throws `migration-changed` when an applied migration is not the file any more (or the file is gone), and
 * `migration-failed` when one fails now or failed before and was not mended.
 */
export async function applyMigrations(input: MigrateInput): Promise<{ applied: string[] }> {
  const migrations = readMigrations(input.migrationsDir);
  const client = new pg.Client({ connectionString: input.databaseUrl });
  await client.connect();
  try {
    await client.query('SELECT pg_advisory_lock($1)', [MIGRATION_LOCK]);
    await createHistory(client);
    const done = await readHistory(client, migrations);
    const applied: string[] = [];
    for (const migration of migrations.filter(({ name }) => !done.has(name))) {
      await applyOne(client, migration);
      applied.push(migration.name);
    }
    return { applied };
  } finally {
    // Ending the session also releases the lock.
    await client.end();
  }
}

function readMigrations(folder: string): Migration[] {
  return fs
    .readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory() && fs.existsSync(path.join(folder, entry.name, 'migration.sql')))
    .map((entry) => entry.name)
    .sort()
    .map((name) => {
      const sql = fs.readFileSync(path.join(folder, name, 'migration.sql'), 'utf8');
      return { name, sql, checksum: createHash('sha256').update(sql).digest('hex') };
    });
}

async function createHistory(client: pg.Client): Promise<void> {
  await client.query(`CREATE TABLE IF NOT EXISTS "_prisma_migrations" (
    "id" varchar(36) PRIMARY KEY NOT NULL,
    "checksum" varchar(64) NOT NULL,
    "finished_at" timestamptz,
    "migration_name" varchar(255) NOT NULL,
    "logs" text,
    "rolled_back_at" timestamptz,
    "started_at" timestamptz NOT NULL DEFAULT now(),
    "applied_steps_count" integer NOT NULL DEFAULT 0
  )`);
}

/** Names of the migrations that are in place. Refuses a history that does not fit the files. */
async function readHistory(client: pg.Client, migrations: readonly Migration[]): Promise<Set<string>> {
  const { rows } = await client.query<AppliedRow>(
    'SELECT migration_name, checksum, finished_at, rolled_back_at FROM "_prisma_migrations" ORDER BY started_at',
  );
  const files = new Map(migrations.map((migration) => [migration.name, migration]));
  const live = rows.filter((row) => row.rolled_back_at === null);
  const failed = live.find((row) => row.finished_at === null);
  if (failed) {
    throw new DryspellError('migration-failed', { migration: failed.migration_name, when: 'earlier' });
  }
  for (const row of live) {
    const file = files.get(row.migration_name);
    if (file?.checksum !== row.checksum) {
      const found = file ? 'the file differs from what was applied' : 'the file is missing';
      throw new DryspellError('migration-changed', { migration: row.migration_name, found });
    }
  }
  return new Set(live.map((row) => row.migration_name));
}

async function applyOne(client: pg.Client, migration: Migration): Promise<void> {
  const id = randomUUID();
  // Noted before it runs and outside its transaction, so that a crash in the middle leaves a trace.
  await client.query(
    'INSERT INTO "_prisma_migrations" (id, checksum, migration_name, started_at) VALUES ($1, $2, $3, now())',
    [id, migration.checksum, migration.name],
  );
  try {
    await client.query('BEGIN');
    await client.query(migration.sql);
    await client.query(
      'UPDATE "_prisma_migrations" SET finished_at = clock_timestamp(), applied_steps_count = 1 WHERE id = $1',
      [id],
    );
    await client.query('COMMIT');
  } catch (error) {
    await client.query('ROLLBACK');
    const said = error instanceof Error ? error.message : String(error);
    await client.query('UPDATE "_prisma_migrations" SET logs = $2 WHERE id = $1', [id, said]);
    throw new DryspellError('migration-failed', { migration: migration.name, when: 'now', said }, error);
  }
}
