import type { FetchSurroundings, ForecastReader, ForecastSource } from './forecast-source.port.ts';
import { jsonSource } from './json-source.ts';

/** How MET Norway's service is reached. */
export interface MetInput {
  /** Address of the complete JSON product, without a query. */
  readonly url: string;
  /** Program and contact; a request without one is refused by the service. */
  readonly userAgent: string;
  readonly read: ForecastReader;
  readonly timeoutMs?: number;
}

/**
 * MET Norway, Locationforecast 2.0. Its rules (api.met.no, terms of service and getting started): an identifying agent with contact, at most
 * four decimals of a coordinate, whole metres of height, nothing before Expires, If-Modified-Since with the very text of Last-Modified, and
 * not all clients on the full hour.
 */
export function metLocationforecast(input: MetInput, around: FetchSurroundings): ForecastSource {
  return jsonSource(
    {
      service: 'met-norway',
      credit: 'Data from MET Norway (CC BY 4.0)',
      urlFor: ({ lat, lon, elevationM }) => {
        const url = new URL(input.url);
        url.searchParams.set('lat', coordinate(lat));
        url.searchParams.set('lon', coordinate(lon));
        if (elevationM !== null) url.searchParams.set('altitude', String(Math.round(elevationM)));
        return url;
      },
      read: input.read,
      userAgent: input.userAgent,
      leastMin: 15,
      mostMin: 180,
      ...(input.timeoutMs === undefined ? {} : { timeoutMs: input.timeoutMs }),
    },
    around,
  );
}

function coordinate(degrees: number): string {
  return String(Number(degrees.toFixed(4)));
}
