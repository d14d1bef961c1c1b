// The real services that tests run against: PostgreSQL (embedded), Redis and Chromium.
// Found or started for the run, never a system service. What cannot be had ends the run with one clear line.
import { spawn, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import net from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { checkoutRoot } from '../bootstrap/program.mjs';

export class MissingService extends Error {}

function onPath(name) {
  for (const folder of (process.env.PATH ?? '').split(path.delimiter)) {
    const file = path.join(folder, name);
    if (folder !== '' && fs.existsSync(file)) return file;
  }
  return undefined;
}

const POLICY_FILE = '/usr/sbin/policy-rc.d';

function withoutStartingServices(work) {
  // Debian starts a package's service on installation unless this file says no.
  const ours = !fs.existsSync(POLICY_FILE);
  if (ours) fs.writeFileSync(POLICY_FILE, '#!/bin/sh\nexit 101\n', { mode: 0o755 });
  try {
    return work();
  } finally {
    if (ours) fs.rmSync(POLICY_FILE, { force: true });
  }
}

function apt(args) {
  return spawnSync('apt-get', args, {
    encoding: 'utf8',
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  });
}

function installDebianPackage(packageName, say) {
  const rootOnDebian =
    process.getuid?.() === 0 && fs.existsSync('/etc/debian_version') && onPath('apt-get') !== undefined;
  if (!rootOnDebian) return false;
  say(`installing ${packageName} (apt-get)`);
  return withoutStartingServices(() => {
    const install = () => apt(['install', '-y', '--no-install-recommends', packageName]).status === 0;
    return install() || (apt(['update']).status === 0 && install());
  });
}

function freePort() {
  return new Promise((resolve, reject) => {
    const probe = net.createServer();
    probe.once('error', reject);
    probe.listen({ port: 0, host: '127.0.0.1' }, () => {
      const { port } = probe.address();
      probe.close(() => resolve(port));
    });
  });
}

function pings(host, port) {
  return new Promise((resolve) => {
    const socket = net.connect({ host, port });
    const end = (answer) => {
      socket.destroy();
      resolve(answer);
    };
    socket.setTimeout(1000, () => end(false));
    socket.once('error', () => end(false));
    socket.once('connect', () => socket.write('PING\r\n'));
    socket.once('data', (data) => end(/^(\+PONG|-NOAUTH)/.test(data.toString())));
  });
}

/** REDIS_URL when it is set, else a redis-server of our own on a free port, keeping nothing on disk. */
export async function provideRedis(say) {
  if (process.env.REDIS_URL) return { url: process.env.REDIS_URL, stop: async () => {} };
  if (onPath('redis-server') === undefined) installDebianPackage('redis-server', say);
  const program = onPath('redis-server');
  if (program === undefined) {
    throw new MissingService(
      'the tests need Redis: install redis-server, or set REDIS_URL to a Redis they may use',
    );
  }
  const port = await freePort();
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-redis-'));
  const args = [
    '--port',
    String(port),
    '--bind',
    '127.0.0.1',
    '--save',
    '',
    '--appendonly',
    'no',
    '--dir',
    folder,
  ];
  const child = spawn(program, args, { stdio: 'ignore' });
  const ended = new Promise((resolve) => child.once('close', resolve));
  const stop = async () => {
    child.kill('SIGTERM');
    await ended;
    fs.rmSync(folder, { recursive: true, force: true });
  };
  for (let attempt = 0; attempt < 100; attempt += 1) {
    if (child.exitCode !== null) break;
    if (await pings('127.0.0.1', port)) return { url: `redis://127.0.0.1:${port}`, stop };
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  await stop();
  throw new MissingService(
    `redis-server did not answer on port ${port}; set REDIS_URL to a Redis the tests may use`,
  );
}

/** DRYSPELL_TEST_DATABASE_URL when it is set, else an embedded server in a temporary folder. */
export async function providePostgres(say) {
  const given = process.env.DRYSPELL_TEST_DATABASE_URL;
  if (given) return { url: given, stop: async () => {} };
  const built = pathToFileURL(path.join(checkoutRoot, 'dist/apps/cli/src/postgres/embedded-server.js')).href;
  const { startEmbeddedServer } = await import(built);
  const dataFolder = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-test-'));
  fs.chmodSync(dataFolder, 0o755);
  const server = await startEmbeddedServer({ dataFolder, durable: false, maxConnections: 300, say });
  return {
    url: server.adminUrl('postgres'),
    stop: async () => {
      await server.stop();
      fs.rmSync(dataFolder, { recursive: true, force: true });
    },
  };
}

/** CHROMIUM_PATH, or a Chromium on PATH, or Debian's. */
export function provideChromium(say) {
  const find = () =>
    process.env.CHROMIUM_PATH ?? onPath('chromium') ?? onPath('chromium-browser') ?? onPath('google-chrome');
  if (find() === undefined) installDebianPackage('chromium', say);
  const program = find();
  if (program === undefined) {
    throw new MissingService(
      'the browser tests need Chromium: install it, or set CHROMIUM_PATH to its program',
    );
  }
  return program;
}
