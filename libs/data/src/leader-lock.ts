import pg from 'pg';

export interface LeaderLock {
  /** Settles when the connection that holds the lock is gone: another process may lead from then on. */
  readonly lost: Promise<void>;
  release(): Promise<void>;
}

/**
 * Tries to become the one holder of a named lock, on a connection of its own; null when another process holds it.
 * PostgreSQL frees the lock when the connection ends, also when this process is killed.
 */
export async function tryLeaderLock(input: { url: string; name: string }): Promise<LeaderLock | null> {
  const client = new pg.Client({
    connectionString: input.url,
    keepAlive: true,
    // A server that is gone without a word is noticed by the keep-alive of the socket; this bounds the first connect.
    connectionTimeoutMillis: 10_000,
  });
  let settle: () => void = () => {};
  const lost = new Promise<void>((resolve) => {
    settle = resolve;
  });
  client.on('error', () => settle());
  client.on('end', () => settle());
  await client.connect();
  try {
    const { rows } = await client.query<{ won: boolean }>(
      "SELECT pg_try_advisory_lock(hashtextextended('dryspell:' || $1, 0)) AS won",
      [input.name],
    );
    if (!rows[0]?.won) {
      await client.end();
      return null;
    }
  } catch (error) {
    await client.end();
    throw error;
  }
  return {
    lost,
    release: async () => {
      await client.end();
    },
  };
}
