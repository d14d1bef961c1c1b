import { type SeasonTableName, seasonTable, validateSeasonRow } from '../../contracts/src/index.ts';
import { DryspellError } from '../../kernel/src/index.ts';
import type { Actor } from './actor.ts';
import { writeAudit } from './audit.repository.ts';
import type { Database, Tx } from './database.ts';
import { getSeasonById } from './season.repository.ts';
import {
  type DatabaseRow,
  delegateOf,
  type FileRow,
  keyTextOf,
  toDatabaseRow,
  toFileRow,
  whereKey,
} from './season-tables.ts';

/** One row of a season table in the words of the season file. */
export interface StoredRow {
  readonly id: string;
  readonly version: number;
  readonly row: FileRow;
}

interface Target {
  readonly seasonId: string;
  readonly table: SeasonTableName;
}

/** All rows of one table of a season, by natural key. */
export async function listRows(db: Database, target: Target): Promise<StoredRow[]> {
  const rows = await delegateOf(db.client, target.table).findMany({ where: { seasonId: target.seasonId } });
  const table = seasonTable(target.table);
  return rows
    .map((row) => storedOf(target.table, row))
    .sort((a, b) => keyTextOf(table, a.row).localeCompare(keyTextOf(table, b.row), 'en', { numeric: true }));
}

/** The row with these key values, or null. */
export async function findRow(
  db: Database,
  target: Target & { readonly key: Readonly<Record<string, unknown>> },
): Promise<StoredRow | null> {
  const where = { seasonId: target.seasonId, ...whereKey(target.table, target.key) };
  const row = await delegateOf(db.client, target.table).findFirst({ where });
  return row ? storedOf(target.table, row) : null;
}

/** Adds a row. Throws `invalid-input` with `data.faults`, `already-exists`, `in-use` (a reference to nothing), `overlap`. */
export async function addRow(
  db: Database,
  input: Target & { readonly row: Readonly<Record<string, unknown>>; readonly actor: Actor },
): Promise<StoredRow> {
  return db.transaction(async (tx) => {
    const row = sound(input.table, input.row);
    const data = { seasonId: input.seasonId, ...toDatabaseRow(input.table, row) };
    const stored = storedOf(input.table, await delegateOf(tx, input.table).create({ data }));
    await audit(tx, input, 'added', null, stored);
    return stored;
  });
}

export interface RowChange extends Target {
  readonly id: string;
  readonly version: number;
  /** Only the columns that change; null empties a cell. */
  readonly changes: Readonly<Record<string, unknown>>;
  readonly actor: Actor;
}

/** Changes cells of a row. Throws `not-found`, `version-conflict`, and as `addRow`. Nothing new leaves the version as it is. */
export async function changeRow(db: Database, input: RowChange): Promise<StoredRow> {
  return db.transaction(async (tx) => {
    const before = await versionOf(tx, input);
    const row = sound(input.table, { ...before.row, ...input.changes });
    const data = toDatabaseRow(input.table, row);
    const after = storedOf(
      input.table,
      await delegateOf(tx, input.table).update({ where: { id: input.id }, data }),
    );
    if (after.version !== before.version) await audit(tx, input, 'changed', before, after);
    return after;
  });
}

/** Removes a row with what is part of it. Throws `not-found`, `version-conflict`, `in-use` when others refer to it. */
export async function removeRow(
  db: Database,
  input: Target & { readonly id: string; readonly version: number; readonly actor: Actor },
): Promise<void> {
  await db.transaction(async (tx) => {
    const before = await versionOf(tx, input);
    await delegateOf(tx, input.table).deleteMany({ where: { id: input.id } });
    await audit(tx, input, 'removed', before, null);
  });
}

async function rowOf(tx: Tx, target: Target & { readonly id: string }): Promise<DatabaseRow> {
  const row = await delegateOf(tx, target.table).findFirst({
    where: { id: target.id, seasonId: target.seasonId },
  });
  if (!row) throw new DryspellError('not-found', { table: target.table, row: target.id });
  return row;
}

async function versionOf(
  tx: Tx,
  input: Target & { readonly id: string; readonly version: number },
): Promise<StoredRow> {
  const stored = storedOf(input.table, await rowOf(tx, input));
  if (stored.version !== input.version)
    throw new DryspellError('version-conflict', { version: stored.version });
  return stored;
}

function sound(table: SeasonTableName, row: Readonly<Record<string, unknown>>): Record<string, unknown> {
  const faults = validateSeasonRow(table, row);
  if (faults.length > 0) throw new DryspellError('invalid-input', { faults });
  return row;
}

function storedOf(table: SeasonTableName, row: DatabaseRow): StoredRow {
  return { id: row['id'] as string, version: row['version'] as number, row: toFileRow(table, row) };
}

async function audit(
  tx: Tx,
  input: Target & { readonly actor: Actor },
  what: 'added' | 'changed' | 'removed',
  before: StoredRow | null,
  after: StoredRow | null,
): Promise<void> {
  const season = await getSeasonById(tx, input.seasonId);
  const stored = (after ?? before) as StoredRow;
  await writeAudit(tx, {
    actor: input.actor,
    organisationId: season.organisationId,
    seasonId: season.id,
    action: `${input.table}.${what}`,
    subjectKind: input.table,
    subjectId: stored.id,
    subjectKey: keyTextOf(seasonTable(input.table), stored.row),
    before: before?.row,
    after: after?.row,
  });
}
