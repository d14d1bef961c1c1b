import { createHash } from 'node:crypto';
import type { Instant } from '../../../kernel/src/index.ts';
import type { WeatherSeriesModel } from '../../generated/models/WeatherSeries.ts';
import type { Actor } from '../actor.ts';
import { writeAudit } from '../audit.repository.ts';
import type { Database, Tx } from '../database.ts';
import { toInstant } from '../moments.ts';

/** What a series says about itself. */
export interface SeriesFacts {
  readonly organisationId: string;
  /** See `recordKey` and `forecastKey`. */
  readonly key: string;
  readonly kind: 'record' | 'forecast';
  readonly name: string;
  readonly lat: number;
  readonly lon: number;
  readonly elevationM: number | null;
  readonly zone: string;
  /** Who keeps it, under which licence. */
  readonly source: string;
  /** Minutes that the record's own clock is ahead of UTC all year; 0 for forecasts. */
  readonly standardOffsetMin: number;
  readonly typicalYear: boolean;
}

export interface WeatherSeries extends SeriesFacts {
  readonly id: string;
}

/** What a series holds of one year (UTC). */
export interface SeriesYear {
  readonly year: number;
  readonly hours: number;
  readonly firstAt: Instant;
  readonly lastAt: Instant;
  readonly gaps: number;
  readonly rainHours: number;
  readonly windHours: number;
  readonly gustHours: number;
  /** SHA-256 of the hours, in hexadecimal. */
  readonly fingerprint: string;
}

/** Key of the record of a station or site: the rows of every season of the organisation with that key mean this record. */
export function recordKey(kind: 'station' | 'site', key: string): string {
  return `${kind}.${key}`;
}

/** Key of the forecasts of a service for a place; sites within some ten metres of each other share them. */
export function forecastKey(service: string, place: { readonly lat: number; readonly lon: number }): string {
  return `forecast.${service}.${place.lat.toFixed(4)}.${place.lon.toFixed(4)}`;
}

/** The series with this key, made if there is none; one that is there stays as it is. */
export async function ensureSeries(tx: Tx, facts: SeriesFacts, actor: Actor): Promise<WeatherSeries> {
  const { organisationId, key } = facts;
  const found = await tx.weatherSeries.findUnique({ where: { organisationId_key: { organisationId, key } } });
  if (found) return seriesOf(found);
  const made = await tx.weatherSeries.createMany({ data: [facts], skipDuplicates: true });
  const row = await tx.weatherSeries.findUniqueOrThrow({
    where: { organisationId_key: { organisationId, key } },
  });
  if (made.count > 0) {
    const subject = { subjectKind: 'weatherSeries', subjectId: row.id, subjectKey: key };
    await writeAudit(tx, {
      actor,
      organisationId,
      action: 'weatherSeries.added',
      ...subject,
      after: { ...facts },
    });
  }
  return seriesOf(row);
}

/** The series with these keys, in their order; keys without a series are left out. */
export async function findSeries(
  db: Database,
  input: { readonly organisationId: string; readonly keys: readonly string[] },
): Promise<WeatherSeries[]> {
  const rows = await db.client.weatherSeries.findMany({
    where: { organisationId: input.organisationId, key: { in: [...input.keys] } },
  });
  return input.keys.flatMap((key) => rows.filter((row) => row.key === key).map(seriesOf));
}

/** Every series of an organisation, by key. */
export async function listSeries(db: Database, organisationId: string): Promise<WeatherSeries[]> {
  const rows = await db.client.weatherSeries.findMany({ where: { organisationId }, orderBy: { key: 'asc' } });
  return rows.map(seriesOf);
}

/** What some series hold, year by year in order; a series without hours has no entry. */
export async function seriesYears(
  db: Database,
  seriesIds: readonly string[],
): Promise<Map<string, SeriesYear[]>> {
  const rows = await db.client.weatherSeriesYear.findMany({
    where: { seriesId: { in: [...seriesIds] } },
    orderBy: [{ seriesId: 'asc' }, { year: 'asc' }],
  });
  const bySeries = new Map<string, SeriesYear[]>();
  for (const { seriesId, firstAt, lastAt, ...year } of rows) {
    const years = bySeries.get(seriesId) ?? [];
    years.push({ ...year, firstAt: toInstant(firstAt), lastAt: toInstant(lastAt) });
    bySeries.set(seriesId, years);
  }
  return bySeries;
}

/**
 * What a series contains, as one SHA-256: the fingerprints of its years, and where and on which clock it was taken. The same content gives
 * the same text whenever and however it came in; null when there are no hours.
 */
export function seriesFingerprint(series: WeatherSeries, years: readonly SeriesYear[]): string | null {
  if (years.length === 0) return null;
  const { lat, lon, elevationM, standardOffsetMin, typicalYear } = series;
  const facts = [lat, lon, elevationM, standardOffsetMin, typicalYear];
  const parts = years.map(({ year, fingerprint }) => [year, fingerprint]);
  return createHash('sha256')
    .update(JSON.stringify([facts, parts]))
    .digest('hex');
}

export function seriesOf(row: WeatherSeriesModel): WeatherSeries {
  const { kind, version: _version, createdAt: _createdAt, updatedAt: _updatedAt, ...facts } = row;
  return { ...facts, kind: kind as WeatherSeries['kind'] };
}
