import { createHash } from 'node:crypto';
import pg from 'pg';

/** A hash and a count of the rows of each table, by name. Equal prints mean equal rows. */
export type DatabasePrint = Readonly<Record<string, string>>;

/**
 * The print of every table of the program's own schema, except those named. Rows are compared as text in a fixed order,
 * so neither their place on disk nor the order in which they were written counts.
 */
export async function databasePrint(url: string, except: readonly string[] = []): Promise<DatabasePrint> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    const { rows: tables } = await client.query<{ name: string }>(
      `SELECT tablename AS name FROM pg_tables WHERE schemaname = 'public' ORDER BY 1`,
    );
    const print: Record<string, string> = {};
    for (const { name } of tables.filter((table) => !except.includes(table.name))) {
      const quoted = `"${name.replaceAll('"', '""')}"`;
      const { rows } = await client.query<{ line: string }>(
        `SELECT t::text AS line FROM public.${quoted} t ORDER BY t::text COLLATE "C"`,
      );
      const hash = createHash('sha256');
      for (const { line } of rows) hash.update(line).update('\n');
      print[name] = `${rows.length} rows, ${hash.digest('hex').slice(0, 16)}`;
    }
    if (Object.keys(print).length === 0) throw new Error('there is no table to compare');
    return print;
  } finally {
    await client.end();
  }
}
