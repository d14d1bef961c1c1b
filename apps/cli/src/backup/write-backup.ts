import { createHash } from 'node:crypto';
import { once } from 'node:events';
import fs from 'node:fs';
import path from 'node:path';
import { finished } from 'node:stream/promises';
import { createGzip, type Gzip } from 'node:zlib';
import pg from 'pg';
import { PlainError } from '../program/plain-error.ts';
import {
  BACKUP_FORMAT,
  BACKUP_FORMAT_VERSION,
  type BackupLine,
  type FileEnd,
  type TableEnd,
} from './backup-format.ts';
import { type BackupTable, EXACT_TEXT, listMigrations, listTables, quoted } from './catalogue.ts';

export interface WriteBackupInput {
  readonly databaseUrl: string;
  /** Folder of photos and documents; undefined when they are kept elsewhere. */
  readonly filesFolder: string | undefined;
  /** The file to make; must not exist. */
  readonly target: string;
  readonly program: string;
  readonly madeAt: Date;
}

export interface BackupSummary {
  readonly tables: readonly Omit<TableEnd, 'kind'>[];
  readonly files: readonly Omit<FileEnd, 'kind'>[];
  readonly bytes: number;
}

const ROWS_AT_ONCE = 1_000;
const CHUNK_BYTES = 192 * 1024; // a multiple of 3, so that every base64 chunk but the last is without padding

class LineWriter {
  constructor(private readonly gzip: Gzip) {}

  async write(line: BackupLine): Promise<string> {
    const text = `${JSON.stringify(line)}\n`;
    if (!this.gzip.write(text)) await once(this.gzip, 'drain');
    return text;
  }
}

async function writeTable(
  client: pg.Client,
  table: BackupTable,
  out: LineWriter,
): Promise<Omit<TableEnd, 'kind'>> {
  await out.write({ kind: 'table', ...table });
  const columns = table.columns.map(({ name }) => `${quoted(name)}::text`).join(', ');
  await client.query(
    `DECLARE backup_rows NO SCROLL CURSOR FOR SELECT ${columns} FROM public.${quoted(table.name)}`,
  );
  const hash = createHash('sha256');
  let count = 0;
  for (;;) {
    const { rows } = await client.query<(string | null)[]>({
      text: `FETCH ${ROWS_AT_ONCE} FROM backup_rows`,
      rowMode: 'array',
    });
    for (const row of rows) hash.update(await out.write(row));
    count += rows.length;
    if (rows.length < ROWS_AT_ONCE) break;
  }
  await client.query('CLOSE backup_rows');
  const end = { name: table.name, rows: count, sha256: hash.digest('hex') };
  await out.write({ kind: 'tableEnd', ...end });
  return end;
}

async function writeFile(folder: string, relative: string, out: LineWriter): Promise<Omit<FileEnd, 'kind'>> {
  await out.write({ kind: 'file', path: relative });
  const hash = createHash('sha256');
  let bytes = 0;
  for await (const chunk of fs.createReadStream(path.join(folder, relative), {
    highWaterMark: CHUNK_BYTES,
  })) {
    const data = chunk as Buffer;
    hash.update(data);
    bytes += data.length;
    await out.write(data.toString('base64'));
  }
  const end = { path: relative, bytes, sha256: hash.digest('hex') };
  await out.write({ kind: 'fileEnd', ...end });
  return end;
}

function filesUnder(folder: string | undefined): string[] {
  if (folder === undefined || !fs.existsSync(folder)) return [];
  return fs
    .readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.relative(folder, path.join(entry.parentPath, entry.name)).replaceAll(path.sep, '/'))
    .sort();
}

/**
 * Writes all rows of one moment (one REPEATABLE READ transaction), then the files, into one new file of mode 0600.
 * The file gets its name only when it is complete and on disk. The queue is left out: its jobs follow from the rows.
 */
export async function writeBackup(input: WriteBackupInput): Promise<BackupSummary> {
  if (fs.existsSync(input.target))
    throw new PlainError(`${input.target} exists already; choose another name`);
  const half = `${input.target}.part`;
  const client = new pg.Client({ connectionString: input.databaseUrl });
  await client.connect();
  try {
    const gzip = createGzip();
    const file = fs.createWriteStream(half, { flags: 'wx', mode: 0o600, flush: true });
    const written = finished(gzip.pipe(file));
    written.catch((error: Error) => gzip.destroy(error)); // ends a writer that waits for room; awaited below
    const out = new LineWriter(gzip);
    await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
    for (const setting of EXACT_TEXT) await client.query(setting);
    await out.write({
      kind: 'head',
      format: BACKUP_FORMAT,
      formatVersion: BACKUP_FORMAT_VERSION,
      program: input.program,
      madeAt: input.madeAt.toISOString(),
      migrations: await listMigrations(client),
    });
    const tables = [];
    for (const table of await listTables(client)) tables.push(await writeTable(client, table, out));
    await client.query('COMMIT');
    const files = [];
    for (const name of filesUnder(input.filesFolder))
      files.push(await writeFile(input.filesFolder ?? '', name, out));
    await out.write({ kind: 'manifest', tables, files });
    gzip.end();
    await written;
    if (fs.existsSync(input.target))
      throw new PlainError(`${input.target} has been made meanwhile; choose another name`);
    fs.renameSync(half, input.target);
    return { tables, files, bytes: fs.statSync(input.target).size };
  } finally {
    fs.rmSync(half, { force: true });
    await client.end();
  }
}
