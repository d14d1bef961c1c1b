import { DryspellError, type Instant, instantToMs } from '../../../kernel/src/index.ts';
import type { HourlyRecord } from '../../../weather/src/index.ts';
import type { Database, Tx } from '../database.ts';
import { floatsOf, minutesOf, signsOf } from './column-bytes.ts';
import type { WeatherSeries } from './series.repository.ts';
import { columnTexts, ensureWeatherYears, utcYearOfMinute, YEAR_HOURS } from './weather-columns.ts';

/** What storing changed. */
export interface StoredHours {
  readonly added: number;
  readonly changed: number;
  readonly same: number;
  /** Hours that were thrown away first, where the record was to be replaced. */
  readonly removed: number;
}

export interface StoreRecordInput {
  readonly series: WeatherSeries;
  readonly record: HourlyRecord;
  /** Throws the hours away that the series had. */
  readonly replace?: boolean;
  readonly onProgress?: (hoursDone: number) => void;
}

/** A year of hours is one statement. */
const CHUNK_HOURS = YEAR_HOURS;
const TIMEOUT_MS = 30 * 60_000;

/**
 * Keeps the hours of a record, all or none, and notes what the series now holds. An hour that is there already takes the known values of the
 * new one; a value that is missing in the new one never wipes a known one, so the same file twice changes nothing. Throws `invalid-input`
 * when the clocks of record and series differ by part of an hour, or a made-up year would be mixed with real ones.
 */
export async function storeRecord(db: Database, input: StoreRecordInput): Promise<StoredHours> {
  const { record } = input;
  const years = new Set<number>();
  for (const hour of record.hourIndex) years.add(utcYearOfMinute(hour * 60 - record.standardOffsetMin));
  // Partitions are made before the rows come, in a transaction of their own: it locks the whole table.
  await ensureWeatherYears(db, [...years]);
  return db.transaction((tx) => storeRecordIn(tx, input, years), {
    isolation: 'readCommitted',
    timeoutMs: TIMEOUT_MS,
  });
}

async function storeRecordIn(
  tx: Tx,
  { series, record, replace = false, onProgress }: StoreRecordInput,
  years: Set<number>,
): Promise<StoredHours> {
  // One writer of a series at a time.
  await tx.$queryRaw`SELECT 1 AS locked FROM weather_series WHERE id = ${series.id}::uuid FOR UPDATE`;
  const removed = replace ? await clear(tx, series, record, years) : 0;
  if (!replace) requireSameClock(series, record);
  const counts = { added: 0, changed: 0, same: 0 };
  for (let at = 0; at < record.hourIndex.length; at += CHUNK_HOURS) {
    const end = Math.min(at + CHUNK_HOURS, record.hourIndex.length);
    const chunk = await storeChunk(tx, series.id, record, at, end);
    counts.added += chunk.added;
    counts.changed += chunk.changed;
    counts.same += chunk.same;
    onProgress?.(end);
  }
  if (counts.added + counts.changed + removed > 0) {
    for (const year of years)
      await tx.$executeRaw`SELECT note_weather_year(${series.id}::uuid, ${year}::int)::text`;
  }
  return { ...counts, removed };
}

async function clear(
  tx: Tx,
  series: WeatherSeries,
  record: HourlyRecord,
  years: Set<number>,
): Promise<number> {
  const removed = await tx.$executeRaw`DELETE FROM weather_observations WHERE series_id = ${series.id}::uuid`;
  const held = await tx.weatherSeriesYear.findMany({
    where: { seriesId: series.id },
    select: { year: true },
  });
  for (const { year } of held) years.add(year);
  const { standardOffsetMin, typicalYear, place, source } = record;
  const facts = {
    lat: place.lat,
    lon: place.lon,
    elevationM: place.elevationM,
    standardOffsetMin,
    typicalYear,
  };
  await tx.weatherSeries.update({
    where: { id: series.id },
    data: { ...facts, ...(source === '' ? {} : { source }) },
  });
  return removed;
}

function requireSameClock(series: WeatherSeries, record: HourlyRecord): void {
  if ((series.standardOffsetMin - record.standardOffsetMin) % 60 !== 0) {
    throw new DryspellError('invalid-input', {
      field: 'standardOffsetMin',
      value: record.standardOffsetMin,
      expected: `whole hours from ${series.standardOffsetMin}`,
    });
  }
  if (series.typicalYear !== record.typicalYear) {
    const expected = series.typicalYear
      ? 'a made-up year, as the record has'
      : 'real years, as the record has';
    throw new DryspellError('invalid-input', { field: 'typicalYear', value: record.typicalYear, expected });
  }
}

async function storeChunk(tx: Tx, seriesId: string, record: HourlyRecord, from: number, to: number) {
  const { minute, tempC, dewPointC, rainMm, windMps, gustMps, thunder } = columnTexts(record, from, to);
  const [counts] = await tx.$queryRaw<{ added: number; changed: number; same: number }[]>`
    WITH incoming AS MATERIALIZED (
      SELECT timestamptz 'epoch' + minute * interval '1 minute' AS observed_at, temp_c, dew_point_c, rain_mm, wind_mps, gust_mps, thunder
      FROM unnest(${minute}::text::int[], ${tempC}::text::real[], ${dewPointC}::text::real[], ${rainMm}::text::real[],
        ${windMps}::text::real[], ${gustMps}::text::real[], ${thunder}::text::boolean[])
        AS i(minute, temp_c, dew_point_c, rain_mm, wind_mps, gust_mps, thunder)
    ), span AS MATERIALIZED (
      SELECT min(observed_at) AS low, max(observed_at) AS high FROM incoming
    ), held AS MATERIALIZED (
      SELECT o.* FROM weather_observations o, span
      WHERE o.series_id = ${seriesId}::uuid AND o.observed_at BETWEEN span.low AND span.high
    ), merged AS MATERIALIZED (
      SELECT i.observed_at, coalesce(i.temp_c, h.temp_c) AS temp_c, coalesce(i.dew_point_c, h.dew_point_c) AS dew_point_c,
        coalesce(i.rain_mm, h.rain_mm) AS rain_mm, coalesce(i.wind_mps, h.wind_mps) AS wind_mps,
        coalesce(i.gust_mps, h.gust_mps) AS gust_mps, coalesce(i.thunder, h.thunder) AS thunder,
        h.series_id IS NULL AS is_new,
        (i.temp_c IS NOT NULL AND i.temp_c IS DISTINCT FROM h.temp_c)
          OR (i.dew_point_c IS NOT NULL AND i.dew_point_c IS DISTINCT FROM h.dew_point_c)
          OR (i.rain_mm IS NOT NULL AND i.rain_mm IS DISTINCT FROM h.rain_mm)
          OR (i.wind_mps IS NOT NULL AND i.wind_mps IS DISTINCT FROM h.wind_mps)
          OR (i.gust_mps IS NOT NULL AND i.gust_mps IS DISTINCT FROM h.gust_mps)
          OR (i.thunder IS NOT NULL AND i.thunder IS DISTINCT FROM h.thunder) AS differs
      FROM incoming i LEFT JOIN held h ON h.observed_at = i.observed_at
    ), written AS (
      INSERT INTO weather_observations
        (series_id, observed_at, temp_c, dew_point_c, rain_mm, wind_mps, gust_mps, thunder)
      SELECT ${seriesId}::uuid, observed_at, temp_c, dew_point_c, rain_mm, wind_mps, gust_mps, thunder
      FROM merged WHERE is_new OR differs
      ON CONFLICT (series_id, observed_at) DO UPDATE SET temp_c = excluded.temp_c, dew_point_c = excluded.dew_point_c,
        rain_mm = excluded.rain_mm, wind_mps = excluded.wind_mps, gust_mps = excluded.gust_mps, thunder = excluded.thunder
    )
    SELECT count(*) FILTER (WHERE is_new)::int AS added, count(*) FILTER (WHERE NOT is_new AND differs)::int AS changed,
      count(*) FILTER (WHERE NOT is_new AND NOT differs)::int AS same FROM merged`;
  return counts as { added: number; changed: number; same: number };
}

/** Which hours to read; both ends may be left open. */
export interface ReadRecordInput {
  readonly series: WeatherSeries;
  readonly from?: Instant;
  /** Not included. */
  readonly to?: Instant;
}

interface PackedHours {
  readonly minutes: Uint8Array | null;
  readonly temp_c: Uint8Array | null;
  readonly dew_point_c: Uint8Array | null;
  readonly rain_mm: Uint8Array | null;
  readonly wind_mps: Uint8Array | null;
  readonly gust_mps: Uint8Array | null;
  readonly thunder: Uint8Array | null;
}

/** The hours of a series as one record, on the series' own clock. A year at a time comes over, so that forty years are not there twice. */
export async function readRecord(db: Database, input: ReadRecordInput): Promise<HourlyRecord> {
  const { series } = input;
  const held = await db.client.weatherSeriesYear.findMany({
    where: { seriesId: series.id },
    orderBy: { year: 'asc' },
  });
  const fromMs = input.from ? instantToMs(input.from) : Number.NEGATIVE_INFINITY;
  const toMs = input.to ? instantToMs(input.to) : Number.POSITIVE_INFINITY;
  const years = held.filter(({ firstAt, lastAt }) => lastAt.getTime() >= fromMs && firstAt.getTime() < toMs);
  const capacity = years.reduce((sum, { hours }) => sum + hours, 0);
  const columns = {
    hourIndex: new Int32Array(capacity),
    tempC: new Float32Array(capacity),
    dewPointC: new Float32Array(capacity),
    rainMm: new Float32Array(capacity),
    windMps: new Float32Array(capacity),
    gustMps: new Float32Array(capacity),
    thunder: new Int8Array(capacity),
  };
  let length = 0;
  for (const { year } of years) {
    const low = new Date(Math.max(fromMs, Date.UTC(year, 0, 1)));
    const high = new Date(Math.min(toMs, Date.UTC(year + 1, 0, 1)));
    const packed = await packedHours(db, series.id, low, high);
    const minutes = minutesOf(packed.minutes);
    // Hours that came in since the years were counted are left for the next reading.
    const count = Math.min(minutes.length, capacity - length);
    for (let at = 0; at < count; at += 1) {
      columns.hourIndex[length + at] = Math.floor(((minutes[at] as number) + series.standardOffsetMin) / 60);
    }
    columns.tempC.set(floatsOf(packed.temp_c).subarray(0, count), length);
    columns.dewPointC.set(floatsOf(packed.dew_point_c).subarray(0, count), length);
    columns.rainMm.set(floatsOf(packed.rain_mm).subarray(0, count), length);
    columns.windMps.set(floatsOf(packed.wind_mps).subarray(0, count), length);
    columns.gustMps.set(floatsOf(packed.gust_mps).subarray(0, count), length);
    columns.thunder.set(signsOf(packed.thunder).subarray(0, count), length);
    length += count;
  }
  const { name, lat, lon, elevationM, source, standardOffsetMin, typicalYear } = series;
  return {
    place: { name, lat, lon, elevationM },
    source,
    standardOffsetMin,
    typicalYear,
    hourIndex: columns.hourIndex.subarray(0, length),
    tempC: columns.tempC.subarray(0, length),
    dewPointC: columns.dewPointC.subarray(0, length),
    rainMm: columns.rainMm.subarray(0, length),
    windMps: columns.windMps.subarray(0, length),
    gustMps: columns.gustMps.subarray(0, length),
    thunder: columns.thunder.subarray(0, length),
  };
}

async function packedHours(db: Database, seriesId: string, low: Date, high: Date): Promise<PackedHours> {
  const [row] = await db.client.$queryRaw<PackedHours[]>`
    SELECT string_agg(int4send((extract(epoch FROM observed_at) / 60)::int), ''::bytea ORDER BY observed_at) AS minutes,
      string_agg(float4send(coalesce(temp_c, 'NaN')), ''::bytea ORDER BY observed_at) AS temp_c,
      string_agg(float4send(coalesce(dew_point_c, 'NaN')), ''::bytea ORDER BY observed_at) AS dew_point_c,
      string_agg(float4send(coalesce(rain_mm, 'NaN')), ''::bytea ORDER BY observed_at) AS rain_mm,
      string_agg(float4send(coalesce(wind_mps, 'NaN')), ''::bytea ORDER BY observed_at) AS wind_mps,
      string_agg(float4send(coalesce(gust_mps, 'NaN')), ''::bytea ORDER BY observed_at) AS gust_mps,
      string_agg(CASE thunder WHEN true THEN '\\x01'::bytea WHEN false THEN '\\x00'::bytea ELSE '\\xff'::bytea END, ''::bytea
        ORDER BY observed_at) AS thunder
    FROM weather_observations WHERE series_id = ${seriesId}::uuid AND observed_at >= ${low} AND observed_at < ${high}`;
  return row as PackedHours;
}
