import type { MorningBrief } from '../../../../../libs/contracts/src/http/brief-schema.ts';
import { api, take } from '../../api/client.ts';
import { type Loaded, useLoaded } from '../../api/use-loaded.ts';

/** The brief of a published visit as things stand now. */
export function useBrief(season: string, visit: string): Loaded<MorningBrief> {
  return useLoaded(`brief ${season} ${visit}`, (signal) =>
    take(
      api.GET('/api/v1/seasons/{season}/visits/{visit}/brief', {
        params: { path: { season, visit } },
        signal,
      }),
    ),
  );
}

/** Where the evidence of a visit is, as a table (CSV). */
export const evidenceAddress = (season: string, visit: string): string =>
  `/api/v1/seasons/${encodeURIComponent(season)}/visits/${encodeURIComponent(visit)}/weather-evidence.csv`;
