import fs from 'node:fs';
import path from 'node:path';
import { checkoutRoot, isPrepared, prepareProgram } from './program.mjs';

const SOURCES = [
  'apps',
  'libs',
  'prisma',
  'package.json',
  'package-lock.json',
  'prisma.config.ts',
  'tsconfig.json',
  '.swcrc',
];

function isWritable(folder) {
  try {
    // Asked by writing: modes say nothing about a read-only mount.
    const probe = path.join(folder, `.write-probe-${process.pid}`);
    fs.writeFileSync(probe, '');
    fs.rmSync(probe);
    return true;
  } catch {
    return false;
  }
}

function copySources(target) {
  fs.mkdirSync(target, { recursive: true });
  for (const name of SOURCES) {
    const from = path.join(checkoutRoot, name);
    if (!fs.existsSync(from)) continue;
    fs.rmSync(path.join(target, name), { recursive: true, force: true });
    fs.cpSync(from, path.join(target, name), {
      recursive: true,
      filter: (source) => !/[/\\](node_modules|dist)$/.test(source),
    });
  }
}

/**
 * The root from which the program can run, prepared: this checkout, or, when nothing can be written here and the
 * program is not ready, a copy under `<data>/program`.
 */
export async function locateProgram({ data, say }) {
  if (isPrepared(checkoutRoot)) return checkoutRoot;
  if (isWritable(checkoutRoot)) {
    await prepareProgram({ say });
    return checkoutRoot;
  }
  if (data === undefined) {
    throw new Error(
      `${checkoutRoot} cannot be written to, and the program is not built yet. ` +
        'Start with --data <folder> and the program is built there.',
    );
  }
  const root = path.resolve(data, 'program');
  try {
    copySources(root);
  } catch (error) {
    throw new Error(
      `the program could not be copied to ${root}: ${error.message}. Choose another --data folder.`,
    );
  }
  say(`this folder cannot be written to; the program is built in ${root}`);
  await prepareProgram({ root, say });
  return root;
}
