import fs from 'node:fs';
import path from 'node:path';
import { dataFolderPath, openDataFolder } from '../launcher/data-folder.ts';
import { openDatabase } from '../launcher/database.ts';
import { holderOf, takeRunningLock } from '../launcher/running-lock.ts';
import { openSettings } from '../launcher/settings.ts';
import { waitForDatabase } from '../postgres/reach-database.ts';
import { runningServer } from '../postgres/running-server.ts';
import { PlainError } from '../program/plain-error.ts';
import { type CommandInput, optionalText } from './command.ts';

export interface CommandDatabase {
  readonly url: string;
  readonly shownAs: string;
}

/**
 * Gives a command the database: that of DATABASE_URL; else that of the Dryspell which runs on the data folder; else the
 * embedded server is started for the time of the command. `create` allows a data folder that does not exist yet.
 */
export async function withDatabase<T>(
  input: CommandInput,
  { create }: { readonly create: boolean },
  work: (database: CommandDatabase) => Promise<T>,
): Promise<T> {
  const databaseUrl = input.environment['DATABASE_URL'];
  if (databaseUrl !== undefined && databaseUrl !== '') {
    return work({ url: databaseUrl, shownAs: await waitForDatabase(databaseUrl) });
  }
  const root = dataFolderPath(optionalText(input, 'data'));
  if (!create && !fs.existsSync(path.join(root, 'settings.json'))) {
    throw new PlainError(
      `there is no Dryspell data in ${root}. Pass --data with its data folder, set DATABASE_URL, or run npm start first.`,
    );
  }
  const folder = openDataFolder(root, true, input.say);
  const settings = openSettings(folder.settingsFile);
  if (holderOf(folder.lockFile) !== undefined) {
    const url = runningServer(folder.database, settings.rolePassword);
    if (url === undefined)
      throw new PlainError('Dryspell is just starting on this data folder. Try again in a moment.');
    return work({ url, shownAs: await waitForDatabase(url) });
  }
  const lock = takeRunningLock(folder.lockFile);
  try {
    const database = await openDatabase(folder, settings, undefined, input.say);
    try {
      return await work(database);
    } finally {
      await database.stop();
    }
  } finally {
    lock.release();
  }
}
