import { z } from 'zod';

/** Settings of the fetching of forecasts. Nothing is fetched from a service whose address is not set. */
export const forecastSettings = {
  /** Who can be reached when the program asks too much: a mail address or a web address. The services ask for it. */
  DRYSPELL_FORECAST_CONTACT: z
    .string()
    .regex(/^[\x21-\x7e]{3,200}$/)
    .optional(),
  /** MET Norway Locationforecast 2.0, complete: https://api.met.no/weatherapi/locationforecast/2.0/complete */
  DRYSPELL_FORECAST_MET_URL: z.url({ protocol: /^https?$/ }).optional(),
  /** Open-Meteo ensembles: https://ensemble-api.open-meteo.com/v1/ensemble, or the address for customers with a key. */
  DRYSPELL_FORECAST_ENSEMBLE_URL: z.url({ protocol: /^https?$/ }).optional(),
  DRYSPELL_FORECAST_ENSEMBLE_MODEL: z
    .string()
    .regex(/^[a-z0-9_]{1,60}$/)
    .default('gfs_seamless'),
  DRYSPELL_FORECAST_ENSEMBLE_KEY: z.string().min(1).optional(),
  /** Visits within so many days get forecasts. */
  DRYSPELL_FORECAST_DAYS: z.coerce.number().int().min(1).max(16).default(10),
};

type ForecastEnvironment = z.output<z.ZodObject<typeof forecastSettings>>;

export interface ForecastConfig {
  /** Program and contact, as services are told; null where nothing is fetched. */
  readonly userAgent: string | null;
  readonly metUrl: string | null;
  readonly ensemble: {
    readonly url: string;
    readonly model: string;
    readonly apiKey: string | undefined;
  } | null;
  readonly reachDays: number;
}

/** Whether a contact is named where one is needed. */
export function hasContact(env: ForecastEnvironment): boolean {
  const fetches = env.DRYSPELL_FORECAST_MET_URL ?? env.DRYSPELL_FORECAST_ENSEMBLE_URL;
  return fetches === undefined || env.DRYSPELL_FORECAST_CONTACT !== undefined;
}

export function forecastConfigOf(env: ForecastEnvironment): ForecastConfig {
  const url = env.DRYSPELL_FORECAST_ENSEMBLE_URL;
  return {
    userAgent: env.DRYSPELL_FORECAST_CONTACT ? `Dryspell/1 ${env.DRYSPELL_FORECAST_CONTACT}` : null,
    metUrl: env.DRYSPELL_FORECAST_MET_URL ?? null,
    ensemble:
      url === undefined
        ? null
        : { url, model: env.DRYSPELL_FORECAST_ENSEMBLE_MODEL, apiKey: env.DRYSPELL_FORECAST_ENSEMBLE_KEY },
    reachDays: env.DRYSPELL_FORECAST_DAYS,
  };
}
