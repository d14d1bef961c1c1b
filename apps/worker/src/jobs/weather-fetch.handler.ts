import type { weatherFetch } from '../../../../libs/contracts/src/jobs/index.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import {
  claimFeed,
  type FeedWork,
  noteFailedFetch,
  noteGoodFetch,
} from '../../../../libs/data/src/weather/feeds.repository.ts';
import type { Fetched, ForecastSource } from '../../../../libs/forecast/src/forecast-source.port.ts';
import {
  addMinutes,
  type Clock,
  type Instant,
  instantFromMs,
  instantToMs,
} from '../../../../libs/kernel/src/index.ts';
import type { JobHandler } from '../../../../libs/queue/src/queue.port.ts';
import type { Log } from '../log.ts';

export interface WeatherFetchParams {
  readonly db: Database;
  readonly sources: readonly ForecastSource[];
  readonly clock: Clock;
  /** From 0 up to, not including, 1. */
  readonly random: () => number;
  readonly log: Log;
}

/** Longer than the slowest fetch with all its tries. */
const HOLD_MIN = 3;
/** After the first failure it is tried again in about so long, then twice as long each time, up to the longest. */
const FIRST_RETRY_MIN = 5;
const LONGEST_RETRY_MIN = 6 * 60;

/**
 * Fetches the forecast of one feed and keeps it. The fetch runs outside any transaction; what came of it is written in one. Run twice, the
 * second finds the feed not due, or taken; killed, the claim runs out and the sweep asks for it again.
 */
export function weatherFetchHandler(params: WeatherFetchParams): JobHandler<typeof weatherFetch> {
  return async ({ feedId }, run) => {
    const { db, clock, sources, log } = params;
    const work = await claimFeed(db, { id: feedId, now: clock.now(), holdMin: HOLD_MIN });
    if (work === null) return;
    const source = sources.find(({ service }) => service === work.source);
    if (source === undefined) {
      const fault = 'This service is no longer set up on this server, so nothing is fetched from it.';
      await noteFailedFetch(db, {
        work,
        fault,
        nextDueAt: addMinutes(clock.now(), LONGEST_RETRY_MIN),
        now: clock.now(),
      });
      return;
    }
    const { name, lat, lon, elevationM } = work.series;
    const kept = work.lastGoodAt === null ? null : { etag: work.etag, lastModified: work.lastModified };
    const fetched = await source.fetch({ name, lat, lon, elevationM }, kept, run.signal);
    await note(params, work, fetched);
    if (fetched.state === 'fault')
      log.warn({ feed: work.id, source: work.source, reason: fetched.reason }, 'no forecast');
    else log.info({ feed: work.id, source: work.source, state: fetched.state }, 'forecast fetched');
  };
}

async function note(
  { db, clock, random }: WeatherFetchParams,
  work: FeedWork,
  fetched: Fetched,
): Promise<void> {
  const now = clock.now();
  if (fetched.state === 'fault') {
    const nextDueAt = retryAt({
      now,
      tries: work.tries + 1,
      retryAfter: fetched.retryAfter,
      chance: random(),
    });
    await noteFailedFetch(db, { work, fault: fetched.reason, nextDueAt, now });
    return;
  }
  const { etag, lastModified, nextFetchAfter: nextDueAt } = fetched;
  const forecast = fetched.state === 'new' ? fetched.forecast : null;
  await noteGoodFetch(db, { work, forecast, etag, lastModified, nextDueAt, now });
}

/** When a feed that failed so many times in a row is tried again: never before the service allows it. */
export function retryAt(input: {
  readonly now: Instant;
  readonly tries: number;
  readonly retryAfter: Instant | null;
  /** From 0 up to, not including, 1. */
  readonly chance: number;
}): Instant {
  const { now, tries, retryAfter, chance } = input;
  const waitMin =
    Math.min(LONGEST_RETRY_MIN, FIRST_RETRY_MIN * 2 ** Math.min(tries - 1, 10)) * (0.75 + chance / 2);
  const own = instantFromMs(instantToMs(now) + Math.round(waitMin * 60_000));
  return retryAfter !== null && retryAfter > own ? retryAfter : own;
}
