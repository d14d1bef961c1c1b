import type { Database } from '../database.ts';
import { recordKey, type WeatherSeries } from './series.repository.ts';

/** Which series stand for a site. */
export interface SiteWeather {
  readonly site: string;
  /** The record of the site itself, else that of its station; null: there is neither. */
  readonly record: WeatherSeries | null;
  readonly forecasts: readonly WeatherSeries[];
}

/** What stands for each site of a season, among the series of its organisation. */
export async function siteWeather(
  db: Database,
  input: { readonly seasonId: string; readonly series: readonly WeatherSeries[] },
): Promise<SiteWeather[]> {
  const sites = await db.client.site.findMany({
    where: { seasonId: input.seasonId },
    select: { key: true, lat: true, lon: true, weatherStation: true },
    orderBy: { key: 'asc' },
  });
  const byKey = new Map(input.series.map((series) => [series.key, series]));
  return sites.map(({ key, lat, lon, weatherStation }) => {
    const own = byKey.get(recordKey('site', key));
    const station = weatherStation === null ? undefined : byKey.get(recordKey('station', weatherStation));
    const place = `${lat.toFixed(4)}.${lon.toFixed(4)}`;
    const forecasts = input.series.filter(
      (series) => series.kind === 'forecast' && series.key.endsWith(`.${place}`),
    );
    return { site: key, record: own ?? station ?? null, forecasts };
  });
}
