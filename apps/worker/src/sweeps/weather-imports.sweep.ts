import { systemActor } from '../../../../libs/data/src/actor.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { recoverImports } from '../../../../libs/data/src/weather/imports.repository.ts';
import type { Clock } from '../../../../libs/kernel/src/index.ts';
import type { Sweep } from '../leader.ts';
import type { Log } from '../log.ts';

/** A run that is read says so every second, one that is uploaded with every megabyte. */
const SILENT_MIN = 1;
const MAX_ATTEMPTS = 3;

/** Gets weather files of dead workers read after all, and ends uploads that stopped on the way. */
export function weatherImportsSweep(params: { db: Database; clock: Clock; log: Log }): Sweep {
  const { db, clock, log } = params;
  return {
    name: 'lost weather imports',
    everyMs: 10_000,
    run: async () => {
      const input = {
        now: clock.now(),
        silentMin: SILENT_MIN,
        maxAttempts: MAX_ATTEMPTS,
        actor: systemActor('worker'),
      };
      const { queued, failed } = await recoverImports(db, input);
      if (queued + failed > 0) log.warn({ queued, failed }, 'weather imports that fell silent');
      return false;
    },
  };
}
