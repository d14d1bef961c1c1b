import fs from 'node:fs';
import path from 'node:path';

/** The folder of the program (its package.json), from the sources and from the built files alike. */
export function programRoot(): string {
  let folder = import.meta.dirname;
  while (!fs.existsSync(path.join(folder, 'package.json'))) {
    const parent = path.dirname(folder);
    if (parent === folder)
      throw new Error('the program does not lie in its folder any more; install it again');
    folder = parent;
  }
  return folder;
}

/** Version of the program, as in package.json. */
export function programVersion(): string {
  const text = fs.readFileSync(path.join(programRoot(), 'package.json'), 'utf8');
  return (JSON.parse(text) as { version: string }).version;
}

export function migrationsFolder(): string {
  return path.join(programRoot(), 'prisma/migrations');
}
