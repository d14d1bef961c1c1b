import type { Database } from '../../../../libs/data/src/database.ts';
import { forgetExpiredKeys } from '../../../../libs/data/src/idempotency.repository.ts';
import { forgetRelayed } from '../../../../libs/data/src/outbox.repository.ts';
import { forgetOldSessions } from '../../../../libs/data/src/session.repository.ts';
import { pruneForecasts } from '../../../../libs/data/src/weather/forecasts.repository.ts';
import { forgetImports } from '../../../../libs/data/src/weather/imports.repository.ts';
import { forgetWindows } from '../../../../libs/data/src/weather/window-cache.repository.ts';
import { addMinutes, type Clock } from '../../../../libs/kernel/src/index.ts';
import type { Sweep } from '../leader.ts';
import type { Log } from '../log.ts';

const DAY_MIN = 24 * 60;

/** Clears away what is over: relayed outbox rows after a week, old sessions and sign-in links after a month, used-up keys, forecasts by age, unused windows. */
export function tidySweep(params: { db: Database; clock: Clock; log: Log }): Sweep {
  const { db, clock, log } = params;
  return {
    name: 'tidying',
    everyMs: 3_600_000,
    run: async () => {
      const now = clock.now();
      const outboxRows = await forgetRelayed(db, addMinutes(now, -7 * DAY_MIN));
      const sessions = await forgetOldSessions(db, addMinutes(now, -30 * DAY_MIN));
      const keys = await forgetExpiredKeys(db, now);
      const forecasts = await pruneForecasts(db, now);
      const windows = await forgetWindows(db, addMinutes(now, -60 * DAY_MIN));
      const imports = await forgetImports(db, now);
      const gone = { outboxRows, sessions, keys, forecasts, windows, imports };
      if (Object.values(gone).some((count) => count > 0)) log.info(gone, 'tidied');
      return false;
    },
  };
}
