import { randomBytes } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import pg from 'pg';
import { applyMigrations } from '../../../../libs/data/src/migrate.ts';
import { PlainError } from '../program/plain-error.ts';
import type { BackupHead, BackupManifest, BackupRow, TableStart } from './backup-format.ts';
import { type BackupColumn, EXACT_TEXT, listMigrations, listTables, quoted } from './catalogue.ts';
import { readBackup } from './read-lines.ts';

export interface RestoreInput {
  readonly databaseUrl: string;
  readonly source: string;
  /** Where photos and documents go; must be empty. */
  readonly filesFolder: string;
  readonly migrationsFolder: string;
}

interface ForeignKey {
  readonly table: string;
  readonly name: string;
  readonly definition: string;
}

function migrationNames(folder: string): string[] {
  return fs
    .readdirSync(folder)
    .filter((name) => fs.existsSync(path.join(folder, name, 'migration.sql')))
    .sort();
}

/** Brings the empty database to exactly the tables that the backup was made from. */
async function migrateTo(head: BackupHead, input: RestoreInput): Promise<void> {
  const known = new Set(migrationNames(input.migrationsFolder));
  const unknown = head.migrations.filter((name) => !known.has(name));
  if (unknown.length > 0) {
    throw new PlainError(
      `the backup was made by a newer Dryspell (${head.program}; unknown migration ${unknown[0]}). Use that version or newer.`,
    );
  }
  const some = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-restore-'));
  try {
    for (const name of head.migrations) {
      fs.cpSync(path.join(input.migrationsFolder, name), path.join(some, name), { recursive: true });
    }
    await applyMigrations({ databaseUrl: input.databaseUrl, migrationsDir: some });
  } finally {
    fs.rmSync(some, { recursive: true, force: true });
  }
}

async function refuseUnlessEmpty(client: pg.Client, filesFolder: string): Promise<void> {
  for (const { name } of await listTables(client)) {
    const { rowCount } = await client.query(`SELECT 1 FROM public.${quoted(name)} LIMIT 1`);
    if (rowCount !== 0) {
      throw new PlainError(
        `the database is not empty (${name} has rows), so nothing was restored. Restore into a new one: ` +
          'pass --data with a new folder, or set DATABASE_URL to an empty database.',
      );
    }
  }
  if (fs.existsSync(filesFolder) && fs.readdirSync(filesFolder).length > 0) {
    throw new PlainError(
      `${filesFolder} is not empty, so nothing was restored. Pass --data with a new folder.`,
    );
  }
}

async function listForeignKeys(client: pg.Client): Promise<ForeignKey[]> {
  const { rows } = await client.query<ForeignKey>(`
    SELECT c.relname AS "table", k.conname AS "name", pg_get_constraintdef(k.oid) AS "definition"
    FROM pg_constraint k JOIN pg_class c ON c.oid = k.conrelid JOIN pg_namespace n ON n.oid = c.relnamespace
    WHERE k.contype = 'f' AND n.nspname = 'public' AND k.conparentid = 0`);
  return rows;
}

/** Numbers given out by the database go on after the largest that was restored. */
async function advanceSequences(client: pg.Client): Promise<void> {
  const { rows } = await client.query<{ table: string; column: string; sequence: string }>(`
    SELECT c.relname AS "table", a.attname AS "column", pg_get_serial_sequence(format('public.%I', c.relname), a.attname) AS "sequence"
    FROM pg_attribute a JOIN pg_class c ON c.oid = a.attrelid JOIN pg_namespace n ON n.oid = c.relnamespace
    WHERE n.nspname = 'public' AND c.relkind IN ('r', 'p') AND a.attnum > 0 AND NOT a.attisdropped
      AND pg_get_serial_sequence(format('public.%I', c.relname), a.attname) IS NOT NULL`);
  for (const { table, column, sequence } of rows) {
    await client.query(
      `SELECT setval($1, COALESCE((SELECT max(${quoted(column)}) FROM public.${quoted(table)}), 0) + 1, false)`,
      [sequence],
    );
  }
}

function insertStatement(table: string, columns: readonly BackupColumn[]): string {
  const names = columns.map(({ name }) => quoted(name)).join(', ');
  const values = columns.map(({ type }, index) => `(r ->> ${index})::${type}`).join(', ');
  // One parameter for all rows; ->> gives NULL for JSON null and the exact text otherwise.
  return `INSERT INTO public.${quoted(table)} (${names}) OVERRIDING SYSTEM VALUE SELECT ${values} FROM jsonb_array_elements($1::jsonb) AS r`;
}

/** A path from a backup may not lead out of the folder. */
function safePath(folder: string, relative: string): string {
  const full = path.resolve(folder, relative);
  if (!full.startsWith(`${path.resolve(folder)}${path.sep}`)) {
    throw new PlainError('the backup is damaged: it holds a file outside its folder');
  }
  return full;
}

/**
 * Reads a backup into an empty database and an empty folder: all of it or, when anything is wrong, nothing of it. The
 * tables of an older backup are brought up to date afterwards. Throws PlainError.
 */
export async function restoreBackup(input: RestoreInput): Promise<BackupManifest> {
  const client = new pg.Client({ connectionString: input.databaseUrl });
  await client.connect();
  const half = `${input.filesFolder}.restoring-${randomBytes(4).toString('hex')}`;
  try {
    await refuseUnlessEmpty(client, input.filesFolder);
    // Read once for its head and its checksums alone: a damaged backup is refused before anything is touched.
    let head: BackupHead | undefined;
    const ignore = async (): Promise<void> => {};
    await readBackup(input.source, {
      head: async (found) => {
        head = found;
      },
      table: ignore,
      rows: ignore,
      file: ignore,
      chunk: ignore,
      fileEnd: ignore,
    });
    if (head === undefined) throw new PlainError(`${input.source} is not a Dryspell backup`);
    await prepareTables(client, head, input);
    const manifest = await fill(client, input, half);
    await applyMigrations({ databaseUrl: input.databaseUrl, migrationsDir: input.migrationsFolder });
    return manifest;
  } finally {
    fs.rmSync(half, { recursive: true, force: true });
    await client.end();
  }
}

async function prepareTables(client: pg.Client, head: BackupHead, input: RestoreInput): Promise<void> {
  const present = await listMigrations(client);
  const wanted = new Set(head.migrations);
  const extra = present.filter((name) => !wanted.has(name));
  if (extra.length > 0) {
    throw new PlainError(
      `the database was migrated past the backup (${extra[0]}), so nothing was restored. Restore into a new, empty database.`,
    );
  }
  await migrateTo(head, input);
}

async function fill(client: pg.Client, input: RestoreInput, half: string): Promise<BackupManifest> {
  await client.query('BEGIN');
  try {
    for (const setting of EXACT_TEXT) await client.query(setting);
    const tables = await listTables(client);
    // Rows come in the order of table names: references are checked when all are there, our own triggers not at all.
    const keys = await listForeignKeys(client);
    for (const key of keys)
      await client.query(`ALTER TABLE public.${quoted(key.table)} DROP CONSTRAINT ${quoted(key.name)}`);
    for (const { name } of tables)
      await client.query(`ALTER TABLE public.${quoted(name)} DISABLE TRIGGER USER`);

    const known = new Map(tables.map((table) => [table.name, JSON.stringify(table.columns)]));
    let insert = '';
    let file: fs.WriteStream | undefined;
    const manifest = await readBackup(input.source, {
      head: async () => {},
      table: async (table: TableStart) => {
        if (known.get(table.name) !== JSON.stringify(table.columns)) {
          throw new PlainError(
            `the table ${table.name} of the backup differs from the database; nothing was restored`,
          );
        }
        insert = insertStatement(table.name, table.columns);
      },
      rows: async (rows: readonly BackupRow[]) => {
        await client.query(insert, [JSON.stringify(rows)]);
      },
      file: async (relative) => {
        const target = safePath(half, relative);
        fs.mkdirSync(path.dirname(target), { recursive: true, mode: 0o700 });
        file = fs.createWriteStream(target, { mode: 0o600, flush: true });
      },
      chunk: async (data) => {
        await new Promise<void>((resolve, reject) =>
          file?.write(data, (error) => (error ? reject(error) : resolve())),
        );
      },
      fileEnd: async () => {
        await new Promise<void>((resolve) => file?.end(resolve));
      },
    });

    await advanceSequences(client);
    for (const { name } of tables)
      await client.query(`ALTER TABLE public.${quoted(name)} ENABLE TRIGGER USER`);
    for (const { table, name, definition } of keys) {
      await client.query(`ALTER TABLE public.${quoted(table)} ADD CONSTRAINT ${quoted(name)} ${definition}`);
    }
    if (fs.existsSync(half)) {
      fs.rmSync(input.filesFolder, { recursive: true, force: true });
      fs.renameSync(half, input.filesFolder);
    }
    await client.query('COMMIT');
    return manifest;
  } catch (error) {
    await client.query('ROLLBACK').catch(() => undefined); // the first error is the one to tell
    throw error;
  }
}
