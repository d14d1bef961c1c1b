import type { Database } from '../database.ts';
import { recordKey, type WeatherSeries } from './series.repository.ts';

/** Which series stand for a site. */
export interface SiteWeather {
  readonly site: string;
  /** The record of the site itself, else that of its station, else that of the station of its weather area; null: there is none. */
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
    select: {
      key: true,
      lat: true,
      lon: true,
      weatherStation: true,
      weatherAreaRow: { select: { station: true } },
    },
    orderBy: { key: 'asc' },
  });
  const byKey = new Map(input.series.map((series) => [series.key, series]));
  const ofStation = (key: string | null | undefined) =>
    key ? byKey.get(recordKey('station', key)) : undefined;
  return sites.map(({ key, lat, lon, weatherStation, weatherAreaRow }) => {
    const record =
      byKey.get(recordKey('site', key)) ?? ofStation(weatherStation) ?? ofStation(weatherAreaRow?.station);
    const place = `${lat.toFixed(4)}.${lon.toFixed(4)}`;
    const forecasts = input.series.filter(
      ({ kind, key: of }) => kind === 'forecast' && of.endsWith(`.${place}`),
    );
    return { site: key, record: record ?? null, forecasts };
  });
}
