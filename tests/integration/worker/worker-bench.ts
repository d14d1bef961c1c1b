// What the worker tests share: a database of their own with all tables, and a log that remembers.
import path from 'node:path';
import pg from 'pg';
import { createLog, type Log } from '../../../apps/worker/src/log.ts';
import { createDatabase, type Database } from '../../../libs/data/src/database.ts';
import { createTestDatabase } from '../../builders/test-database.ts';

export { until } from '../queue/queue-bench.ts';

export const root = path.resolve(import.meta.dirname, '../../..');

export interface WorkerDatabase {
  readonly url: string;
  readonly db: Database;
  /** One SQL statement on a connection of its own. */
  sql<Row = Record<string, unknown>>(text: string, values?: unknown[]): Promise<Row[]>;
  destroy(): Promise<void>;
}

export async function createWorkerDatabase(): Promise<WorkerDatabase> {
  const { url, drop } = await createTestDatabase();
  const db = createDatabase({ url });
  return {
    url,
    db,
    sql: async <Row>(text: string, values?: unknown[]) => {
      const client = new pg.Client({ connectionString: url });
      await client.connect();
      try {
        return (await client.query(text, values)).rows as Row[];
      } finally {
        await client.end();
      }
    },
    destroy: async () => {
      await db.close();
      await drop();
    },
  };
}

export interface RecordedLog {
  readonly log: Log;
  readonly lines: { level: number; msg: string; [field: string]: unknown }[];
}

export function recordedLog(): RecordedLog {
  const lines: RecordedLog['lines'] = [];
  return { lines, log: createLog('debug', { write: (line: string) => void lines.push(JSON.parse(line)) }) };
}

export const systemClock = { now: () => new Date().toISOString() as never };
