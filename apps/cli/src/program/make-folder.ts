import fs from 'node:fs';
import path from 'node:path';

/** Makes a folder and its missing parents. Throws the system's error; Node's own recursive mkdir never ends on /proc. */
export function makeFolder(folder: string, mode: number): void {
  const missing: string[] = [];
  let at = path.resolve(folder);
  while (!fs.existsSync(at)) {
    missing.unshift(at);
    at = path.dirname(at);
  }
  for (const part of missing) fs.mkdirSync(part, { mode });
}
