import { spawnSync } from 'node:child_process';
import fs from 'node:fs';

/** The operating-system account that a PostgreSQL server runs as. */
export interface ServerAccount {
  /** Ids to spawn with; undefined when the server simply runs as whoever started us. */
  readonly uid: number | undefined;
  readonly gid: number | undefined;
  readonly name: string;
}

const ROOT_ONLY_ACCOUNT = 'postgres';

function findAccount(name: string): ServerAccount | undefined {
  const line = fs
    .readFileSync('/etc/passwd', 'utf8')
    .split('\n')
    .find((entry) => entry.startsWith(`${name}:`));
  const [, , uid, gid] = line?.split(':') ?? [];
  return uid === undefined || gid === undefined ? undefined : { uid: Number(uid), gid: Number(gid), name };
}

/**
 * Which account the server runs as. PostgreSQL refuses to run as root, so root hands over to the account
 * `postgres`, made when it is missing. Throws when root may not make it.
 */
export function serverAccount(say: (line: string) => void): ServerAccount {
  if (typeof process.getuid !== 'function' || process.getuid() !== 0) {
    return { uid: undefined, gid: undefined, name: process.env['USER'] ?? 'the current user' };
  }
  const present = findAccount(ROOT_ONLY_ACCOUNT);
  if (present !== undefined) return present;
  say(`making the system account "${ROOT_ONLY_ACCOUNT}": PostgreSQL does not run as root`);
  const made = spawnSync('useradd', ['--system', '--user-group', '--no-create-home', ROOT_ONLY_ACCOUNT], {
    encoding: 'utf8',
  });
  const account = made.status === 0 ? findAccount(ROOT_ONLY_ACCOUNT) : undefined;
  if (account === undefined) {
    throw new Error(
      `PostgreSQL does not run as root and the account "${ROOT_ONLY_ACCOUNT}" could not be made ` +
        `(${made.stderr?.trim() || made.error?.message || 'useradd failed'}). ` +
        'Start Dryspell as an ordinary user, or set DATABASE_URL to a server of your own.',
    );
  }
  return account;
}

/** Spawn options that make a child run as the account. Starts in `/`, which every account can enter. */
export function asAccount(account: ServerAccount): { cwd: string; uid?: number; gid?: number } {
  if (account.uid === undefined || account.gid === undefined) return { cwd: '/' };
  return { cwd: '/', uid: account.uid, gid: account.gid };
}

/** Whether the account can execute (file) or enter (folder) the path; asked of the system, not computed from modes. */
export function canReach(account: ServerAccount, target: string): boolean {
  const test = fs.existsSync('/usr/bin/test') ? '/usr/bin/test' : '/bin/test';
  return spawnSync(test, ['-x', target], asAccount(account)).status === 0;
}
