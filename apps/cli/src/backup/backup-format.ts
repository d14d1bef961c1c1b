/**
 * A backup is gzip over lines of JSON: the head; for each table its description, its rows (arrays of text or null) and
 * its foot with count and SHA-256; for each file the same with chunks of base64; and the closing manifest. A backup
 * without the closing manifest was cut short and is refused.
 */
import type { BackupColumn } from './catalogue.ts';

export const BACKUP_FORMAT = 'dryspell-backup';
export const BACKUP_FORMAT_VERSION = 1;

export interface BackupHead {
  readonly kind: 'head';
  readonly format: typeof BACKUP_FORMAT;
  readonly formatVersion: number;
  readonly program: string;
  readonly madeAt: string;
  /** Migrations that were in place, in order. */
  readonly migrations: readonly string[];
}

export interface TableStart {
  readonly kind: 'table';
  readonly name: string;
  readonly columns: readonly BackupColumn[];
}

export interface TableEnd {
  readonly kind: 'tableEnd';
  readonly name: string;
  readonly rows: number;
  /** Over the row lines, each with its line break. */
  readonly sha256: string;
}

export interface FileStart {
  readonly kind: 'file';
  /** Relative, with forward slashes. */
  readonly path: string;
}

export interface FileEnd {
  readonly kind: 'fileEnd';
  readonly path: string;
  readonly bytes: number;
  readonly sha256: string;
}

export interface BackupManifest {
  readonly kind: 'manifest';
  readonly tables: readonly Omit<TableEnd, 'kind'>[];
  readonly files: readonly Omit<FileEnd, 'kind'>[];
}

export type BackupMark = BackupHead | TableStart | TableEnd | FileStart | FileEnd | BackupManifest;
/** A row of a table: every value as PostgreSQL writes it as text. */
export type BackupRow = readonly (string | null)[];
/** A mark, a row, or a chunk of a file in base64. */
export type BackupLine = BackupMark | BackupRow | string;
