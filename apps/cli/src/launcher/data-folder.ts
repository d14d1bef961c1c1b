import { randomBytes } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { reachableFolder, wouldBeReachable } from '../postgres/reachable-folder.ts';
import { serverAccount } from '../postgres/server-account.ts';
import { makeFolder } from '../program/make-folder.ts';
import { PlainError } from '../program/plain-error.ts';
import { programRoot } from '../program/program-root.ts';
import { LOCK_FILE } from './running-lock.ts';

/** Where one Dryspell keeps everything. */
export interface DataFolder {
  readonly root: string;
  /** Photos and documents. */
  readonly files: string;
  /** Cluster, log and secret of the embedded PostgreSQL; not always under `root`. */
  readonly database: string;
  readonly settingsFile: string;
  readonly lockFile: string;
}

/** The folder of `--data`, else `.dryspell` beside the program. */
export function dataFolderPath(asked: string | undefined): string {
  return path.resolve(asked ?? path.join(programRoot(), '.dryspell'));
}

/** Where photos and documents are kept: DRYSPELL_FILES_DIR, else `files` in the data folder. */
export function filesFolderOf(
  asked: string | undefined,
  environment: Readonly<Record<string, string | undefined>>,
): string {
  return path.resolve(environment['DRYSPELL_FILES_DIR'] || path.join(dataFolderPath(asked), 'files'));
}

/** Notes in the data folder that the database lies elsewhere. */
const POINTER = 'database-is-in';

function databaseFolder(root: string, say: (line: string) => void): string {
  const pointer = path.join(root, POINTER);
  if (fs.existsSync(pointer)) {
    const elsewhere = fs.readFileSync(pointer, 'utf8').trim();
    say(`the database is in ${elsewhere}`);
    return elsewhere;
  }
  const usual = path.join(root, 'database');
  const account = serverAccount(say);
  if (wouldBeReachable(account, usual)) return usual;
  const elsewhere = path.join(reachableFolder(account), `database-${randomBytes(4).toString('hex')}`);
  fs.writeFileSync(pointer, `${elsewhere}\n`);
  say(
    `the account "${account.name}", which runs PostgreSQL, cannot enter ${root}; the database is in ${elsewhere}`,
  );
  return elsewhere;
}

/**
 * Makes the data folder when it is missing and checks that it can be written. `embedded` says whether the embedded
 * PostgreSQL will use it. Throws PlainError with a next step.
 */
export function openDataFolder(root: string, embedded: boolean, say: (line: string) => void): DataFolder {
  try {
    makeFolder(root, 0o755);
    const probe = path.join(root, `.write-probe-${process.pid}`);
    fs.writeFileSync(probe, '');
    fs.rmSync(probe);
    makeFolder(path.join(root, 'files'), 0o700);
  } catch (error) {
    const reason = (error as NodeJS.ErrnoException).code ?? (error as Error).message;
    throw new PlainError(
      `the data folder ${root} cannot be written to (${reason}). Pass --data <folder> with another one.`,
    );
  }
  return {
    root,
    files: path.join(root, 'files'),
    database: embedded ? databaseFolder(root, say) : path.join(root, 'database'),
    settingsFile: path.join(root, 'settings.json'),
    lockFile: path.join(root, LOCK_FILE),
  };
}
