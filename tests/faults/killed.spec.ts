// Killed in the middle of what must not be done by halves or twice: publishing a plan, and sending its messages. The whole
// program runs as its user starts it, on its own PostgreSQL, with a real mail server on this machine.
import { randomUUID } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it, jest } from '@jest/globals';
import pg from 'pg';
import { freePort } from '../../apps/cli/src/postgres/free-port.ts';
import { isAlive } from '../../apps/cli/src/postgres/postmaster-pid.ts';
import { runningServer } from '../../apps/cli/src/postgres/running-server.ts';
import { rngFromSeed } from '../../libs/kernel/src/index.ts';
import { databasePrint } from '../builders/database-print.ts';
import { eventually } from '../builders/eventually.ts';
import { childOf, childrenOf, killTogether, postmasterOf } from '../builders/program-children.ts';
import { type StartedDryspell, startDryspell } from '../builders/started-dryspell.ts';
import { expectedCounts, type SeasonRows } from '../e2e/round/expected-mail.ts';
import { countsOf, type Draft, Manager, signIn, sorted } from '../e2e/round/round.ts';
import { type MailServer, startMailServer } from '../integration/worker/mail-server.ts';

jest.setTimeout(600_000);

const root = path.resolve(import.meta.dirname, '../..');
/** Kills and pauses are drawn from it; it is printed when something fails, and can be given to see the same again. */
const SEED = Number(process.env['DRYSPELL_TEST_SEED'] ?? 20270419);
const rng = rngFromSeed(SEED);

let data: string;
let port: number;
let mailServer: MailServer;
let program: StartedDryspell;
let manager: Manager;
let season: SeasonRows;
let draft: { plan: Draft; etag: string };

async function start(): Promise<void> {
  program = startDryspell(['--data', data, '--port', String(port), '--no-demo'], {
    DRYSPELL_SMTP_URL: mailServer.url,
    DRYSPELL_MAIL_FROM: 'planning@larch-and-loon.example',
    // Many looks at states in a short time.
    DRYSPELL_RATE_PER_MIN: '100000',
  });
  await program.saw('Ready.', 120_000);
}

function databaseUrl(): string {
  const { rolePassword } = JSON.parse(fs.readFileSync(path.join(data, 'settings.json'), 'utf8'));
  const url = runningServer(path.join(data, 'database'), rolePassword);
  if (url === undefined) throw new Error('the embedded database does not run');
  return url;
}

async function query<Row extends pg.QueryResultRow>(text: string, values: unknown[] = []): Promise<Row[]> {
  const client = new pg.Client({ connectionString: databaseUrl() });
  await client.connect();
  try {
    return (await client.query<Row>(text, values)).rows;
  } finally {
    await client.end();
  }
}

beforeAll(async () => {
  data = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-killed-'));
  fs.chmodSync(data, 0o755);
  port = await freePort();
  mailServer = await startMailServer();
  await start();
  const link = /http:\/\/localhost:\d+\/sign-in\/[\w-]{43}/.exec(program.output())?.[0] ?? '';
  manager = new Manager(await signIn(link), 'larch-loon-2027');
  const file = fs.readFileSync(path.join(root, 'prisma/demo/larch-and-loon-2027.json'));
  const imported = await manager.client.post('/api/v1/seasons/import', {
    file: { bytes: file, mediaType: 'application/json' },
  });
  expect([imported.status, imported.text]).toEqual([200, expect.anything()]);
  await manager.dropQuietHours();
  season = await manager.seasonFile();
  draft = await manager.planAnew({ iterations: 200, seed: 7 });
  expect(draft.plan.visits.length).toBeGreaterThan(20);
});

afterAll(async () => {
  await program?.end('SIGTERM');
  await mailServer.close();
  fs.rmSync(data, { recursive: true, force: true });
});

/** Publishes, again and again while the server believes that the request of before still runs; as a careful caller does. */
async function tryUntilTaken(key: string): ReturnType<Manager['tryPublish']> {
  const giveUpAt = Date.now() + 120_000;
  for (;;) {
    const answer = await manager.tryPublish(draft, key);
    if (answer.status !== 409 || Date.now() > giveUpAt) return answer;
    expect(answer.text).toContain('repeat-in-progress');
    await pause(500);
  }
}

/** Holds up every writer of a table until `release`. */
async function holdTable(table: string): Promise<{ waiting(): Promise<number[]>; release(): Promise<void> }> {
  const client = new pg.Client({ connectionString: databaseUrl() });
  await client.connect();
  await client.query('BEGIN');
  await client.query(`LOCK TABLE ${table} IN SHARE MODE`);
  return {
    waiting: async () => {
      const { rows } = await client.query<{ pid: number }>(
        'SELECT pid FROM pg_locks WHERE NOT granted AND relation = $1::regclass',
        [table],
      );
      return rows.map(({ pid }) => pid);
    },
    release: async () => {
      await client.query('ROLLBACK');
      await client.end();
    },
  };
}

describe('a program that is killed while it publishes', () => {
  /** What a start, or the killed request itself, notes down beside. */
  const BESIDE = ['idempotency_keys', 'sign_in_links', 'audit'];

  /** Of the request that is broken off last, which is then repeated. */
  const key = randomUUID();

  it.each([
    ['the API, in the visits', 'visit_days', 'api'],
    ['everything, in the last rows', 'reminders', 'all'],
  ] as const)('has published nothing when %s was killed', async (_what, table, whom) => {
    const before = await databasePrint(databaseUrl(), BESIDE);
    const hold = await holdTable(table);
    const publishing = manager.tryPublish(draft, whom === 'all' ? key : randomUUID()).then(
      ({ status }) => `answered ${status}`,
      () => 'broken off',
    );
    let held: number[] = [];
    await eventually(
      'publishing waits',
      async () => {
        held = await hold.waiting();
        return held.length > 0;
      },
      90_000,
    );
    if (whom === 'api') process.kill(childOf(program, 'api'), 'SIGKILL');
    else await killTogether(program);
    expect(await publishing).toBe('broken off');
    await hold.release();
    await eventually('the database has let go of the killed work', async () => {
      const rows = await query('SELECT 1 FROM pg_stat_activity WHERE pid = ANY($1)', [held]);
      return rows.length === 0;
    });
    if (whom === 'api') await program.saw('the api is back');
    else await start();
    expect(await databasePrint(databaseUrl(), BESIDE)).toEqual(before);
    expect(await query(`SELECT 1 FROM audit WHERE action = 'plan.published'`)).toEqual([]);
    expect((await manager.plan(draft.plan.id)).plan.status).toBe('draft');
    expect(mailServer.taken).toEqual([]);
  });

  it('publishes with the very request that was broken off, once', async () => {
    // Slow enough that the next test finds most of the messages on their way.
    mailServer.hooks = {
      rcptTo: () => pause(40),
      dataBegins: () => pause(60),
      beforeAnswer: () => pause(150),
    };
    const answer = await tryUntilTaken(key);
    expect(answer.status).toBe(200);
    expect(answer.body.visits.added).toBe(draft.plan.visits.length);
    const [published] = await query<{ visits: string; plans: string }>(
      `SELECT (SELECT count(*) FROM visits) AS visits, (SELECT count(*) FROM plans WHERE status = 'published') AS plans`,
    );
    expect(published).toEqual({ visits: String(draft.plan.visits.length), plans: '1' });
  });
});

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

describe('a program that is killed while it sends', () => {
  const KILLS = ['worker', 'all with its database', 'launcher', 'all'] as const;

  async function kill(whom: (typeof KILLS)[number]): Promise<void> {
    if (whom === 'worker') {
      const before = childOf(program, 'worker');
      process.kill(before, 'SIGKILL');
      await eventually('the worker is back', () =>
        childrenOf(program).some(({ name, pid }) => name === 'worker' && pid !== before),
      );
      return;
    }
    if (whom === 'launcher') {
      const children = childrenOf(program);
      await program.end('SIGKILL');
      await start();
      await eventually('the old children are gone', () => !children.some(({ pid }) => isAlive(pid)));
      return;
    }
    await killTogether(program, whom === 'all' ? [] : [postmasterOf(data)]);
    await start();
  }

  it('has sent every message at most once, lost none, and says which may not have come', async () => {
    const expected = sorted(expectedCounts(season, draft.plan.visits));
    const total = expected.reduce((sum, [, count]) => sum + count, 0);
    expect(total).toBeGreaterThan(100);
    for (const whom of KILLS) {
      const enough = mailServer.taken.length + rng.integer(3, 17);
      await eventually('some more messages have gone', () => mailServer.taken.length >= enough, 60_000);
      await pause(rng.integer(0, 300));
      await kill(whom);
    }
    mailServer.hooks = {};
    // The point of the exercise: all this happened while messages were on their way.
    expect(mailServer.taken.length).toBeLessThan(total);
    const deliveries = await manager.allSettled(150_000);
    expect(deliveries).toHaveLength(total);

    const rows = await query<{ id: string; message_id: string; state: string }>(
      'SELECT id, message_id, state FROM deliveries',
    );
    const taken = mailServer.taken.map(({ messageId }) => messageId);
    const what = `seed ${SEED}`;
    expect([what, taken.length - new Set(taken).size]).toEqual([what, 0]);
    expect(rows.filter(({ state }) => state !== 'sent' && state !== 'uncertain')).toEqual([]);
    const notCome = rows.filter(({ state, message_id }) => state === 'sent' && !taken.includes(message_id));
    expect([what, notCome]).toEqual([what, []]);
    expect(taken.filter((id) => !rows.some(({ message_id }) => message_id === id))).toEqual([]);

    // Each that may not have come is shown, and the manager's decision settles it.
    const uncertain = rows.filter(({ state }) => state === 'uncertain');
    const next = await manager.whatNext();
    process.stderr.write(
      `${what}: ${KILLS.length} kills, ${uncertain.length} of ${total} messages uncertain\n`,
    );
    const shown = next.items.filter(({ kind }) => kind === 'message-uncertain');
    expect(shown.length + (next.more['message-uncertain'] ?? 0)).toBe(uncertain.length);
    for (const { id, message_id } of uncertain) {
      const { version } = deliveries.find((delivery) => delivery.id === id) as { version: number };
      const decided = await manager.client.post(`/api/v1/deliveries/${id}/decision`, {
        json: { as: taken.includes(message_id) ? 'arrived' : 'send' },
        ifMatch: `"${version}"`,
      });
      expect([decided.status, decided.text]).toEqual([200, expect.anything()]);
    }
    const settled = await manager.allSettled();
    expect(settled.filter(({ state }) => state !== 'sent')).toEqual([]);
    expect(sorted(countsOf(mailServer.taken))).toEqual(expected);
  });
});
