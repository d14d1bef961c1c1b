import { type Instant, instantToMs } from '../../kernel/src/index.ts';
import type { Database, Tx } from './database.ts';
import { toDate, toInstant } from './moments.ts';

export interface SeriesInput {
  readonly organisationId: string;
  readonly key: string;
  readonly kind: 'record' | 'forecast';
  readonly name: string;
  readonly lat: number;
  readonly lon: number;
  readonly zone: string;
  /** Who keeps it, under which licence. */
  readonly source: string;
}

export interface WeatherSeries extends SeriesInput {
  readonly id: string;
}

/** Hourly weather at a point. Missing is null, never zero. */
export interface WeatherHour {
  readonly at: Instant;
  readonly tempC: number | null;
  readonly dewPointC: number | null;
  readonly rainMm: number | null;
  readonly windMps: number | null;
  readonly gustMps: number | null;
  readonly thunder: boolean | null;
}

export interface ForecastHour extends WeatherHour {
  readonly issuedAt: Instant;
  /** Number of the ensemble member; 0 where there is one only. */
  readonly member: number;
}

/** Rows in one statement: below the limit of parameters of the protocol. */
const BATCH = 2000;

/** The series with this key, made if there is none. */
export async function ensureSeries(db: Database, input: SeriesInput): Promise<WeatherSeries> {
  const { organisationId, key, ...facts } = input;
  const row = await db.client.weatherSeries.upsert({
    where: { organisationId_key: { organisationId, key } },
    update: facts,
    create: input,
  });
  return { ...input, id: row.id };
}

/** Makes the partitions of some years (UTC); those that are there stay. */
export async function ensureWeatherYears(db: Database, years: readonly number[]): Promise<void> {
  await db.transaction((tx) => makeYears(tx, years), { isolation: 'readCommitted', timeoutMs: 300_000 });
}

async function makeYears(tx: Tx, years: readonly number[]): Promise<void> {
  for (const year of [...new Set(years)].sort()) {
    await tx.$executeRaw`SELECT ensure_weather_year(${year}::int)::text`;
  }
}

/** Keeps observed hours; an hour that is there already is replaced. Returns how many were written. */
export async function addObservations(
  db: Database,
  input: { seriesId: string; hours: readonly WeatherHour[] },
): Promise<number> {
  await ensureWeatherYears(db, yearsOf(input.hours));
  return db.transaction(
    async (tx) => {
      for (let at = 0; at < input.hours.length; at += BATCH) {
        const hours = input.hours.slice(at, at + BATCH);
        await tx.$executeRaw`
          INSERT INTO weather_observations
            (series_id, observed_at, temp_c, dew_point_c, rain_mm, wind_mps, gust_mps, thunder)
          SELECT ${input.seriesId}::uuid, * FROM unnest(
            ${hours.map((hour) => hour.at)}::timestamptz[], ${hours.map((hour) => hour.tempC)}::real[],
            ${hours.map((hour) => hour.dewPointC)}::real[], ${hours.map((hour) => hour.rainMm)}::real[],
            ${hours.map((hour) => hour.windMps)}::real[], ${hours.map((hour) => hour.gustMps)}::real[],
            ${hours.map((hour) => hour.thunder)}::boolean[])
          ON CONFLICT (series_id, observed_at) DO UPDATE SET temp_c = excluded.temp_c,
            dew_point_c = excluded.dew_point_c, rain_mm = excluded.rain_mm, wind_mps = excluded.wind_mps,
            gust_mps = excluded.gust_mps, thunder = excluded.thunder`;
      }
      return input.hours.length;
    },
    { isolation: 'readCommitted', timeoutMs: 300_000 },
  );
}

/** Observed hours from one moment up to, not including, another, in order. */
export async function readObservations(
  db: Database,
  input: { seriesId: string; from: Instant; to: Instant },
): Promise<WeatherHour[]> {
  const rows = await db.client.weatherObservation.findMany({
    where: { seriesId: input.seriesId, observedAt: { gte: toDate(input.from), lt: toDate(input.to) } },
    orderBy: { observedAt: 'asc' },
  });
  return rows.map(({ seriesId: _seriesId, observedAt, ...hour }) => ({ at: toInstant(observedAt), ...hour }));
}

/** Keeps forecast hours as they were issued; those that are there already are left alone. */
export async function addForecast(
  db: Database,
  input: { seriesId: string; hours: readonly ForecastHour[] },
): Promise<void> {
  await ensureWeatherYears(db, yearsOf(input.hours));
  await db.transaction(
    async (tx) => {
      for (let at = 0; at < input.hours.length; at += BATCH) {
        await tx.weatherForecast.createMany({
          skipDuplicates: true,
          data: input.hours.slice(at, at + BATCH).map(({ at: validAt, issuedAt, ...hour }) => ({
            seriesId: input.seriesId,
            validAt: toDate(validAt),
            issuedAt: toDate(issuedAt),
            ...hour,
          })),
        });
      }
    },
    { isolation: 'readCommitted', timeoutMs: 300_000 },
  );
}

/** The newest forecast that was issued by a moment, for the hours from `from` up to `to`; empty when there is none. */
export async function readForecast(
  db: Database,
  input: { seriesId: string; from: Instant; to: Instant; issuedBy: Instant },
): Promise<ForecastHour[]> {
  const span = { seriesId: input.seriesId, validAt: { gte: toDate(input.from), lt: toDate(input.to) } };
  const newest = await db.client.weatherForecast.findFirst({
    where: { ...span, issuedAt: { lte: toDate(input.issuedBy) } },
    orderBy: { issuedAt: 'desc' },
    select: { issuedAt: true },
  });
  if (!newest) return [];
  const rows = await db.client.weatherForecast.findMany({
    where: { ...span, issuedAt: newest.issuedAt },
    orderBy: [{ validAt: 'asc' }, { member: 'asc' }],
  });
  return rows.map(({ seriesId: _seriesId, validAt, issuedAt, ...hour }) => ({
    at: toInstant(validAt),
    issuedAt: toInstant(issuedAt),
    ...hour,
  }));
}

function yearsOf(hours: readonly WeatherHour[]): number[] {
  return [...new Set(hours.map((hour) => new Date(instantToMs(hour.at)).getUTCFullYear()))];
}
