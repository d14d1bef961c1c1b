// What must be there before anything of ours can run: installed packages, the generated Prisma client, the built program.
// Plain Node without packages: this is what runs in a fresh clone.
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';

export const checkoutRoot = path.resolve(import.meta.dirname, '../../..');

function modifiedAt(file) {
  return fs.statSync(file, { throwIfNoEntry: false })?.mtimeMs ?? 0;
}

/** Runs a program; its output is shown only when it fails. */
function run(command, args, { cwd, env, what }) {
  return new Promise((resolve, reject) => {
    const child = spawn(command, args, {
      cwd,
      env: { ...process.env, NO_COLOR: '1', FORCE_COLOR: '0', ...env },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    let output = '';
    child.stdout.on('data', (chunk) => {
      output += chunk;
    });
    child.stderr.on('data', (chunk) => {
      output += chunk;
    });
    child.once('error', (error) => reject(new Error(`${what} failed: ${error.message}`)));
    child.once('close', (code, signal) => {
      if (code === 0) return resolve(output);
      const tail = output.trim().split('\n').slice(-25).join('\n');
      reject(new Error(`${what} failed (${signal ?? `exit code ${code}`}):\n${tail}`));
    });
  });
}

function filesUnder(folder, skip) {
  if (!fs.existsSync(folder)) return [];
  return fs.readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const full = path.join(folder, entry.name);
    if (skip.has(entry.name)) return [];
    return entry.isDirectory() ? filesUnder(full, skip) : entry.isFile() ? [full] : [];
  });
}

/** One hash over the sources a step is made from: an mtime does not survive a clone, a copy or a checkout. */
function fingerprint(root, inputs) {
  const hash = createHash('sha256');
  const skip = new Set(['node_modules', 'dist', 'generated']);
  for (const input of inputs) {
    const full = path.join(root, input);
    const files = fs.statSync(full, { throwIfNoEntry: false })?.isFile()
      ? [full]
      : filesUnder(full, skip).sort();
    for (const file of files)
      hash.update(path.relative(root, file)).update('\0').update(fs.readFileSync(file)).update('\0');
  }
  return hash.digest('hex');
}

function hasPackages(root) {
  const installed = path.join(root, 'node_modules/.package-lock.json');
  const lock = path.join(root, 'package-lock.json');
  if (!fs.existsSync(installed)) return false;
  return modifiedAt(installed) >= modifiedAt(lock) || samePackages(lock, installed);
}

/** Installs the packages when they are missing or older than the lock file. */
export async function installPackages({ root = checkoutRoot, say }) {
  if (hasPackages(root)) return false;
  say('installing packages (npm ci; about a minute the first time)');
  await run('npm', ['ci', '--no-audit', '--no-fund', '--ignore-scripts'], {
    cwd: root,
    env: {},
    what: 'npm ci',
  });
  return true;
}

/** A newer lock file is no reason to install again when it names exactly what is there (a fresh checkout of the same). */
function samePackages(lockFile, installedFile) {
  const packagesOf = (file) => {
    const { packages } = JSON.parse(fs.readFileSync(file, 'utf8'));
    return Object.entries(packages).filter(([name, entry]) => name !== '' && !entry.optional);
  };
  const installed = new Map(packagesOf(installedFile));
  return packagesOf(lockFile).every(
    ([name, entry]) => entry.optional || installed.get(name)?.version === entry.version,
  );
}

// What each step is made from, and the file in which it noted that.
const STEPS = {
  client: {
    stamp: 'libs/data/generated/.made-from',
    inputs: ['prisma/schema.prisma', 'prisma.config.ts', 'node_modules/prisma/package.json'],
  },
  server: {
    stamp: 'dist/.server-made-from',
    inputs: [
      'apps/api/src',
      'apps/worker/src',
      'apps/cli',
      'libs',
      'prisma/schema.prisma',
      '.swcrc',
      'package.json',
    ],
  },
  web: { stamp: 'dist/.web-made-from', inputs: ['apps/web', 'libs', 'package.json'] },
};

/** Where a step notes what it was made from, that note for now, and whether the two agree. */
function stateOf(root, { stamp, inputs }) {
  const file = path.join(root, stamp);
  const print = fingerprint(root, inputs);
  return { file, print, fresh: fs.existsSync(file) && fs.readFileSync(file, 'utf8') === print };
}

const hasWeb = (root) => fs.existsSync(path.join(root, 'apps/web/vite.config.ts'));

/** Whether everything is installed, generated and built for the present sources. Writes nothing. */
export function isPrepared(root) {
  const steps = hasWeb(root) ? [STEPS.client, STEPS.server, STEPS.web] : [STEPS.client, STEPS.server];
  return hasPackages(root) && steps.every((step) => stateOf(root, step).fresh);
}

/** Generates the Prisma client when the schema has changed since. */
export async function generateClient({ root = checkoutRoot, say }) {
  if (!fs.existsSync(path.join(root, 'prisma/schema.prisma'))) return false;
  const { file, print, fresh } = stateOf(root, STEPS.client);
  if (fresh) return false;
  say('generating the database client');
  await run(process.execPath, ['prisma/tools/generate.mjs'], { cwd: root, what: 'prisma generate' });
  fs.writeFileSync(file, print);
  return true;
}

const SERVER_PARTS = ['apps/api/src', 'apps/worker/src', 'apps/cli/src', 'libs'];

/** Builds the server parts when their sources have changed since. */
export async function buildServer({ root = checkoutRoot, say }) {
  const dist = path.join(root, 'dist');
  const { file: stamp, print, fresh } = stateOf(root, STEPS.server);
  if (fresh) return false;
  say('building the server');
  const parts = SERVER_PARTS.filter((part) => fs.existsSync(path.join(root, part)));
  // Built beside and swapped in, so that a program running from dist never sees half a build.
  const half = path.join(root, `dist.${process.pid}`);
  try {
    await run(
      process.execPath,
      // Data files that the program needs at run time are read from the source tree, so only code is built.
      [
        'node_modules/@swc/cli/bin/swc.js',
        ...parts,
        '-d',
        half,
        '--ignore',
        '**/*.spec.ts,**/*.mjs,**/*.mts',
      ],
      { cwd: root, what: 'the build' },
    );
    // The one plain module that the built launcher shares with the bootstrap.
    const shared = 'apps/cli/bootstrap/start-options.mjs';
    fs.mkdirSync(path.join(dist, path.dirname(shared)), { recursive: true });
    fs.copyFileSync(path.join(root, shared), path.join(dist, shared));
    fs.rmSync(stamp, { force: true });
    for (const part of SERVER_PARTS) {
      const old = path.join(half, `${part}.old`);
      fs.mkdirSync(path.dirname(old), { recursive: true });
      if (fs.existsSync(path.join(dist, part))) fs.renameSync(path.join(dist, part), old);
      fs.mkdirSync(path.dirname(path.join(dist, part)), { recursive: true });
      if (fs.existsSync(path.join(half, part))) fs.renameSync(path.join(half, part), path.join(dist, part));
    }
    fs.writeFileSync(stamp, print);
  } finally {
    fs.rmSync(half, { recursive: true, force: true });
  }
  return true;
}

async function buildWeb({ root, say }) {
  if (!hasWeb(root)) return false;
  const { file: stamp, print, fresh } = stateOf(root, STEPS.web);
  if (fresh) return false;
  say('building the web client');
  await run(
    process.execPath,
    [path.join(root, 'node_modules/vite/bin/vite.js'), 'build', '-c', 'vite.config.ts'],
    {
      cwd: path.join(root, 'apps/web'),
      what: 'the web build',
    },
  );
  fs.mkdirSync(path.dirname(stamp), { recursive: true });
  fs.writeFileSync(stamp, print);
  return true;
}

/** Builds what is missing or older than its sources. */
export async function buildProgram({ root = checkoutRoot, say }) {
  const server = await buildServer({ root, say });
  const web = await buildWeb({ root, say });
  return server || web;
}

/** Everything of the above, in order. */
export async function prepareProgram({ root = checkoutRoot, say }) {
  await installPackages({ root, say });
  await generateClient({ root, say });
  await buildProgram({ root, say });
}
