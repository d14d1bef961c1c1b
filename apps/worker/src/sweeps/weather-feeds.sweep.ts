import type { Database } from '../../../../libs/data/src/database.ts';
import { queueDueFeeds } from '../../../../libs/data/src/weather/feeds.repository.ts';
import { wantFeeds } from '../../../../libs/data/src/weather/wanted-feeds.ts';
import type { ForecastSource } from '../../../../libs/forecast/src/forecast-source.port.ts';
import type { Clock } from '../../../../libs/kernel/src/index.ts';
import type { Sweep } from '../leader.ts';
import type { Log } from '../log.ts';

const BATCH = 50;
/** A job that did not bring its feed further for so long is taken as lost. */
const SILENT_MIN = 10;

/** Gives a feed to each site with a visit within reach of the forecast, and asks for a fetch of each feed that is due. */
export function weatherFeedsSweep(params: {
  db: Database;
  clock: Clock;
  log: Log;
  sources: readonly ForecastSource[];
  reachDays: number;
}): Sweep {
  const { db, clock, log, sources, reachDays } = params;
  return {
    name: 'weather feeds',
    everyMs: 15_000,
    run: async () => {
      if (sources.length === 0) return false;
      const now = clock.now();
      const added = await wantFeeds(db, { now, reachDays, services: sources });
      const names = sources.map(({ service }) => service);
      const queued = await queueDueFeeds(db, { now, sources: names, silentMin: SILENT_MIN, limit: BATCH });
      if (added + queued > 0) log.info({ added, queued }, 'weather feeds');
      return queued === BATCH;
    },
  };
}
