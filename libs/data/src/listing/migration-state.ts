import fs from 'node:fs';
import path from 'node:path';
import type { Database } from '../database.ts';

/** Names of the migrations in a folder that are not in place in the database, in order. Throws when the database does not answer. */
export async function missingMigrations(db: Database, migrationsDir: string): Promise<string[]> {
  const wanted = fs
    .readdirSync(migrationsDir, { withFileTypes: true })
    .filter(
      (entry) => entry.isDirectory() && fs.existsSync(path.join(migrationsDir, entry.name, 'migration.sql')),
    )
    .map((entry) => entry.name)
    .sort();
  const rows = await db.client.$queryRaw<{ migration_name: string }[]>`
    SELECT migration_name FROM "_prisma_migrations" WHERE finished_at IS NOT NULL AND rolled_back_at IS NULL`;
  const done = new Set(rows.map((row) => row.migration_name));
  return wanted.filter((name) => !done.has(name));
}
