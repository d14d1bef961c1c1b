import { addMinutes, type Instant } from '../../../kernel/src/index.ts';
import type { Forecast } from '../../../weather/src/index.ts';
import type { WeatherFeedModel } from '../../generated/models/WeatherFeed.ts';
import type { Database, Tx } from '../database.ts';
import { toDate, toInstant, toInstantOrNull } from '../moments.ts';
import { writeOutbox } from '../outbox.repository.ts';
import { storeForecast, yearsOfForecast } from './forecasts.repository.ts';
import { seriesOf, type WeatherSeries } from './series.repository.ts';
import { ensureWeatherYears } from './weather-columns.ts';

/** How fetching forecasts from one service for one place goes. */
export interface WeatherFeed {
  readonly id: string;
  readonly seriesId: string;
  readonly source: string;
  readonly lastTriedAt: Instant | null;
  readonly lastGoodAt: Instant | null;
  /** When the newest forecast was issued. */
  readonly issuedAt: Instant | null;
  readonly etag: string | null;
  readonly lastModified: string | null;
  readonly nextDueAt: Instant;
  /** Why the last try failed, in plain words; null: it did not. */
  readonly fault: string | null;
  readonly faultSince: Instant | null;
  /** Failed tries in a row. */
  readonly tries: number;
}

/** A feed that a worker has in hand. */
export interface FeedWork extends WeatherFeed {
  readonly series: WeatherSeries;
  readonly claimedUntil: Instant;
}

/** Asks for one job for each feed that is due and wanted, and was not asked for lately; returns how many. */
export async function queueDueFeeds(
  db: Database,
  input: {
    readonly now: Instant;
    readonly sources: readonly string[];
    readonly silentMin: number;
    readonly limit: number;
  },
): Promise<number> {
  const now = toDate(input.now);
  const silent = toDate(addMinutes(input.now, -input.silentMin));
  return db.transaction(
    async (tx) => {
      // A day of grace: it may still be the last day of the visit somewhere west.
      const due = await tx.$queryRaw<{ id: string }[]>`
        SELECT id FROM weather_feeds
        WHERE next_due_at <= ${now} AND wanted_until >= (${now} AT TIME ZONE 'UTC')::date - 1 AND source = ANY(${[...input.sources]})
          AND (claimed_until IS NULL OR claimed_until < ${now})
          AND (queued_at IS NULL OR queued_at < next_due_at OR queued_at < ${silent})
        ORDER BY next_due_at LIMIT ${input.limit} FOR UPDATE SKIP LOCKED`;
      for (const { id } of due) {
        await tx.weatherFeed.update({ where: { id }, data: { queuedAt: now } });
        // The moment in the key makes it a new job where the last one was lost.
        await writeOutbox(tx, {
          key: `weather.fetch-${id}-${now.getTime()}`,
          topic: 'weather.fetch',
          payload: { feedId: id },
        });
      }
      return due.length;
    },
    { isolation: 'readCommitted' },
  );
}

/** Takes a feed that is due for so long. Null: it is not due any more, or another worker has it. */
export async function claimFeed(
  db: Database,
  input: { readonly id: string; readonly now: Instant; readonly holdMin: number },
): Promise<FeedWork | null> {
  const now = toDate(input.now);
  const claimedUntil = addMinutes(input.now, input.holdMin);
  const { count } = await db.client.weatherFeed.updateMany({
    where: {
      id: input.id,
      nextDueAt: { lte: now },
      OR: [{ claimedUntil: null }, { claimedUntil: { lt: now } }],
    },
    data: { claimedUntil: toDate(claimedUntil), lastTriedAt: now },
  });
  if (count === 0) return null;
  const row = await db.client.weatherFeed.findUniqueOrThrow({
    where: { id: input.id },
    include: { series: true },
  });
  return { ...feedOf(row), series: seriesOf(row.series), claimedUntil };
}

/** What the service said, to send back next time. */
export interface FeedHeaders {
  readonly etag: string | null;
  readonly lastModified: string | null;
}

export interface GoodFetch extends FeedHeaders {
  readonly work: FeedWork;
  /** Null: nothing new since the last one. */
  readonly forecast: Forecast | null;
  readonly nextDueAt: Instant;
  readonly now: Instant;
}

/**
 * Notes a fetch that went well and keeps its forecast, all in one. A worker whose claim ran out may still hand in: the forecast is what was
 * issued, whoever brings it.
 */
export async function noteGoodFetch(db: Database, good: GoodFetch): Promise<void> {
  const { work, forecast, now } = good;
  if (forecast) await ensureWeatherYears(db, yearsOfForecast(forecast));
  await db.transaction(
    async (tx) => {
      if (forecast) await storeForecast(tx, { seriesId: work.seriesId, forecast, fetchedAt: now });
      await freeFeed(tx, work, {
        lastGoodAt: toDate(now),
        ...(forecast ? { issuedAt: toDate(forecast.issuedAt) } : {}),
        etag: good.etag,
        lastModified: good.lastModified,
        nextDueAt: toDate(good.nextDueAt),
        fault: null,
        faultSince: null,
        tries: 0,
      });
    },
    { isolation: 'readCommitted' },
  );
}

/** Notes a fetch that failed, and when it is tried again. */
export async function noteFailedFetch(
  db: Database,
  input: {
    readonly work: FeedWork;
    readonly fault: string;
    readonly nextDueAt: Instant;
    readonly now: Instant;
  },
): Promise<void> {
  const { work, now } = input;
  await db.transaction(
    (tx) =>
      freeFeed(tx, work, {
        fault: input.fault.slice(0, 1000),
        faultSince: toDate(work.faultSince ?? now),
        tries: work.tries + 1,
        nextDueAt: toDate(input.nextDueAt),
      }),
    { isolation: 'readCommitted' },
  );
}

async function freeFeed(tx: Tx, work: FeedWork, data: Partial<WeatherFeedModel>): Promise<void> {
  const claim = { id: work.id, claimedUntil: toDate(work.claimedUntil) };
  await tx.weatherFeed.updateMany({ where: claim, data: { ...data, claimedUntil: null } });
}

/** Feeds of some series, by series. */
export async function feedsOf(db: Database, seriesIds: readonly string[]): Promise<WeatherFeed[]> {
  const rows = await db.client.weatherFeed.findMany({
    where: { seriesId: { in: [...seriesIds] } },
    orderBy: [{ seriesId: 'asc' }, { source: 'asc' }],
  });
  return rows.map(feedOf);
}

function feedOf(row: WeatherFeedModel): WeatherFeed {
  const { id, seriesId, source, etag, lastModified, fault, tries } = row;
  return {
    id,
    seriesId,
    source,
    etag,
    lastModified,
    fault,
    tries,
    lastTriedAt: toInstantOrNull(row.lastTriedAt),
    lastGoodAt: toInstantOrNull(row.lastGoodAt),
    issuedAt: toInstantOrNull(row.issuedAt),
    nextDueAt: toInstant(row.nextDueAt),
    faultSince: toInstantOrNull(row.faultSince),
  };
}
