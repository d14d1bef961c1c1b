import { createHash } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from '@jest/globals';
import pg from 'pg';
import { applyMigrations } from '../../../libs/data/src/migrate.ts';
import { createEmptyDatabase, type TestDatabase } from '../../builders/test-database.ts';

let database: TestDatabase;
let folder: string;

beforeEach(async () => {
  database = await createEmptyDatabase();
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-migrations-'));
  write('1_first', 'CREATE TABLE a (id int);');
  write(
    '2_second',
    "CREATE FUNCTION f() RETURNS text LANGUAGE sql AS $$ SELECT 'a;b' $$; ALTER TABLE a ADD COLUMN b int;",
  );
}, 30_000);

afterEach(async () => {
  await database.drop();
  fs.rmSync(folder, { recursive: true });
});

function write(name: string, sql: string): void {
  fs.mkdirSync(path.join(folder, name), { recursive: true });
  fs.writeFileSync(path.join(folder, name, 'migration.sql'), sql);
}

const run = () => applyMigrations({ databaseUrl: database.url, migrationsDir: folder });

async function query(sql: string): Promise<Record<string, unknown>[]> {
  const client = new pg.Client({ connectionString: database.url });
  await client.connect();
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
}

describe('applyMigrations', () => {
  it('applies what is missing, in order, once, and notes it as Prisma does', async () => {
    expect(await run()).toEqual({ applied: ['1_first', '2_second'] });
    expect(await run()).toEqual({ applied: [] });
    write('3_third', 'DROP FUNCTION f();');
    expect(await run()).toEqual({ applied: ['3_third'] });
    const rows = await query(
      'SELECT migration_name, checksum, finished_at IS NOT NULL AS done, applied_steps_count FROM _prisma_migrations ORDER BY 1',
    );
    const checksum = createHash('sha256').update('CREATE TABLE a (id int);').digest('hex');
    expect(rows[0]).toEqual({ migration_name: '1_first', checksum, done: true, applied_steps_count: 1 });
    expect(rows).toHaveLength(3);
  });

  it('lets one of several at once do the work', async () => {
    const results = await Promise.all([run(), run(), run()]);
    expect(results.map(({ applied }) => applied.length).sort()).toEqual([0, 0, 2]);
  });

  it('refuses a migration whose file changed or is gone', async () => {
    await run();
    write('1_first', 'CREATE TABLE a (id bigint);');
    await expect(run()).rejects.toMatchObject({ code: 'migration-changed', data: { migration: '1_first' } });
    fs.rmSync(path.join(folder, '1_first'), { recursive: true });
    await expect(run()).rejects.toMatchObject({ code: 'migration-changed', data: { migration: '1_first' } });
  });

  it('leaves nothing of a migration that fails, and stops until it is mended', async () => {
    write('3_third', 'CREATE TABLE c (id int); SELECT 1 / 0;');
    await expect(run()).rejects.toMatchObject({
      code: 'migration-failed',
      data: { migration: '3_third', when: 'now' },
    });
    expect(await query("SELECT to_regclass('c')::text AS c")).toEqual([{ c: null }]);
    await expect(run()).rejects.toMatchObject({
      code: 'migration-failed',
      data: { migration: '3_third', when: 'earlier' },
    });
    await query('UPDATE _prisma_migrations SET rolled_back_at = now() WHERE finished_at IS NULL');
    write('3_third', 'CREATE TABLE c (id int);');
    expect(await run()).toEqual({ applied: ['3_third'] });
  });
});
