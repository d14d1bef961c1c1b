import path from 'node:path';
import { pathToFileURL } from 'node:url';

/** Loads the built program of a root into this process, as if it had been started with the arguments. */
export async function runBuilt(root, args) {
  // Every process of Dryspell reckons in UTC; local times come from the program's own zone data.
  process.env.TZ = 'UTC';
  const main = path.join(root, 'dist/apps/cli/src/main.js');
  process.argv = [process.argv[0], main, ...args];
  await import(pathToFileURL(main).href);
}
