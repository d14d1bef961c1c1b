import pg from 'pg';
import PgBoss from 'pg-boss';
import type { JobDefinition } from '../../contracts/src/jobs/index.ts';
import type { DeadJob, QueueHealth, QueueLog } from './queue.port.ts';
import { QueueError, reasonOf } from './queue-error.ts';
import { RETRY_RULES } from './retry-class.ts';
import type { RunOutcome } from './run-job.ts';

const KEEP_DEAD_DAYS = 14;

/** A job taken by this process. `retryCount` tells one taking from the next: a run that was lost writes nothing. */
export interface TakenJob {
  readonly id: string;
  readonly retryCount: number;
  readonly retryLimit: number;
  readonly data: unknown;
}

/**
 * The tables of the embedded queue: pg-boss creates, fills, hands out, expires and backs off; what it has no word
 * for (renewing a run, putting back, fenced completion) is plain SQL on its job table.
 */
export class PostgresStore {
  readonly schema: string;
  readonly #pool: pg.Pool;
  readonly #boss: PgBoss;
  readonly #log: QueueLog;
  #failing: string | undefined;

  constructor(databaseUrl: string, schema: string, log: QueueLog) {
    this.schema = schema;
    this.#log = log;
    this.#pool = new pg.Pool({
      connectionString: databaseUrl,
      max: 4,
      connectionTimeoutMillis: 4_000,
      query_timeout: 30_000,
      application_name: 'dryspell-queue',
    });
    // Without this a restart of the server would end the process through an idle connection.
    this.#pool.on('error', (error) =>
      log.warn({ reason: reasonOf(error) }, 'queue lost a database connection'),
    );
    this.#boss = new PgBoss({
      db: { executeSql: (text, values) => this.#run(text, values) },
      schema,
      schedule: false,
      supervise: false,
      retentionDays: KEEP_DEAD_DAYS,
      archiveFailedAfterSeconds: KEEP_DEAD_DAYS * 86_400,
      deleteAfterDays: 1,
    });
    this.#boss.on('error', (error) => log.warn({ reason: reasonOf(error) }, 'queue maintenance failed'));
  }

  /** Why the last statement failed, or undefined when it went well. (pg-boss answers "no job" to any failure.) */
  get failing(): string | undefined {
    return this.#failing;
  }

  async #run(
    text: string,
    values?: unknown[],
  ): Promise<{ rows: Record<string, unknown>[]; rowCount: number | null }> {
    try {
      const result = await this.#pool.query(text, values);
      if (this.#failing !== undefined) this.#log.info({}, 'queue reaches the database again');
      this.#failing = undefined;
      return result;
    } catch (error) {
      if (this.#failing === undefined)
        this.#log.warn({ reason: reasonOf(error) }, 'queue cannot use the database');
      this.#failing = reasonOf(error);
      throw error;
    }
  }

  /** Creates or upgrades the tables, one process at a time. */
  async start(jobs: readonly JobDefinition[]): Promise<void> {
    const client = await this.#pool.connect().catch((error: unknown) => {
      throw new QueueError('queue-unreachable', `The database does not answer: ${reasonOf(error)}`, error);
    });
    try {
      await client.query('SELECT pg_advisory_lock(hashtextextended($1, 0))', [
        `dryspell queue ${this.schema}`,
      ]);
      await this.#boss.start();
      for (const { name, retry } of jobs) {
        const rule = RETRY_RULES[retry];
        const options = {
          name,
          policy: 'standard' as const,
          retryLimit: rule.attempts - 1,
          retryDelay: rule.firstPauseSec,
          retryBackoff: true,
          expireInSeconds: rule.lockSec,
        };
        await this.#boss.createQueue(name, { ...options });
        await this.#boss.updateQueue(name, { ...options });
      }
    } finally {
      // The session lock goes with the connection.
      client.release(true);
    }
  }

  async insert(jobs: PgBoss.JobInsert[], name: string): Promise<void> {
    try {
      await this.#run(
        `DELETE FROM ${this.schema}.job WHERE name = $1 AND id = ANY($2::uuid[]) AND state IN ('completed', 'cancelled', 'failed')`,
        [name, jobs.map((job) => job.id)],
      );
      await this.#boss.insert(jobs);
    } catch (error) {
      throw new QueueError('queue-unreachable', `The job could not be added: ${reasonOf(error)}`, error);
    }
  }

  async take(name: string, batchSize: number): Promise<TakenJob[]> {
    return this.#boss.fetch(name, { batchSize, includeMetadata: true });
  }

  /** Keeps the runs of this process from expiring; answers the ids that are still its own. */
  async renew(name: string, taken: readonly TakenJob[]): Promise<Set<string>> {
    const { rows } = await this.#run(
      `UPDATE ${this.schema}.job j SET started_on = now()
       FROM unnest($2::uuid[], $3::int[]) AS mine(id, retry_count)
       WHERE j.name = $1 AND j.id = mine.id AND j.retry_count = mine.retry_count AND j.state = 'active'
       RETURNING j.id`,
      [name, taken.map((job) => job.id), taken.map((job) => job.retryCount)],
    );
    return new Set(rows.map((row) => String(row.id)));
  }

  /** Gives jobs of silent workers back, with the pause of their class; no attempts left makes them dead. */
  async expire(): Promise<void> {
    await this.#boss.expire();
  }

  async tidy(): Promise<void> {
    await this.#boss.maintain();
  }

  /** Writes the end of a run, unless the run was lost to another worker meanwhile; then answers false. */
  async finish(name: string, { id, retryCount }: TakenJob, outcome: RunOutcome): Promise<boolean> {
    const mine = `name = $1 AND id = $2 AND retry_count = $3 AND state = 'active'`;
    const keys = [name, id, retryCount];
    if (outcome.is === 'done') {
      return (await this.#run(`DELETE FROM ${this.schema}.job WHERE ${mine}`, keys)).rowCount === 1;
    }
    if (outcome.is === 'put-back') {
      // No started_on: pg-boss would otherwise count the next taking as a retry.
      const sql = `UPDATE ${this.schema}.job SET state = 'retry', started_on = NULL, start_after = $4, output = $5
                   WHERE ${mine}`;
      const output = JSON.stringify({ reason: outcome.reason });
      return (await this.#run(sql, [...keys, outcome.runAt, output])).rowCount === 1;
    }
    // "dead" is a failure with no retry left; the update doubles as the fence.
    const limit = outcome.is === 'dead' ? 'retry_count' : 'retry_limit';
    const client = await this.#pool.connect();
    try {
      await client.query('BEGIN');
      const fence = await client.query(
        `UPDATE ${this.schema}.job SET retry_limit = ${limit} WHERE ${mine}`,
        keys,
      );
      if (fence.rowCount === 1) {
        const db = { executeSql: (text: string, values: unknown[]) => client.query(text, values) };
        await this.#boss.fail(name, id, { reason: outcome.reason }, { db });
      }
      await client.query('COMMIT');
      client.release();
      return fence.rowCount === 1;
    } catch (error) {
      client.release(true);
      throw error;
    }
  }

  async dead(names: readonly string[], limit: number): Promise<DeadJob[]> {
    const { rows } = await this.#run(
      `SELECT name, id, data, output, retry_count, completed_on FROM ${this.schema}.job
       WHERE name = ANY($1) AND state = 'failed' ORDER BY completed_on DESC, id LIMIT $2`,
      [names, limit],
    );
    return rows.map((row) => {
      const data = row.data as { dedupeKey?: string; payload?: unknown } | null;
      const output = row.output as { reason?: string; value?: { message?: string } } | null;
      return {
        jobId: String(row.id),
        jobName: String(row.name),
        dedupeKey: data?.dedupeKey ?? '',
        payload: data?.payload,
        reason: output?.reason ?? 'The worker fell silent in the middle of the job, on each try.',
        attempts: Number(row.retry_count) + 1,
        diedAt: row.completed_on as Date,
      };
    });
  }

  async counts(names: readonly string[]): Promise<NonNullable<QueueHealth['jobs']>> {
    const { rows } = await this.#run(
      `SELECT name,
              count(*) FILTER (WHERE state < 'active' AND start_after <= now())::int AS waiting,
              count(*) FILTER (WHERE state < 'active' AND start_after > now())::int AS delayed,
              count(*) FILTER (WHERE state = 'active')::int AS active,
              count(*) FILTER (WHERE state = 'failed')::int AS dead
       FROM ${this.schema}.job WHERE name = ANY($1) GROUP BY name`,
      [names],
    );
    const none = { waiting: 0, delayed: 0, active: 0, dead: 0 };
    const counts = Object.fromEntries(names.map((name) => [name, { ...none }]));
    for (const { name, ...row } of rows) counts[String(name)] = row as typeof none;
    return counts;
  }

  async stop(): Promise<void> {
    await this.#boss.stop({ graceful: false, close: false });
    await this.#pool.end();
  }
}
