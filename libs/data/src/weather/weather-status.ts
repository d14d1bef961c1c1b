import { addMinutes, type Instant, minutesBetween } from '../../../kernel/src/index.ts';
import type { Database } from '../database.ts';
import { feedsOf, type WeatherFeed } from './feeds.repository.ts';
import { listSeries, type SeriesYear, seriesYears, type WeatherSeries } from './series.repository.ts';
import { countWindows } from './window-cache.repository.ts';

/** What a series holds in all. */
export interface HoursHeld {
  readonly from: Instant | null;
  /** Start of the last hour. */
  readonly to: Instant | null;
  readonly hours: number;
  /** Hours that are missing between the first and the last one, and in how many gaps. Of a made-up year its jumps are no gaps. */
  readonly missingHours: number;
  readonly gaps: number;
  readonly rainHours: number;
  readonly windHours: number;
  readonly gustHours: number;
}

export interface FeedStatus extends WeatherFeed {
  /** `none`: there never was a forecast; `stale`: the last good word of the service is too old to rely on. */
  readonly state: 'fresh' | 'stale' | 'none';
  readonly words: string;
}

export interface SeriesStatus {
  readonly series: WeatherSeries;
  readonly held: HoursHeld;
  readonly feed: FeedStatus | null;
  /** Results kept that were computed from its hours. */
  readonly windows: number;
  readonly words: string;
}

/** A forecast whose service was last reached longer ago is stale: the slowest is asked every six hours. */
const STALE_HOURS = 12;

/** Every series of an organisation with what it holds, how its forecasts come in, and both in words. */
export async function weatherStatus(
  db: Database,
  input: { readonly organisationId: string; readonly now: Instant },
): Promise<SeriesStatus[]> {
  const all = await listSeries(db, input.organisationId);
  const ids = all.map(({ id }) => id);
  const [years, feeds, windows] = await Promise.all([
    seriesYears(db, ids),
    feedsOf(db, ids),
    countWindows(db, ids),
  ]);
  return all.map((series) => {
    const held = heldOf(series, years.get(series.id) ?? []);
    const found = feeds.find(({ seriesId }) => seriesId === series.id);
    const feed = found ? feedStatus(found, input.now) : null;
    const words =
      series.kind === 'record'
        ? recordWords(series, held)
        : (feed?.words ?? 'no forecast is fetched any more');
    return { series, held, feed, windows: windows.get(series.id) ?? 0, words };
  });
}

/** Sums up the years of a series. */
export function heldOf(series: Pick<WeatherSeries, 'typicalYear'>, years: readonly SeriesYear[]): HoursHeld {
  const sum = (of: (year: SeriesYear) => number) => years.reduce((total, year) => total + of(year), 0);
  const from = years[0]?.firstAt ?? null;
  const to = years.at(-1)?.lastAt ?? null;
  const hours = sum((year) => year.hours);
  const span = from !== null && to !== null ? Math.round(minutesBetween(from, to) / 60) + 1 : 0;
  const between = years.filter(
    (year, at) => at > 0 && year.firstAt !== addMinutes((years[at - 1] as SeriesYear).lastAt, 60),
  );
  return {
    from,
    to,
    hours,
    missingHours: series.typicalYear ? 0 : span - hours,
    gaps: series.typicalYear ? 0 : sum((year) => year.gaps) + between.length,
    rainHours: sum((year) => year.rainHours),
    windHours: sum((year) => year.windHours),
    gustHours: sum((year) => year.gustHours),
  };
}

function recordWords({ typicalYear }: WeatherSeries, held: HoursHeld): string {
  if (held.from === null || held.to === null) return 'no hours yet; read a weather file in';
  const years = typicalYear
    ? `a typical year put together from several, ${held.hours} hours`
    : `${held.from.slice(0, 10)} to ${held.to.slice(0, 10)}, ${held.hours} hours`;
  const gaps =
    held.missingHours === 0
      ? ''
      : `, ${held.missingHours} missing in ${held.gaps === 1 ? '1 gap' : `${held.gaps} gaps`}`;
  const lacks = [
    ...(held.rainHours === 0 ? ['no rain'] : []),
    ...(held.windHours === 0 ? ['no wind'] : []),
    ...(held.gustHours === 0 && held.windHours > 0
      ? ['no gusts: they are estimated from the mean wind']
      : []),
  ];
  return `${years}${gaps}${lacks.length === 0 ? '' : `; ${lacks.join(', ')}`}`;
}

/** How a feed stands, in words: it never hides that there is nothing, or nothing new. */
export function feedStatus(feed: WeatherFeed, now: Instant): FeedStatus {
  const { issuedAt, lastGoodAt, fault, nextDueAt } = feed;
  const next = `next try ${shortTime(nextDueAt)}`;
  if (issuedAt === null || lastGoodAt === null) {
    const words = fault === null ? `no forecast yet; ${next}` : `no forecast yet: ${fault} ${capital(next)}`;
    return { ...feed, state: 'none', words };
  }
  const isStale = minutesBetween(lastGoodAt, now) > STALE_HOURS * 60;
  const since = isStale ? `no forecast since ${shortTime(lastGoodAt)}` : `forecast of ${shortTime(issuedAt)}`;
  const words =
    fault === null ? `${since}; ${next}` : `${since}; the last try failed: ${fault} ${capital(next)}`;
  return { ...feed, state: isStale ? 'stale' : 'fresh', words };
}

const capital = (text: string): string => `${text[0]?.toUpperCase()}${text.slice(1)}`;

function shortTime(instant: Instant): string {
  return `${instant.slice(0, 10)} ${instant.slice(11, 16)} UTC`;
}
