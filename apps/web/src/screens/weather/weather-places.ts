import type { SeasonFile } from '../../../../../libs/contracts/src/index.ts';

/** A row of the season that hours of weather are kept for. */
export interface WeatherPlace {
  readonly kind: 'station' | 'site';
  readonly key: string;
  readonly name: string;
}

/** Every station and site of a season, the stations first. */
export function weatherPlaces(file: SeasonFile): WeatherPlace[] {
  const named = (kind: WeatherPlace['kind'], rows: readonly { key: string; name: string }[]) =>
    rows.map(({ key, name }) => ({ kind, key, name }));
  return [...named('station', file.weatherStations), ...named('site', file.sites)];
}

/** `station.key` or `site.key`, as the series of the place is called. */
export const placeId = ({ kind, key }: Pick<WeatherPlace, 'kind' | 'key'>): string => `${kind}.${key}`;
