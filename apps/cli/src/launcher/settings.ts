import { randomBytes } from 'node:crypto';
import fs from 'node:fs';

/** Secrets of one installation, made at its first start and kept (mode 0600) in its data folder. */
export interface Settings {
  /** Signs hidden form tokens and list cursors; see the API's DRYSPELL_SECRET. */
  readonly secret: string;
  /** Password of the database role that the program uses on the embedded PostgreSQL. */
  readonly rolePassword: string;
}

export function openSettings(file: string): Settings {
  if (fs.existsSync(file)) return JSON.parse(fs.readFileSync(file, 'utf8')) as Settings;
  const settings: Settings = {
    secret: randomBytes(32).toString('base64url'),
    rolePassword: randomBytes(24).toString('hex'),
  };
  const half = `${file}.new`;
  fs.writeFileSync(half, `${JSON.stringify(settings, null, 2)}\n`, { mode: 0o600 });
  fs.renameSync(half, file);
  return settings;
}
