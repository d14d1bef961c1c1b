import { addDays, addMinutes, type Instant, type LocalDate } from '../../../kernel/src/index.ts';
import { systemActor } from '../actor.ts';
import type { Database } from '../database.ts';
import { toDate } from '../moments.ts';
import { ensureSeries, forecastKey } from './series.repository.ts';

/** A service that forecasts are fetched from. */
export interface FeedService {
  /** Short name, such as `met-norway`. */
  readonly service: string;
  readonly credit: string;
}

interface WantedPlace {
  readonly organisationId: string;
  readonly lat: number;
  readonly lon: number;
  readonly elevationM: number | null;
  readonly zone: string;
  readonly name: string;
  /** Last day that some visit there may reach. */
  readonly until: Date;
}

/**
 * Makes a series and a feed for each service and each site with a visit, of any kind, that is planned or underway and lies within so many days;
 * at work already, a feed is only told how long it is wanted. Returns how many feeds are new.
 */
export async function wantFeeds(
  db: Database,
  input: { readonly now: Instant; readonly reachDays: number; readonly services: readonly FeedService[] },
): Promise<number> {
  const today = input.now.slice(0, 10) as LocalDate;
  const places = await placesWithVisits(db, {
    from: toDate(`${addDays(today, -1)}T00:00:00.000Z` as Instant),
    to: toDate(`${addDays(today, input.reachDays)}T00:00:00.000Z` as Instant),
  });
  const wanted = places.flatMap((place) =>
    input.services.map((service) => ({ place, service, key: forecastKey(service.service, place) })),
  );
  const held = await db.client.weatherFeed.findMany({
    where: { series: { key: { in: [...new Set(wanted.map(({ key }) => key))] } } },
    select: {
      id: true,
      source: true,
      wantedUntil: true,
      series: { select: { organisationId: true, key: true } },
    },
  });
  let added = 0;
  for (const { place, service, key } of wanted) {
    const found = held.find(
      ({ source, series }) =>
        source === service.service && series.key === key && series.organisationId === place.organisationId,
    );
    if (!found) added += await addFeed(db, place, service, input.now);
    else if (found.wantedUntil < place.until) await prolong(db, found, place.until, input.now);
  }
  return added;
}

async function placesWithVisits(db: Database, span: { from: Date; to: Date }): Promise<WantedPlace[]> {
  return db.client.$queryRaw<WantedPlace[]>`
    SELECT s.organisation_id AS "organisationId", round(t.lat::numeric, 4)::float8 AS lat, round(t.lon::numeric, 4)::float8 AS lon,
      max(t.elevation_m) AS "elevationM", min(t.zone) AS zone, min(t.name) AS name, max(v.release_day) AS until
    FROM visits v
    JOIN seasons s ON s.id = v.season_id
    JOIN jobs j ON j.season_id = v.season_id AND j.key = v.job
    JOIN sites t ON t.season_id = v.season_id AND t.key = j.site
    WHERE v.state IN ('planned', 'underway') AND v.release_day >= ${span.from}::date AND v.start_day <= ${span.to}::date
    GROUP BY 1, 2, 3 ORDER BY 1, 2, 3`;
}

/** A feed that slept is due at once. */
async function prolong(
  db: Database,
  feed: { readonly id: string; readonly wantedUntil: Date },
  until: Date,
  now: Instant,
): Promise<void> {
  const slept = feed.wantedUntil < toDate(addMinutes(now, -2 * 1440));
  await db.client.weatherFeed.update({
    where: { id: feed.id },
    data: { wantedUntil: until, ...(slept ? { nextDueAt: toDate(now) } : {}) },
  });
}

async function addFeed(
  db: Database,
  { until, name, ...facts }: WantedPlace,
  service: FeedService,
  now: Instant,
): Promise<number> {
  return db.transaction(
    async (tx) => {
      const series = await ensureSeries(
        tx,
        {
          ...facts,
          key: forecastKey(service.service, facts),
          kind: 'forecast',
          name,
          source: service.credit,
          standardOffsetMin: 0,
          typicalYear: false,
        },
        systemActor('weather'),
      );
      const { count } = await tx.weatherFeed.createMany({
        skipDuplicates: true,
        data: [{ seriesId: series.id, source: service.service, wantedUntil: until, nextDueAt: toDate(now) }],
      });
      return count;
    },
    { isolation: 'readCommitted' },
  );
}
