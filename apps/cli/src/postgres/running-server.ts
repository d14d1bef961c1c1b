import fs from 'node:fs';
import path from 'node:path';
import { ownDatabaseUrl } from './own-database.ts';
import { findRunningPostmaster } from './postmaster-pid.ts';

/** URL of the program's database on the embedded server that another process runs; undefined when none runs. */
export function runningServer(databaseFolder: string, rolePassword: string): string | undefined {
  const cluster = path.join(databaseFolder, 'postgres');
  if (!fs.existsSync(cluster)) return undefined;
  const server = findRunningPostmaster(cluster);
  return server === undefined || server.port === 0 ? undefined : ownDatabaseUrl(server.port, rolePassword);
}
