import { type EmbeddedServer, startEmbeddedServer } from '../postgres/embedded-server.ts';
import { prepareOwnDatabase } from '../postgres/own-database.ts';
import { waitForDatabase } from '../postgres/reach-database.ts';
import type { DataFolder } from './data-folder.ts';
import type { Settings } from './settings.ts';

/** The database that the program works on. */
export interface OpenDatabase {
  readonly url: string;
  /** How people see it: without user and password. */
  readonly shownAs: string;
  /** Undefined when the server is not ours. */
  readonly embedded: EmbeddedServer | undefined;
  stop(): Promise<void>;
}

/** Opens the server of DATABASE_URL, or starts the embedded one. Throws PlainError when it cannot be reached. */
export async function openDatabase(
  folder: DataFolder,
  settings: Settings,
  databaseUrl: string | undefined,
  say: (line: string) => void,
): Promise<OpenDatabase> {
  if (databaseUrl !== undefined && databaseUrl !== '') {
    const shownAs = await waitForDatabase(databaseUrl);
    return { url: databaseUrl, shownAs, embedded: undefined, stop: async () => {} };
  }
  const server = await startEmbeddedServer({ dataFolder: folder.database, durable: true, say });
  try {
    const url = await prepareOwnDatabase(server, settings.rolePassword);
    return {
      url,
      shownAs: `embedded PostgreSQL on port ${server.port}`,
      embedded: server,
      stop: () => server.stop(),
    };
  } catch (error) {
    await server.stop();
    throw error;
  }
}
