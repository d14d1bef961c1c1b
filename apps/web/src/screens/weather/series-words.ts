import type { Schema } from '../../api/client.ts';
import { count } from '../../format/counts.ts';
import { longDate } from '../../format/dates.ts';
import { dateAt, zonedTime } from '../../format/times.ts';

export type WeatherSeries = Schema<'WeatherSeries'>;
type Feed = NonNullable<WeatherSeries['feed']>;

/** From which day to which a series has hours; of a made-up year the years mean nothing. */
export function spanOf({ from, to, typicalYear }: WeatherSeries, zone: string): string {
  if (from === null || to === null) return 'no hours yet';
  if (typicalYear) return 'one typical year, put together from several';
  const day = (instant: string): string => longDate(dateAt(Date.parse(instant), zone));
  return `${day(from)} to ${day(to)}`;
}

/** Hours that lack between the first and the last one. */
export function gapWords({ hours, missingHours, gaps }: WeatherSeries): string {
  if (hours === 0) return '–';
  if (missingHours === 0) return 'none';
  return `${count(missingHours, 'hour')} missing in ${count(gaps, 'gap')}`;
}

/** What the hours hold; what they lack is said, because its odds then lack it too. */
export function holdsWords({ hours, rainHours, windHours, gustHours }: WeatherSeries): string {
  if (hours === 0) return 'nothing yet: read a weather file in';
  const share = (known: number, what: string): string => {
    if (known === 0) return `no ${what}`;
    if (known === hours) return what;
    return `${what} in ${known.toLocaleString('en-CA')} of them`;
  };
  const gusts =
    gustHours === 0 && windHours > 0 ? 'no gusts: estimated from the mean wind' : share(gustHours, 'gusts');
  return [share(rainHours, 'rain'), share(windHours, 'wind'), gusts].join(', ');
}

/** How the forecasts of a place stand: what is there and how old it is, or that there is none. */
export function feedWords(feed: Feed | null, zone: string): string {
  if (feed === null) return 'No forecast is fetched any more.';
  if (feed.issuedAt === null || feed.lastGoodAt === null) return 'No forecast has ever come.';
  if (feed.state === 'stale') return `No forecast since ${zonedTime(feed.lastGoodAt, zone)}.`;
  return `Forecast of ${zonedTime(feed.issuedAt, zone)}, fresh.`;
}
