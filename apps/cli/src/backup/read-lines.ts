import { createHash, type Hash } from 'node:crypto';
import fs from 'node:fs';
import { createInterface } from 'node:readline';
import { createGunzip } from 'node:zlib';
import { PlainError } from '../program/plain-error.ts';
import {
  BACKUP_FORMAT,
  BACKUP_FORMAT_VERSION,
  type BackupHead,
  type BackupLine,
  type BackupManifest,
  type BackupRow,
  type FileEnd,
  type TableEnd,
  type TableStart,
} from './backup-format.ts';

/** What a reader of a backup does with its parts, in their order. */
export interface BackupVisitor {
  head(head: BackupHead): Promise<void>;
  table(table: TableStart): Promise<void>;
  rows(rows: readonly BackupRow[]): Promise<void>;
  file(path: string): Promise<void>;
  chunk(data: Buffer): Promise<void>;
  fileEnd(): Promise<void>;
}

const ROWS_AT_ONCE = 500;

async function* linesOf(source: string): AsyncGenerator<string> {
  const gunzip = createGunzip();
  const file = fs.createReadStream(source);
  file.once('error', (error) => gunzip.destroy(error));
  const lines = createInterface({ input: file.pipe(gunzip), crlfDelay: Number.POSITIVE_INFINITY });
  const failed = new Promise<never>((_, reject) => gunzip.once('error', reject));
  failed.catch(() => undefined); // awaited beside each line below
  const iterator = lines[Symbol.asyncIterator]();
  for (;;) {
    const next = await Promise.race([iterator.next(), failed]);
    if (next.done === true) return;
    yield next.value;
  }
}

function checkHead(line: BackupLine): BackupHead {
  const isHead = typeof line === 'object' && !Array.isArray(line) && (line as BackupHead).kind === 'head';
  const head = line as BackupHead;
  if (!isHead || head.format !== BACKUP_FORMAT) throw new PlainError('this is not a Dryspell backup');
  if (head.formatVersion !== BACKUP_FORMAT_VERSION) {
    throw new PlainError(
      `this backup is of form ${head.formatVersion}; this program reads form ${BACKUP_FORMAT_VERSION}`,
    );
  }
  return head;
}

function mustBeEqual(
  what: string,
  read: { sha256: string },
  noted: { sha256: string },
  count: [number, number],
): void {
  if (read.sha256 === noted.sha256 && count[0] === count[1]) return;
  throw new PlainError(`the backup is damaged: ${what} differs from its own checksum. Use another backup.`);
}

/** Walks the lines and checks counts, checksums and the closing manifest on the way. */
class BackupReader {
  private hash: Hash = createHash('sha256');
  private count = 0;
  private open: string | undefined;
  private waiting: BackupRow[] = [];
  private readonly tables: Omit<TableEnd, 'kind'>[] = [];
  private readonly files: Omit<FileEnd, 'kind'>[] = [];
  manifest: BackupManifest | undefined;

  constructor(private readonly visitor: BackupVisitor) {}

  async take(line: BackupLine, text: string): Promise<void> {
    if (Array.isArray(line)) return this.takeRow(line as BackupRow, text);
    if (typeof line === 'string') return this.takeChunk(line);
    const mark = line as Exclude<BackupLine, BackupRow | string>;
    switch (mark.kind) {
      case 'table':
        this.begin(mark.name);
        return this.visitor.table(mark);
      case 'tableEnd':
        await this.flush();
        mustBeEqual(`the table ${mark.name}`, this.end(), mark, [this.count, mark.rows]);
        this.tables.push({ name: mark.name, rows: mark.rows, sha256: mark.sha256 });
        return;
      case 'file':
        this.begin(mark.path);
        return this.visitor.file(mark.path);
      case 'fileEnd':
        mustBeEqual(`the file ${mark.path}`, this.end(), mark, [this.count, mark.bytes]);
        this.files.push({ path: mark.path, bytes: mark.bytes, sha256: mark.sha256 });
        return this.visitor.fileEnd();
      case 'manifest':
        this.manifest = mark;
        return this.checkManifest(mark);
      case 'head':
        throw new PlainError('the backup is damaged: it has a second head. Use another backup.');
    }
  }

  private begin(name: string): void {
    if (this.open !== undefined)
      throw new PlainError(`the backup is damaged: ${this.open} has no end. Use another backup.`);
    this.open = name;
    this.hash = createHash('sha256');
    this.count = 0;
  }

  private end(): { sha256: string } {
    this.open = undefined;
    return { sha256: this.hash.digest('hex') };
  }

  private async takeRow(row: BackupRow, text: string): Promise<void> {
    this.hash.update(`${text}\n`);
    this.count += 1;
    this.waiting.push(row);
    if (this.waiting.length >= ROWS_AT_ONCE) await this.flush();
  }

  private async takeChunk(text: string): Promise<void> {
    const data = Buffer.from(text, 'base64');
    this.hash.update(data);
    this.count += data.length;
    await this.visitor.chunk(data);
  }

  private async flush(): Promise<void> {
    const rows = this.waiting.splice(0);
    if (rows.length > 0) await this.visitor.rows(rows);
  }

  private checkManifest(manifest: BackupManifest): void {
    const read = JSON.stringify([this.tables, this.files]);
    if (read !== JSON.stringify([manifest.tables, manifest.files])) {
      throw new PlainError('the backup is damaged: its parts differ from its manifest. Use another backup.');
    }
  }
}

/** Reads a whole backup through the visitor. Throws PlainError when it is cut short, damaged or no backup. */
export async function readBackup(source: string, visitor: BackupVisitor): Promise<BackupManifest> {
  const reader = new BackupReader(visitor);
  let first = true;
  try {
    for await (const text of linesOf(source)) {
      if (reader.manifest !== undefined)
        throw new PlainError('the backup is damaged: it goes on after its end');
      const line = JSON.parse(text) as BackupLine;
      if (first) await visitor.head(checkHead(line));
      else await reader.take(line, text);
      first = false;
    }
  } catch (error) {
    const { code } = error as { code?: string };
    if (code === 'ENOENT') throw new PlainError(`there is no file ${source}`);
    if (code === 'Z_DATA_ERROR' && first) throw new PlainError(`${source} is not a Dryspell backup`);
    if (code === 'Z_BUF_ERROR' || code === 'Z_DATA_ERROR' || error instanceof SyntaxError) {
      throw new PlainError('the backup is damaged or cut short. Use another backup.');
    }
    throw error;
  }
  if (reader.manifest === undefined)
    throw new PlainError('the backup is cut short: its closing manifest is missing');
  return reader.manifest;
}
