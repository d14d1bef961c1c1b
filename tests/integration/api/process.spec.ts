import { type ChildProcess, fork } from 'node:child_process';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { createTestDatabase, type TestDatabase } from '../../builders/test-database.ts';

const root = path.resolve(import.meta.dirname, '../../..');
const loader = path.join(root, 'apps/cli/tools/register-ts.mjs');

interface Running {
  readonly child: ChildProcess;
  readonly url: string;
  readonly log: () => string;
  readonly ended: Promise<number | null>;
}

/** Starts the API as its launcher does: a child process with a channel, on a free port. */
async function start(databaseUrl: string, more: Record<string, string> = {}): Promise<Running> {
  let log = '';
  const child = fork(path.join(root, 'apps/api/src/main.ts'), [], {
    cwd: root,
    execArgv: ['--import', loader],
    stdio: ['ignore', 'pipe', 'pipe', 'ipc'],
    env: {
      PATH: process.env['PATH'],
      TZ: 'UTC',
      PORT: '0',
      DATABASE_URL: databaseUrl,
      DRYSPELL_SECRET: 'a-secret-of-the-process-test-long-enough',
      DRYSPELL_LOG_LEVEL: 'info',
      ...more,
    },
  });
  child.stdout?.on('data', (chunk) => {
    log += chunk;
  });
  child.stderr?.on('data', (chunk) => {
    log += chunk;
  });
  const ended = new Promise<number | null>((resolve) => child.once('exit', (code) => resolve(code)));
  const url = await new Promise<string>((resolve, reject) => {
    child.once('message', (message) => {
      const said = message as { kind: string; url: string };
      if (said.kind === 'ready') resolve(said.url);
    });
    child.once('exit', (code) => reject(new Error(`the API ended with ${code}: ${log}`)));
  });
  return { child, url, log: () => log, ended };
}

describe('the API as a process', () => {
  let database: TestDatabase;
  beforeAll(async () => {
    database = await createTestDatabase();
  }, 60_000);
  afterAll(async () => {
    await database.drop();
  });

  it('says that it serves, answers, and ends cleanly when told to', async () => {
    const api = await start(database.url);
    const health = await fetch(`${api.url}/health/ready`);
    expect([health.status, ((await health.json()) as { ok: boolean }).ok]).toEqual([200, true]);
    api.child.kill('SIGTERM');
    expect(await api.ended).toBe(0);
  }, 60_000);

  it('ends when the process that started it is gone', async () => {
    const api = await start(database.url);
    api.child.disconnect();
    expect(await api.ended).toBe(0);
  }, 60_000);

  it('logs who asked for what, and no secret', async () => {
    const api = await start(database.url);
    const secret = `${'s'.repeat(30)}ecret-in-path`;
    const headers = {
      authorization: `Bearer ${'b'.repeat(43)}`,
      cookie: `dryspell_session=${'k'.repeat(43)}`,
    };
    for (const address of [
      `/l/${secret}`,
      `/sign-in/${secret}`,
      `/calendar/${secret}.ics`,
      `/api/v1/me?token=${secret}`,
    ]) {
      await fetch(`${api.url}${address}`, { headers });
    }
    await fetch(`${api.url}/api/v1/sessions`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ token: secret }),
    });
    api.child.kill('SIGTERM');
    await api.ended;
    const log = api.log();
    expect(log).toContain('/l/***');
    expect(log).toContain('/calendar/***.ics');
    for (const hidden of [secret, 'b'.repeat(43), 'k'.repeat(43)]) expect(log).not.toContain(hidden);
  }, 60_000);

  it('does not start with settings that cannot be used, and names them without their values', async () => {
    const failed = start(database.url, { DRYSPELL_SECRET: 'too-short-to-use', PORT: 'eighty' });
    await expect(failed).rejects.toThrow('ended with 2');
    const message = await failed.catch((error: Error) => error.message);
    expect(message).toContain('DRYSPELL_SECRET');
    expect(message).toContain('PORT');
    expect(message).not.toContain('too-short-to-use');
  }, 60_000);

  it('is alive without a database, and says that it is not ready', async () => {
    const api = await start('postgresql://nobody@127.0.0.1:1/none');
    expect((await fetch(`${api.url}/health/live`)).status).toBe(200);
    const ready = await fetch(`${api.url}/health/ready`);
    expect(ready.status).toBe(503);
    const asked = await fetch(`${api.url}/api/v1/me`, {
      headers: { authorization: `Bearer ${'b'.repeat(43)}` },
    });
    expect([asked.status, ((await asked.json()) as { code: string }).code]).toEqual([503, 'unavailable']);
    api.child.kill('SIGTERM');
    expect(await api.ended).toBe(0);
  }, 60_000);
});
