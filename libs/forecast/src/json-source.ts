import type {
  Fetched,
  FetchSurroundings,
  ForecastPlace,
  ForecastReader,
  ForecastSource,
  KeptHeaders,
} from './forecast-source.port.ts';
import { politeGet } from './polite-get.ts';
import { nextFetch, staleFrom } from './response-times.ts';

/** One service, described. */
export interface JsonService {
  readonly service: string;
  readonly credit: string;
  readonly urlFor: (place: ForecastPlace) => URL;
  readonly read: ForecastReader;
  readonly userAgent: string;
  /** Bounds on how soon the service is asked again, whatever its answer says. */
  readonly leastMin: number;
  readonly mostMin: number;
  readonly timeoutMs?: number;
  readonly maxBytes?: number;
}

const TIMEOUT_MS = 20_000;
const MAX_BYTES = 8_000_000;

/** A source that asks one address for JSON. */
export function jsonSource(about: JsonService, around: FetchSurroundings): ForecastSource {
  return {
    service: about.service,
    credit: about.credit,
    fetch: async (place, kept, signal) => {
      const url = about.urlFor(place);
      const got = await politeGet(
        {
          url,
          userAgent: about.userAgent,
          kept,
          timeoutMs: about.timeoutMs ?? TIMEOUT_MS,
          maxBytes: about.maxBytes ?? MAX_BYTES,
          signal,
        },
        around,
      );
      if (got.state === 'fault') return got;
      const now = around.clock.now();
      const nextFetchAfter = nextFetch({
        now,
        stale: staleFrom(got.headers, now),
        leastMin: about.leastMin,
        mostMin: about.mostMin,
        chance: around.random(),
      });
      const headers = headersOf(got.headers, got.state === 'unchanged' ? kept : null);
      if (got.state === 'unchanged') return { state: 'unchanged', ...headers, nextFetchAfter };
      return readNew(about, { text: got.text, place, now, headers, host: url.host, nextFetchAfter });
    },
  };
}

function readNew(
  about: JsonService,
  got: {
    readonly text: string;
    readonly place: ForecastPlace;
    readonly now: ReturnType<FetchSurroundings['clock']['now']>;
    readonly headers: KeptHeaders;
    readonly host: string;
    readonly nextFetchAfter: ReturnType<FetchSurroundings['clock']['now']>;
  },
): Fetched {
  const { text, place, now, headers, host, nextFetchAfter } = got;
  try {
    const forecast = about.read(text, { place, fetchedAt: now, lastModified: headers.lastModified });
    if (!forecast.members.some((member) => member.hourIndex.length > 0)) {
      return { state: 'fault', reason: `${host} sent a forecast without hours.`, retryAfter: null };
    }
    return { state: 'new', forecast, ...headers, nextFetchAfter };
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return {
      state: 'fault',
      reason: `${host} sent something that cannot be read as a forecast: ${why}`,
      retryAfter: null,
    };
  }
}

/** A 304 may leave out what did not change. */
function headersOf(headers: Headers, before: KeptHeaders | null): KeptHeaders {
  return {
    etag: headers.get('etag') ?? before?.etag ?? null,
    lastModified: headers.get('last-modified') ?? before?.lastModified ?? null,
  };
}
