import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { gunzipSync, gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import pg from 'pg';
import { listTables, quoted } from '../../../apps/cli/src/backup/catalogue.ts';
import { restoreBackup } from '../../../apps/cli/src/backup/restore-backup.ts';
import { writeBackup } from '../../../apps/cli/src/backup/write-backup.ts';
import { systemActor } from '../../../libs/data/src/actor.ts';
import { createDatabase } from '../../../libs/data/src/database.ts';
import { ensureOrganisation } from '../../../libs/data/src/organisation.repository.ts';
import { applyImport } from '../../../libs/data/src/season-import.repository.ts';
import { createEmptyDatabase, createTestDatabase, type TestDatabase } from '../../builders/test-database.ts';

const root = path.resolve(import.meta.dirname, '../../..');
const migrationsFolder = path.join(root, 'prisma/migrations');
const MADE_AT = new Date('2027-04-12T06:00:00Z');

let folder: string;
let source: TestDatabase;
let backup: string;
const databases: TestDatabase[] = [];

/** Every row of every table as text, in an order of its own: what two equal databases have in common. */
async function contentOf(url: string): Promise<Record<string, string[]>> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    await client.query("SET TimeZone = 'UTC'");
    const content: Record<string, string[]> = {};
    for (const { name } of await listTables(client)) {
      const { rows } = await client.query<{ row: string }>(
        `SELECT t::text AS "row" FROM public.${quoted(name)} t ORDER BY 1`,
      );
      content[name] = rows.map(({ row }) => row);
    }
    return content;
  } finally {
    await client.end();
  }
}

async function constraintsOf(url: string): Promise<string[]> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    const { rows } = await client.query<{ line: string }>(`
      SELECT format('%s %s %s', conrelid::regclass, conname, pg_get_constraintdef(oid)) AS line
      FROM pg_constraint WHERE connamespace = 'public'::regnamespace
      UNION ALL
      SELECT format('%s %s enabled=%s', tgrelid::regclass, tgname, tgenabled) FROM pg_trigger WHERE NOT tgisinternal
      ORDER BY 1`);
    return rows.map(({ line }) => line);
  } finally {
    await client.end();
  }
}

async function emptyDatabase(): Promise<string> {
  const database = await createEmptyDatabase();
  databases.push(database);
  return database.url;
}

function restoreInto(
  databaseUrl: string,
  file: string,
  files = `files-${Math.random().toString(36).slice(2)}`,
) {
  return restoreBackup({
    databaseUrl,
    source: file,
    filesFolder: path.join(folder, files),
    migrationsFolder,
  });
}

/** Writes the backup again with one of its lines changed. */
function tampered(change: (lines: string[]) => string[]): string {
  const lines = gunzipSync(fs.readFileSync(backup)).toString('utf8').trimEnd().split('\n');
  const file = path.join(folder, `tampered-${Math.random().toString(36).slice(2)}.gz`);
  fs.writeFileSync(file, gzipSync(`${change(lines).join('\n')}\n`));
  return file;
}

beforeAll(async () => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-backup-'));
  source = await createTestDatabase();
  databases.push(source);
  const db = createDatabase({ url: source.url });
  try {
    const actor = systemActor('test');
    const organisation = await ensureOrganisation(
      db,
      { key: 'larch-loon', name: 'Larch & Loon Domes (invented)', zone: 'America/Halifax', isDemo: true },
      actor,
    );
    const file = fs.readFileSync(path.join(root, 'prisma/demo/larch-and-loon-2027.json'), 'utf8');
    const report = await applyImport(db, organisation.id, JSON.parse(file), actor);
    expect(report.ok).toBe(true);
  } finally {
    await db.close();
  }
  fs.mkdirSync(path.join(folder, 'files/sites'), { recursive: true });
  fs.writeFileSync(
    path.join(folder, 'files/sites/pad.jpg'),
    Buffer.from(Array.from({ length: 300_001 }, (_, i) => i % 251)),
  );
  fs.writeFileSync(path.join(folder, 'files/empty.txt'), '');
  backup = path.join(folder, 'backup.ndjson.gz');
  await writeBackup({
    databaseUrl: source.url,
    filesFolder: path.join(folder, 'files'),
    target: backup,
    program: '0.1.0',
    madeAt: MADE_AT,
  });
}, 120_000);

afterAll(async () => {
  for (const database of databases) await database.drop();
  fs.rmSync(folder, { recursive: true, force: true });
});

describe('backup and restore', () => {
  it('give back every row, every file, every constraint and every trigger', async () => {
    const url = await emptyDatabase();
    const manifest = await restoreInto(url, backup, 'files-back');
    const before = await contentOf(source.url);
    expect(await contentOf(url)).toEqual(before);
    expect(await constraintsOf(url)).toEqual(await constraintsOf(source.url));
    expect(manifest.tables.find(({ name }) => name === 'sites')?.rows).toBe(before['sites']?.length);
    expect(before['sites']?.length).toBeGreaterThan(20);
    for (const name of ['sites/pad.jpg', 'empty.txt']) {
      const back = fs.readFileSync(path.join(folder, 'files-back', name));
      expect(back.equals(fs.readFileSync(path.join(folder, 'files', name)))).toBe(true);
    }
  }, 60_000);

  it('keep the backup to the eyes of its owner', () => {
    expect(fs.statSync(backup).mode & 0o777).toBe(0o600);
  });

  it('refuse a name that is taken, and leave that file alone', async () => {
    const before = fs.readFileSync(backup);
    const again = writeBackup({
      databaseUrl: source.url,
      filesFolder: undefined,
      target: backup,
      program: '0.1.0',
      madeAt: MADE_AT,
    });
    await expect(again).rejects.toThrow('exists already');
    expect(fs.readFileSync(backup).equals(before)).toBe(true);
  });

  it('refuse a database that holds rows', async () => {
    const before = await contentOf(source.url);
    await expect(restoreInto(source.url, backup)).rejects.toThrow('the database is not empty');
    expect(await contentOf(source.url)).toEqual(before);
  });

  it('refuse a folder that holds files', async () => {
    await expect(restoreInto(await emptyDatabase(), backup, 'files')).rejects.toThrow('is not empty');
  });

  it.each<[string, (lines: string[]) => string[], string]>([
    [
      'a changed row',
      (lines) => lines.map((line) => line.replace('America/Halifax', 'America/Toronto')),
      'damaged',
    ],
    ['a row that is missing', (lines) => lines.filter((_, index) => index !== findRow(lines)), 'damaged'],
    ['an end that is missing', (lines) => lines.slice(0, -1), 'cut short'],
    ['a manifest that tells other parts', (lines) => [...lines.slice(0, -1), emptyManifest()], 'manifest'],
    [
      'a later form',
      (lines) => [(lines[0] ?? '').replace('"formatVersion":1', '"formatVersion":2'), ...lines.slice(1)],
      'form 2',
    ],
    [
      'a newer program',
      (lines) => [
        (lines[0] ?? '').replace('"migrations":[', '"migrations":["29990101000000_later",'),
        ...lines.slice(1),
      ],
      'newer Dryspell',
    ],
    ['another kind of file', () => ['{"hello":1}'], 'not a Dryspell backup'],
  ])('refuse a backup with %s and restore nothing', async (_what, change, message) => {
    const url = await emptyDatabase();
    await expect(restoreInto(url, tampered(change))).rejects.toThrow(message);
    const rows = Object.values(await contentOf(url)).flat();
    expect(rows).toEqual([]);
  });

  it('refuse a file that was cut in the middle', async () => {
    const cut = path.join(folder, 'cut.gz');
    fs.writeFileSync(cut, fs.readFileSync(backup).subarray(0, 20_000));
    await expect(restoreInto(await emptyDatabase(), cut)).rejects.toThrow('damaged or cut short');
  });

  it('refuse a file that leads out of the folder', async () => {
    const file = tampered((lines) =>
      lines.map((line) => line.replaceAll('"path":"empty.txt"', '"path":"../out.txt"')),
    );
    await expect(restoreInto(await emptyDatabase(), file)).rejects.toThrow('outside its folder');
    expect(fs.existsSync(path.join(folder, 'out.txt'))).toBe(false);
  });
});

function findRow(lines: readonly string[]): number {
  return lines.findIndex((line) => line.startsWith('['));
}

function emptyManifest(): string {
  return JSON.stringify({ kind: 'manifest', tables: [], files: [] });
}
