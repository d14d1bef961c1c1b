import type pg from 'pg';

/** One stored column, as the database describes it. */
export interface BackupColumn {
  readonly name: string;
  /** Type as SQL writes it, such as `timestamp(3) with time zone`. */
  readonly type: string;
}

export interface BackupTable {
  readonly name: string;
  readonly columns: readonly BackupColumn[];
}

/** Prisma's history of migrations: it goes into the head of the backup, not among the rows. */
export const MIGRATION_TABLE = '_prisma_migrations';

/** Text forms that read back to exactly the same value, whatever the server's own settings are. */
export const EXACT_TEXT = [
  "SET LOCAL TimeZone = 'UTC'",
  "SET LOCAL DateStyle = 'ISO, YMD'",
  "SET LOCAL IntervalStyle = 'iso_8601'",
  'SET LOCAL extra_float_digits = 3',
  "SET LOCAL bytea_output = 'hex'",
];

/** The tables of the program (schema `public`) with their stored columns, in the order of their names. */
export async function listTables(client: pg.ClientBase): Promise<BackupTable[]> {
  const { rows } = await client.query<{ table: string; column: string; type: string }>(`
    SELECT c.relname AS "table", a.attname AS "column", format_type(a.atttypid, a.atttypmod) AS "type"
    FROM pg_class c
    JOIN pg_namespace n ON n.oid = c.relnamespace
    JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum > 0 AND NOT a.attisdropped AND a.attgenerated = ''
    WHERE n.nspname = 'public' AND c.relkind IN ('r', 'p') AND NOT c.relispartition AND c.relname <> '${MIGRATION_TABLE}'
    ORDER BY c.relname COLLATE "C", a.attnum`);
  const tables = new Map<string, BackupColumn[]>();
  for (const { table, column, type } of rows) {
    const columns = tables.get(table) ?? [];
    columns.push({ name: column, type });
    tables.set(table, columns);
  }
  return [...tables].map(([name, columns]) => ({ name, columns }));
}

/** Names of the migrations that are in place, in order; empty when the database was never migrated. */
export async function listMigrations(client: pg.ClientBase): Promise<string[]> {
  const present = await client.query(`SELECT to_regclass('public.${MIGRATION_TABLE}') AS found`);
  if (present.rows[0]?.found === null) return [];
  const { rows } = await client.query<{ migration_name: string }>(
    `SELECT migration_name FROM "${MIGRATION_TABLE}"
     WHERE finished_at IS NOT NULL AND rolled_back_at IS NULL ORDER BY migration_name COLLATE "C"`,
  );
  return rows.map(({ migration_name }) => migration_name);
}

export const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`;
