import { createDatabase, type Database } from '../../../../libs/data/src/database.ts';
import { applyMigrations } from '../../../../libs/data/src/migrate.ts';
import { listOrganisations, type Organisation } from '../../../../libs/data/src/organisation.repository.ts';
import { onlyOrganisation } from '../launcher/first-run.ts';
import { PlainError } from '../program/plain-error.ts';
import { migrationsFolder } from '../program/program-root.ts';
import { type CommandInput, optionalText } from './command.ts';
import { withDatabase } from './with-database.ts';

export const ORGANISATION_OPTION = { organisation: { type: 'string' } } as const;
export const ORGANISATION_HELP = '  --organisation <key>  only needed when the database holds several';

async function choose(db: Database, key: string | undefined): Promise<Organisation> {
  const all = await listOrganisations(db);
  const known = all.map((organisation) => organisation.key).join(', ');
  if (key !== undefined) {
    const found = all.find((organisation) => organisation.key === key);
    if (found === undefined)
      throw new PlainError(`there is no organisation "${key}". Known: ${known || 'none yet'}`);
    return found;
  }
  if (all.length > 1)
    throw new PlainError(
      `the database holds several organisations. Pass --organisation with one of: ${known}`,
    );
  return onlyOrganisation(db);
}

/** Gives a command the migrated database and the organisation that it is about; `create` as in `withDatabase`. */
export async function withOrganisation<T>(
  input: CommandInput,
  { create }: { readonly create: boolean },
  work: (db: Database, organisation: Organisation) => Promise<T>,
): Promise<T> {
  return withDatabase(input, { create }, async ({ url }) => {
    await applyMigrations({ databaseUrl: url, migrationsDir: migrationsFolder() });
    const db = createDatabase({ url, maxConnections: 2 });
    try {
      return await work(db, await choose(db, optionalText(input, 'organisation')));
    } finally {
      await db.close();
    }
  });
}
