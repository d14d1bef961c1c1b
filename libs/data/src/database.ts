import { PrismaPg } from '@prisma/adapter-pg';
import pg from 'pg';
import type { Prisma } from '../generated/client.ts';
import { PrismaClient } from '../generated/client.ts';
import { asDryspellError, isSerializationFailure } from './database-errors.ts';

/** Part of a transaction, or the client itself where no transaction is needed. */
export type Tx = Prisma.TransactionClient;

export interface TransactionOptions {
  /** `serializable` (default): as if no other transaction ran; tried again when PostgreSQL refuses it for that. */
  readonly isolation?: 'serializable' | 'readCommitted';
  /** How often it is tried in all; default 5. */
  readonly attempts?: number;
  /** Longest time that the work may take; default 30 s. */
  readonly timeoutMs?: number;
}

export interface Database {
  readonly client: PrismaClient;
  /** Runs the work in one transaction. The work may run more than once, so it has no effect but on `tx`. */
  transaction<T>(work: (tx: Tx) => Promise<T>, options?: TransactionOptions): Promise<T>;
  /** Resolves when the server answers. Throws `unavailable`. */
  ping(): Promise<void>;
  close(): Promise<void>;
}

export interface DatabaseInput {
  readonly url: string;
  /** Connections that this process may hold; default 10. */
  readonly maxConnections?: number;
}

/** Opens a pool of connections; the first query connects. Errors of constraints come back coded. */
export function createDatabase(input: DatabaseInput): Database {
  const pool = new pg.Pool({ connectionString: input.url, max: input.maxConnections ?? 10 });
  // An idle connection that dies must not end the process: the next query opens another.
  pool.on('error', () => {});
  const client = withCodedErrors(new PrismaClient({ adapter: new PrismaPg(pool) }));
  return {
    client,
    transaction: (work, options = {}) => runTransaction(client, work, options),
    ping: async () => {
      await client.$queryRaw`SELECT 1`;
    },
    close: async () => {
      await client.$disconnect();
      await pool.end();
    },
  };
}

/** Every query, also within transactions, fails with a coded error; the extended client has the same calls. */
function withCodedErrors(client: PrismaClient): PrismaClient {
  return client.$extends({
    query: {
      async $allOperations({ args, query }) {
        try {
          return await query(args);
        } catch (error) {
          throw asDryspellError(error);
        }
      },
    },
  }) as unknown as PrismaClient;
}

async function runTransaction<T>(
  client: PrismaClient,
  work: (tx: Tx) => Promise<T>,
  options: TransactionOptions,
): Promise<T> {
  const attempts = options.attempts ?? 5;
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await client.$transaction(work, {
        isolationLevel: options.isolation === 'readCommitted' ? 'ReadCommitted' : 'Serializable',
        maxWait: 10_000,
        timeout: options.timeoutMs ?? 30_000,
      });
    } catch (error) {
      if (!isSerializationFailure(error) || attempt >= attempts) throw asDryspellError(error);
      // Longer waits each time, and never the same for two that clashed.
      await new Promise((resolve) => setTimeout(resolve, 10 * 2 ** attempt * (0.5 + Math.random())));
    }
  }
}
