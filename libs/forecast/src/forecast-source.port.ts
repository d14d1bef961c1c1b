import type { Clock, Instant } from '../../kernel/src/index.ts';
import type { Forecast } from '../../weather/src/index.ts';

/** Where the forecast is for. */
export interface ForecastPlace {
  readonly name: string;
  readonly lat: number;
  readonly lon: number;
  /** Null: unknown; the service then takes its own ground height. */
  readonly elevationM: number | null;
}

/** What the service said with its last answer, sent back so that it need not send the same again. */
export interface KeptHeaders {
  readonly etag: string | null;
  readonly lastModified: string | null;
}

/** What came of one fetch. It never throws for what a service or the network does. */
export type Fetched =
  | ({ readonly state: 'new'; readonly forecast: Forecast; readonly nextFetchAfter: Instant } & KeptHeaders)
  | ({ readonly state: 'unchanged'; readonly nextFetchAfter: Instant } & KeptHeaders)
  | {
      readonly state: 'fault';
      /** In plain words, for the person who runs the server. */
      readonly reason: string;
      /** Not before this, where the service says so. */
      readonly retryAfter: Instant | null;
    };

/** A service that forecasts hours of weather. */
export interface ForecastSource {
  /** Short name that keys and feeds carry, such as `met-norway`. */
  readonly service: string;
  /** Who makes it and under which licence, as it is shown beside the forecast. */
  readonly credit: string;
  /** `kept` is null when nothing was fetched yet. Throws only when `signal` ends it. */
  fetch(place: ForecastPlace, kept: KeptHeaders | null, signal?: AbortSignal): Promise<Fetched>;
}

/** Reads the text of an answer. Throws an error whose message says what is wrong with it. */
export type ForecastReader = (
  text: string,
  about: { readonly place: ForecastPlace; readonly fetchedAt: Instant; readonly lastModified: string | null },
) => Forecast;

/** Time and chance, from outside. */
export interface FetchSurroundings {
  readonly clock: Clock;
  /** From 0 up to, not including, 1. */
  readonly random: () => number;
  /** Resolves after so long; rejects when the signal is aborted. */
  readonly pause: (durationMs: number, signal?: AbortSignal) => Promise<void>;
}
