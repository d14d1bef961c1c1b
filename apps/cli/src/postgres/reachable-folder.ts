import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { canReach, type ServerAccount } from './server-account.ts';

/** Makes a folder in which the server account can work: /var/lib/dryspell, else one under the temporary folder. */
export function reachableFolder(account: ServerAccount): string {
  for (const folder of ['/var/lib/dryspell', path.join(os.tmpdir(), `dryspell-${os.userInfo().uid}`)]) {
    try {
      fs.mkdirSync(folder, { recursive: true, mode: 0o755 });
      fs.accessSync(folder, fs.constants.W_OK);
    } catch {
      continue; // not ours to write; the next one may be
    }
    if (canReach(account, folder)) return folder;
  }
  throw new Error(
    `no folder was found in which the account "${account.name}" can work; pass --data <folder>`,
  );
}

/** Whether the server account can enter `folder` once it exists, judged by its nearest existing ancestor. */
export function wouldBeReachable(account: ServerAccount, folder: string): boolean {
  let nearest = path.resolve(folder);
  while (!fs.existsSync(nearest)) nearest = path.dirname(nearest);
  return canReach(account, nearest);
}
