import { addMinutes, type Instant, instantToMs } from '../../../kernel/src/index.ts';
import type { Forecast, HourlyRecord } from '../../../weather/src/index.ts';
import type { WeatherForecastIssueModel } from '../../generated/models/WeatherForecastIssue.ts';
import type { Database, Tx } from '../database.ts';
import { toDate, toInstant } from '../moments.ts';
import { floatsOf, minutesOf, signsOf } from './column-bytes.ts';
import type { WeatherSeries } from './series.repository.ts';
import { columnTexts } from './weather-columns.ts';

/** One forecast of a series, as it was issued. */
export interface ForecastIssue {
  readonly seriesId: string;
  readonly issuedAt: Instant;
  readonly fetchedAt: Instant;
  /** Start of its first and of its last hour. */
  readonly firstAt: Instant;
  readonly lastAt: Instant;
  readonly members: number;
}

/**
 * Keeps a forecast as it was issued; hours that are there already are left alone, so the same forecast twice is one. The partitions of its
 * years must be there (`ensureWeatherYears`). A forecast without hours is not kept: false.
 */
export async function storeForecast(
  tx: Tx,
  input: { readonly seriesId: string; readonly forecast: Forecast; readonly fetchedAt: Instant },
): Promise<boolean> {
  const { seriesId, forecast, fetchedAt } = input;
  const issuedAt = toDate(forecast.issuedAt);
  const spans = forecast.members.filter((member) => member.hourIndex.length > 0);
  if (spans.length === 0) return false;
  for (const [number, member] of forecast.members.entries()) {
    const { minute, tempC, dewPointC, rainMm, windMps, gustMps, thunder } = columnTexts(
      member,
      0,
      member.hourIndex.length,
    );
    await tx.$executeRaw`
      INSERT INTO weather_forecasts
        (series_id, issued_at, valid_at, member, temp_c, dew_point_c, rain_mm, wind_mps, gust_mps, thunder)
      SELECT ${seriesId}::uuid, ${issuedAt}, timestamptz 'epoch' + minute * interval '1 minute', ${number}::smallint,
        temp_c, dew_point_c, rain_mm, wind_mps, gust_mps, thunder
      FROM unnest(${minute}::text::int[], ${tempC}::text::real[], ${dewPointC}::text::real[], ${rainMm}::text::real[],
        ${windMps}::text::real[], ${gustMps}::text::real[], ${thunder}::text::boolean[])
        AS i(minute, temp_c, dew_point_c, rain_mm, wind_mps, gust_mps, thunder)
      ON CONFLICT DO NOTHING`;
  }
  const firstMs = Math.min(...spans.map((member) => hourMs(member, 0)));
  const lastMs = Math.max(...spans.map((member) => hourMs(member, member.hourIndex.length - 1)));
  await tx.weatherForecastIssue.createMany({
    skipDuplicates: true,
    data: [
      {
        seriesId,
        issuedAt,
        fetchedAt: toDate(fetchedAt),
        firstAt: new Date(firstMs),
        lastAt: new Date(lastMs),
        members: forecast.members.length,
        hours: spans.reduce((sum, member) => sum + member.hourIndex.length, 0),
      },
    ],
  });
  return true;
}

/** The years (UTC) of a forecast's hours. */
export function yearsOfForecast(forecast: Forecast): number[] {
  const years = new Set<number>();
  for (const member of forecast.members) {
    for (let at = 0; at < member.hourIndex.length; at += 1)
      years.add(new Date(hourMs(member, at)).getUTCFullYear());
  }
  return [...years];
}

function hourMs(record: HourlyRecord, at: number): number {
  return ((record.hourIndex[at] as number) * 60 - record.standardOffsetMin) * 60_000;
}

/** Which issues to list: those of some series, issued by a moment, whose hours meet a span. All but the series may be left open. */
export interface IssueQuery {
  readonly seriesIds: readonly string[];
  /** Issued at or before. */
  readonly issuedBy?: Instant;
  /** Issued after. */
  readonly issuedAfter?: Instant;
  readonly from?: Instant;
  /** Not included. */
  readonly to?: Instant;
  readonly limit?: number;
}

/** Forecasts as they were issued, the newest first; the hours come by `readForecast`. */
export async function listIssues(db: Database, query: IssueQuery): Promise<ForecastIssue[]> {
  const { issuedBy, issuedAfter, from, to } = query;
  const rows = await db.client.weatherForecastIssue.findMany({
    where: {
      seriesId: { in: [...query.seriesIds] },
      issuedAt: {
        ...(issuedBy ? { lte: toDate(issuedBy) } : {}),
        ...(issuedAfter ? { gt: toDate(issuedAfter) } : {}),
      },
      ...(from ? { lastAt: { gte: toDate(addMinutes(from, -59)) } } : {}),
      ...(to ? { firstAt: { lt: toDate(to) } } : {}),
    },
    orderBy: [{ issuedAt: 'desc' }, { seriesId: 'asc' }],
    ...(query.limit === undefined ? {} : { take: query.limit }),
  });
  return rows.map(issueOf);
}

interface PackedMember {
  readonly member: number;
  readonly minutes: Uint8Array;
  readonly temp_c: Uint8Array;
  readonly dew_point_c: Uint8Array;
  readonly rain_mm: Uint8Array;
  readonly wind_mps: Uint8Array;
  readonly gust_mps: Uint8Array;
  readonly thunder: Uint8Array;
}

/** The hours of one issue, member by member, all or those from one moment up to, not including, another; null when there is none. */
export async function readForecast(
  db: Database,
  input: {
    readonly series: WeatherSeries;
    readonly issuedAt: Instant;
    readonly from?: Instant;
    readonly to?: Instant;
  },
): Promise<Forecast | null> {
  const { series, issuedAt } = input;
  const issue = await db.client.weatherForecastIssue.findUnique({
    where: { seriesId_issuedAt: { seriesId: series.id, issuedAt: toDate(issuedAt) } },
  });
  if (!issue) return null;
  const low = new Date(
    Math.max(issue.firstAt.getTime(), input.from ? instantToMs(input.from) : Number.NEGATIVE_INFINITY),
  );
  const high = new Date(
    Math.min(issue.lastAt.getTime() + 1, input.to ? instantToMs(input.to) : Number.POSITIVE_INFINITY),
  );
  const rows = await db.client.$queryRaw<PackedMember[]>`
    SELECT member, string_agg(int4send((extract(epoch FROM valid_at) / 60)::int), ''::bytea ORDER BY valid_at) AS minutes,
      string_agg(float4send(coalesce(temp_c, 'NaN')), ''::bytea ORDER BY valid_at) AS temp_c,
      string_agg(float4send(coalesce(dew_point_c, 'NaN')), ''::bytea ORDER BY valid_at) AS dew_point_c,
      string_agg(float4send(coalesce(rain_mm, 'NaN')), ''::bytea ORDER BY valid_at) AS rain_mm,
      string_agg(float4send(coalesce(wind_mps, 'NaN')), ''::bytea ORDER BY valid_at) AS wind_mps,
      string_agg(float4send(coalesce(gust_mps, 'NaN')), ''::bytea ORDER BY valid_at) AS gust_mps,
      string_agg(CASE thunder WHEN true THEN '\\x01'::bytea WHEN false THEN '\\x00'::bytea ELSE '\\xff'::bytea END, ''::bytea
        ORDER BY valid_at) AS thunder
    FROM weather_forecasts
    WHERE series_id = ${series.id}::uuid AND issued_at = ${toDate(issuedAt)} AND valid_at >= ${low} AND valid_at < ${high}
    GROUP BY member ORDER BY member`;
  const { name, lat, lon, elevationM, source } = series;
  // On a clock that shows the hours of this source whole: a service may count from the half hour.
  const clock = { place: { name, lat, lon, elevationM }, source, typicalYear: false };
  const members = rows.map((row): HourlyRecord => {
    const minutes = minutesOf(row.minutes);
    const standardOffsetMin = (60 - ((((minutes[0] ?? 0) % 60) + 60) % 60)) % 60;
    return {
      ...clock,
      standardOffsetMin,
      hourIndex: minutes.map((minute) => Math.floor((minute + standardOffsetMin) / 60)),
      tempC: floatsOf(row.temp_c),
      dewPointC: floatsOf(row.dew_point_c),
      rainMm: floatsOf(row.rain_mm),
      windMps: floatsOf(row.wind_mps),
      gustMps: floatsOf(row.gust_mps),
      thunder: signsOf(row.thunder),
    };
  });
  return { source, issuedAt, members };
}

/** Forecasts that are kept whole: so long, all that were issued. */
const KEEP_ALL_DAYS = 14;
/** Three seasons of forecasts tell how good they are; older ones go. */
const KEEP_ONE_A_DAY_DAYS = 3 * 366;

/**
 * Drops old forecasts: of those issued more than two weeks ago the first of each day (UTC) stays, for three years, so that odds can be
 * held against what came. Returns how many issues went.
 */
export async function pruneForecasts(db: Database, now: Instant): Promise<number> {
  const old = toDate(addMinutes(now, -KEEP_ALL_DAYS * 1440));
  const ancient = toDate(addMinutes(now, -KEEP_ONE_A_DAY_DAYS * 1440));
  return db.transaction(
    async (tx) => {
      const gone = await tx.$queryRaw<WeatherForecastIssueModel[]>`
        DELETE FROM weather_forecast_issues i WHERE i.issued_at < ${ancient} OR (i.issued_at < ${old} AND EXISTS (
          SELECT 1 FROM weather_forecast_issues first WHERE first.series_id = i.series_id AND first.issued_at < i.issued_at
            AND date_trunc('day', first.issued_at, 'UTC') = date_trunc('day', i.issued_at, 'UTC')))
        RETURNING series_id AS "seriesId", issued_at AS "issuedAt", first_at AS "firstAt", last_at AS "lastAt"`;
      for (const { seriesId, issuedAt, firstAt, lastAt } of gone) {
        await tx.$executeRaw`
          DELETE FROM weather_forecasts WHERE series_id = ${seriesId}::uuid AND issued_at = ${issuedAt}
            AND valid_at >= ${firstAt} AND valid_at <= ${lastAt}`;
      }
      return gone.length;
    },
    { isolation: 'readCommitted', timeoutMs: 300_000 },
  );
}

function issueOf(row: WeatherForecastIssueModel): ForecastIssue {
  const { seriesId, members } = row;
  return {
    seriesId,
    members,
    issuedAt: toInstant(row.issuedAt),
    fetchedAt: toInstant(row.fetchedAt),
    firstAt: toInstant(row.firstAt),
    lastAt: toInstant(row.lastAt),
  };
}
