import { afterAll, afterEach, beforeAll, describe, expect, it, jest } from '@jest/globals';
import { type Leader, startLeader } from '../../../apps/worker/src/leader.ts';
import { createWorkerDatabase, recordedLog, until, type WorkerDatabase } from './worker-bench.ts';

jest.setTimeout(60_000);

describe('the leader', () => {
  let database: WorkerDatabase;
  let leaders: Leader[] = [];
  const { log } = recordedLog();

  beforeAll(async () => {
    database = await createWorkerDatabase();
  });
  afterEach(async () => {
    await Promise.all(leaders.map((leader) => leader.stop()));
    leaders = [];
  });
  afterAll(() => database.destroy());

  function start(name: string, turns: string[]): Leader {
    const run = async () => {
      turns.push(name);
      return false;
    };
    const leader = startLeader({
      databaseUrl: database.url,
      sweeps: [{ name: 'test sweep', everyMs: 50, run }],
      log,
      askEveryMs: 100,
    });
    leaders.push(leader);
    return leader;
  }

  it('is one of several, and only it sweeps', async () => {
    const turns: string[] = [];
    const first = start('first', turns);
    await until('the first leads', () => first.leads);
    const second = start('second', turns);
    const third = start('third', turns);
    await new Promise((resolve) => setTimeout(resolve, 500));
    expect([second.leads, third.leads]).toEqual([false, false]);
    expect(turns.length).toBeGreaterThan(2);
    expect(new Set(turns)).toEqual(new Set(['first']));
  });

  it('hands over when it stops', async () => {
    const turns: string[] = [];
    const first = start('first', turns);
    await until('the first leads', () => first.leads);
    const second = start('second', turns);
    await first.stop();
    await until('the second leads', () => second.leads);
    turns.length = 0;
    await until('the second sweeps', () => turns.length > 0);
    expect(new Set(turns)).toEqual(new Set(['second']));
  });

  it('stops sweeping when its connection is lost, and somebody leads again', async () => {
    const turns: string[] = [];
    const first = start('first', turns);
    await until('the first leads', () => first.leads);
    const held = `SELECT pid FROM pg_locks WHERE locktype = 'advisory' AND granted
                  AND database = (SELECT oid FROM pg_database WHERE datname = current_database())`;
    const [lock] = await database.sql<{ pid: number }>(held);
    await database.sql('SELECT pg_terminate_backend($1)', [lock?.pid]);
    await until('another connection holds the lock', async () => {
      const [now] = await database.sql<{ pid: number }>(held);
      return now !== undefined && now.pid !== lock?.pid;
    });
    expect(leaders.filter((leader) => leader.leads).length).toBe(1);
    turns.length = 0;
    await until('it sweeps again', () => turns.length > 0);
  });
});
