import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import pg from 'pg';
import { columnsOf, seasonTable, seasonTableNames } from '../../../libs/contracts/src/index.ts';
import { asDryspellError } from '../../../libs/data/src/database-errors.ts';
import { hill, openStage, publish, type Stage } from './stage.ts';

let stage: Stage;
let client: pg.Client;

beforeAll(async () => {
  stage = await openStage();
  await publish(stage, [
    hill,
    {
      job: 'lake-build',
      crew: 'south',
      days: ['2026-06-15', '2026-06-16'],
      liftUnit: 'crane-1',
      equipment: ['trailer-1'],
    },
  ]);
  client = new pg.Client({ connectionString: stage.url });
  await client.connect();
}, 60_000);

afterAll(async () => {
  await client.end();
  await stage.close();
});

/** Runs SQL past all program code, in a transaction that is given up; the coded error, or null when it is let through. */
async function refusal(sql: string): Promise<{ code: string; constraint: unknown } | null> {
  await client.query('BEGIN');
  try {
    await client.query(sql);
    return null;
  } catch (error) {
    const { code, data } = asDryspellError(error);
    return { code, constraint: data['constraint'] };
  } finally {
    await client.query('ROLLBACK');
  }
}

describe('the database itself', () => {
  it('lets no crew be held for two visits on one day, reserve days included', async () => {
    const onto = (from: string) =>
      refusal(`UPDATE visits SET crew = 'north', start_day = '${from}', end_day = '2026-06-12', release_day = '2026-06-12'
        WHERE job = 'lake-build'`);
    expect(await onto('2026-06-10')).toEqual({ code: 'overlap', constraint: 'visits_crew_overlap' });
    expect(await onto('2026-06-11')).toBeNull();
  });

  it('takes no notice of a visit that is cancelled or done', async () => {
    const sql = `UPDATE visits SET state = '%' WHERE job = 'hill-build';
      UPDATE visits SET crew = 'north', start_day = '2026-06-09', end_day = '2026-06-09', release_day = '2026-06-09'
      WHERE job = 'lake-build'`;
    expect(await refusal(sql.replace('%', 'cancelled'))).toBeNull();
    expect(await refusal(sql.replace('%', 'underway'))).toMatchObject({ code: 'overlap' });
  });

  it('lets no person be asked for two visits on one day, but one who declined is free', async () => {
    const insert = `INSERT INTO assignments (season_id, visit_id, person, role, from_day, to_day, ical_uid, state)
      SELECT season_id, id, 'ana', 'hand', '2026-06-10', '2026-06-16', 'x', '%' FROM visits WHERE job = 'lake-build'`;
    expect(await refusal(insert.replace('%', 'accepted'))).toEqual({
      code: 'overlap',
      constraint: 'assignments_person_overlap',
    });
    expect(await refusal(insert.replace('%', 'declined'))).toBeNull();
  });

  it('lets no lift and no unit of equipment be at two sites on one day', async () => {
    const move = (table: string) =>
      `UPDATE ${table} SET from_day = '2026-06-09' WHERE from_day >= '2026-06-15'`;
    expect(await refusal(move('lift_holds'))).toEqual({
      code: 'overlap',
      constraint: 'lift_holds_lift_overlap',
    });
    expect(await refusal(move('equipment_holds'))).toEqual({
      code: 'overlap',
      constraint: 'equipment_holds_unit_overlap',
    });
  });

  it('lets no person be in two crews on one day, an open end included', async () => {
    const insert = (
      from: string,
      to: string,
    ) => `INSERT INTO crew_members (season_id, crew, person, role, from_day, to_day)
      SELECT season_id, 'south', 'ana', 'hand', '${from}', ${to} FROM crews WHERE key = 'south'`;
    expect(await refusal(insert('2026-08-01', 'NULL'))).toEqual({
      code: 'overlap',
      constraint: 'crew_members_person_overlap',
    });
    expect(await refusal(insert('2026-03-01', "'2026-03-31'"))).toBeNull();
  });

  it('lets two visits change places within one transaction', async () => {
    const swap = `SET CONSTRAINTS ALL DEFERRED;
      UPDATE visits SET crew = CASE crew WHEN 'north' THEN 'south' ELSE 'north' END,
        start_day = CASE job WHEN 'hill-build' THEN DATE '2026-06-15' ELSE '2026-06-08' END,
        end_day = CASE job WHEN 'hill-build' THEN DATE '2026-06-16' ELSE '2026-06-09' END,
        release_day = CASE job WHEN 'hill-build' THEN DATE '2026-06-17' ELSE '2026-06-10' END,
        delivery_day = NULL;
      SET CONSTRAINTS ALL IMMEDIATE`;
    expect(await refusal(swap)).toBeNull();
  });

  it('lets a row of one season never point into another', async () => {
    const sql = `WITH other AS (
        INSERT INTO seasons SELECT (jsonb_populate_record(s, jsonb_build_object('id', gen_random_uuid(), 'key', 'other'))).*
        FROM seasons s RETURNING id)
      UPDATE jobs SET season_id = (SELECT id FROM other) WHERE key = 'cape-build'`;
    expect(await refusal(sql)).toMatchObject({ code: 'in-use' });
  });

  it('refuses what a column may not hold', async () => {
    for (const [sql, constraint] of [
      ["UPDATE crews SET weekdays = '0000000'", 'crews_weekdays_check'],
      ['UPDATE sites SET lat = 91', 'sites_lat_check'],
      ["UPDATE seasons SET last_day = '2025-01-01'", 'seasons_first_day_to_last_day_check'],
      ["UPDATE jobs SET visit_kind = 'party'", 'jobs_visit_kind_check'],
      ["UPDATE visits SET end_day = '2026-06-01'", 'visits_days_check'],
      [
        "INSERT INTO milestones (season_id, kind) SELECT id, 'sailed' FROM seasons",
        'milestones_one_of_consignment_container_check',
      ],
      ["INSERT INTO users (email, name) VALUES ('Ana@example.org', 'Ana')", 'users_email_check'],
    ]) {
      expect([sql, await refusal(sql as string)]).toEqual([sql, { code: 'invalid-input', constraint }]);
    }
  });

  it('keeps one published plan a season', async () => {
    const sql = `INSERT INTO plans (season_id, number, status, published_at, seed, iterations, method, problem_hash, content, total_cents)
      SELECT id, 99, 'published', now(), 1, 1, 'x', 'x', '{}', 1 FROM seasons`;
    expect(await refusal(sql)).toEqual({ code: 'already-exists', constraint: 'plans_one_published' });
  });

  it('lets the audit only be added to', async () => {
    for (const sql of ['UPDATE audit SET action = $$x$$', 'DELETE FROM audit', 'TRUNCATE audit']) {
      expect(await refusal(sql)).toMatchObject({ code: 'not-allowed' });
    }
  });

  it('counts a version up on a real change only', async () => {
    await client.query('BEGIN');
    await client.query("UPDATE crews SET name = name; UPDATE crews SET name = 'New' WHERE key = 'north'");
    const { rows } = await client.query('SELECT key, version FROM crews ORDER BY key');
    await client.query('ROLLBACK');
    expect(rows).toEqual([
      { key: 'north', version: 2 },
      { key: 'south', version: 1 },
    ]);
  });

  it('has a column of the right type for each column of the season file', async () => {
    const { rows } = await client.query(
      `SELECT table_name || '.' || column_name AS name, data_type, is_nullable FROM information_schema.columns WHERE table_schema = 'public'`,
    );
    const found = new Map(rows.map((row) => [row.name, `${row.data_type} ${row.is_nullable}`]));
    const snake = (name: string) => name.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
    const typeOf = {
      date: 'date',
      instant: 'timestamp with time zone',
      boolean: 'boolean',
      number: 'double precision',
    };
    for (const table of seasonTableNames) {
      for (const column of columnsOf(seasonTable(table))) {
        const text = typeOf[column.kind as keyof typeof typeOf] ?? 'text';
        const type = column.kind === 'integer' ? (column.unit === 'cents' ? 'bigint' : 'integer') : text;
        const name = `${snake(table)}.${snake(column.name)}`;
        expect([name, found.get(name)]).toEqual([name, `${type} ${column.required ? 'NO' : 'YES'}`]);
      }
    }
  });

  it('has no column in a season table that the season file lacks, but for its own book-keeping', async () => {
    const own = new Set(['id', 'season_id', 'version', 'created_at', 'updated_at', 'due_on']);
    const snake = (name: string) => name.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
    for (const table of seasonTableNames) {
      const { rows } = await client.query(
        "SELECT column_name FROM information_schema.columns WHERE table_schema = 'public' AND table_name = $1",
        [snake(table)],
      );
      const known = new Set(columnsOf(seasonTable(table)).map((column) => snake(column.name)));
      const extra = rows.map((row) => row.column_name).filter((name) => !known.has(name) && !own.has(name));
      expect([table, extra]).toEqual([table, []]);
    }
  });
});
