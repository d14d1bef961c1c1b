// A database that held hours and forecasts before the tables of feeds came keeps them, and knows what it holds; the rules of the new tables hold.
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import pg from 'pg';
import { applyMigrations } from '../../../libs/data/src/migrate.ts';
import { createEmptyDatabase, type TestDatabase } from '../../builders/test-database.ts';

const migrations = path.resolve(import.meta.dirname, '../../../prisma/migrations');
const THIS_ONE = '20261125035103_weather_feeds';

let database: TestDatabase;
let client: pg.Client;
let folder: string;
let seriesId: string;

beforeAll(async () => {
  database = await createEmptyDatabase();
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-before-'));
  const before = fs.readdirSync(migrations).filter((name) => /^\d/.test(name) && name < THIS_ONE);
  for (const name of before)
    fs.cpSync(path.join(migrations, name), path.join(folder, name), { recursive: true });
  await applyMigrations({ databaseUrl: database.url, migrationsDir: folder });
  client = new pg.Client({ connectionString: database.url });
  await client.connect();
  const { rows } = await client.query(`
    WITH firm AS (INSERT INTO organisations (key, name, zone) VALUES ('firm', 'Firm (invented)', 'UTC') RETURNING id)
    INSERT INTO weather_series (organisation_id, key, kind, name, lat, lon, zone, source)
    SELECT id, 'station.hill', 'record', 'Hill', 45, -64, 'America/Halifax', 'invented' FROM firm RETURNING id`);
  seriesId = rows[0].id;
  await client.query(
    `INSERT INTO weather_observations (series_id, observed_at, wind_mps, rain_mm)
     SELECT $1, moment, 3, CASE WHEN extract(hour FROM moment) < 12 THEN 0.5 END
     FROM generate_series(timestamptz '2019-12-31 20:00Z', timestamptz '2020-01-01 03:00Z', interval '1 hour') AS moment
     WHERE moment <> timestamptz '2020-01-01 01:00Z'`,
    [seriesId],
  );
  await client.query(
    `INSERT INTO weather_forecasts (series_id, issued_at, valid_at, member, wind_mps)
     SELECT $1, timestamptz '2020-01-01 00:00Z', moment, member, 4
     FROM generate_series(timestamptz '2020-01-01 06:00Z', timestamptz '2020-01-01 08:00Z', interval '1 hour') AS moment,
       generate_series(0, 1) AS member`,
    [seriesId],
  );
  await applyMigrations({ databaseUrl: database.url, migrationsDir: migrations });
}, 60_000);

afterAll(async () => {
  await client.end();
  await database.drop();
  fs.rmSync(folder, { recursive: true, force: true });
});

describe('hours that were there before', () => {
  it('are known by year, with their gaps and what they hold', async () => {
    const { rows } = await client.query(
      'SELECT year, hours, gaps, rain_hours, wind_hours, gust_hours, length(fingerprint) AS size FROM weather_series_years ORDER BY year',
    );
    expect(rows).toEqual([
      { year: 2019, hours: 4, gaps: 0, rain_hours: 0, wind_hours: 4, gust_hours: 0, size: 64 },
      { year: 2020, hours: 3, gaps: 1, rain_hours: 3, wind_hours: 3, gust_hours: 0, size: 64 },
    ]);
  });

  it('as forecasts are known by when they were issued', async () => {
    const { rows } = await client.query(
      'SELECT issued_at, first_at, last_at, members, hours FROM weather_forecast_issues',
    );
    expect(rows).toEqual([
      {
        issued_at: new Date('2020-01-01T00:00:00Z'),
        first_at: new Date('2020-01-01T06:00:00Z'),
        last_at: new Date('2020-01-01T08:00:00Z'),
        members: 2,
        hours: 6,
      },
    ]);
  });
});

describe('the rules of the new tables', () => {
  const feed = (columns: string, values: string) =>
    `INSERT INTO weather_feeds (series_id, source, wanted_until, next_due_at${columns}) VALUES ('SERIES', 'met', '2020-01-01', now()${values})`;
  const upload = (columns: string, values: string) =>
    `INSERT INTO weather_imports (organisation_id, target_kind, target_key, season, file_name, requested_by${columns})
     SELECT organisation_id, 'site', 'hill', 'small', 'f.epw', 'x'${values} FROM weather_series`;
  it.each([
    [
      'a fault without a failed try',
      feed(', fault, fault_since', ", 'no', now()"),
      'weather_feeds_tries_check',
    ],
    ['a fault without a beginning', feed(', fault, tries', ", 'no', 1"), 'weather_feeds_fault_check'],
    [
      'an upload that failed without a reason',
      upload(', state, finished_at', ", 'failed', now()"),
      'weather_imports_fault_check',
    ],
    [
      'an upload that is over and is not',
      upload(', finished_at', ', now()'),
      'weather_imports_finished_check',
    ],
    ['an upload in a state that there is not', upload(', state', ", 'lost'"), 'weather_imports_state_check'],
    [
      'a result without the key of its content',
      `INSERT INTO weather_windows (content_key, series_id, kind, result, made_at, used_at) VALUES ('x', 'SERIES', 'odds', '{}', now(), now())`,
      'weather_windows_content_key_check',
    ],
    [
      'a clock that no place has',
      `UPDATE weather_series SET standard_offset_min = 900`,
      'weather_series_standard_offset_min_check',
    ],
  ])('refuse %s', async (_what, sql, constraint) => {
    await expect(client.query(sql.replace('SERIES', seriesId))).rejects.toMatchObject({ constraint });
  });
});
