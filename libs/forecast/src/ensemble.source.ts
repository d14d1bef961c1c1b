import type { FetchSurroundings, ForecastReader, ForecastSource } from './forecast-source.port.ts';
import { jsonSource } from './json-source.ts';

/** How Open-Meteo's ensembles are reached. */
export interface EnsembleInput {
  /** Address of the ensemble service, without a query. */
  readonly url: string;
  readonly userAgent: string;
  /** Name of the ensemble model, as the service writes it. */
  readonly model: string;
  /** Paying customers have a key; it is never shown. */
  readonly apiKey?: string | undefined;
  readonly forecastDays: number;
  readonly read: ForecastReader;
  readonly timeoutMs?: number;
}

const HOURLY = [
  'temperature_2m',
  'dew_point_2m',
  'precipitation',
  'wind_speed_10m',
  'wind_gusts_10m',
  'weather_code',
];

/**
 * Open-Meteo, ensemble service: every member of one model. Units and the clock (UTC) are asked for by name, so that the answer does not
 * depend on defaults. Its rules (open-meteo.com, terms): free only for non-commercial use and below 10 000 calls a day; models are renewed
 * every few hours, so it is asked every three hours at most. The answer says no time of issue; the reader takes the moment of the fetch.
 */
export function ensembleSource(input: EnsembleInput, around: FetchSurroundings): ForecastSource {
  return jsonSource(
    {
      service: 'open-meteo',
      credit: `Ensemble ${input.model} by Open-Meteo.com (CC BY 4.0)`,
      urlFor: ({ lat, lon, elevationM }) => {
        const url = new URL(input.url);
        const query = {
          latitude: lat.toFixed(4),
          longitude: lon.toFixed(4),
          ...(elevationM === null ? {} : { elevation: String(Math.round(elevationM)) }),
          hourly: HOURLY.join(','),
          models: input.model,
          temperature_unit: 'celsius',
          wind_speed_unit: 'ms',
          precipitation_unit: 'mm',
          timezone: 'GMT',
          forecast_days: String(input.forecastDays),
          ...(input.apiKey === undefined ? {} : { apikey: input.apiKey }),
        };
        for (const [name, value] of Object.entries(query)) url.searchParams.set(name, value);
        return url;
      },
      read: input.read,
      userAgent: input.userAgent,
      leastMin: 180,
      mostMin: 360,
      ...(input.timeoutMs === undefined ? {} : { timeoutMs: input.timeoutMs }),
    },
    around,
  );
}
