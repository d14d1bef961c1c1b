import fs from 'node:fs';
import path from 'node:path';
import pg from 'pg';
import { listMigrations } from '../backup/catalogue.ts';
import { migrationsFolder } from '../program/program-root.ts';
import type { Finding } from './finding.ts';

/** Version and size of the database, and whether its tables are up to date. Changes nothing. */
export async function checkDatabase(databaseUrl: string, shownAs: string): Promise<Finding[]> {
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  try {
    const { rows } = await client.query<{ version: string; size: string }>(
      "SELECT current_setting('server_version') AS version, pg_size_pretty(pg_database_size(current_database())) AS size",
    );
    const applied = new Set(await listMigrations(client));
    const folder = migrationsFolder();
    const missing = fs
      .readdirSync(folder)
      .filter((name) => fs.existsSync(path.join(folder, name, 'migration.sql')) && !applied.has(name));
    return [
      { subject: 'database', ok: true, said: `${shownAs}, version ${rows[0]?.version}, ${rows[0]?.size}` },
      {
        subject: 'tables',
        ok: missing.length === 0,
        said:
          missing.length === 0
            ? `up to date (${applied.size} migrations)`
            : `${missing.length} migrations are missing; npm start or npm run dryspell -- migrate brings them`,
      },
    ];
  } finally {
    await client.end();
  }
}
