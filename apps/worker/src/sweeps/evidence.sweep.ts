import { casesOfDay } from '../../../../libs/data/src/brief/cases-of-day.ts';
import { keepEvidence, visitsWithoutEvidence } from '../../../../libs/data/src/brief/evidence.repository.ts';
import { keepForecastCases } from '../../../../libs/data/src/brief/forecast-cases.ts';
import { makeEvidence, outsideVisit } from '../../../../libs/data/src/brief/make-evidence.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { briefCore } from '../../../../libs/intake/src/index.ts';
import { addMinutes, type Clock, DryspellError, type Instant } from '../../../../libs/kernel/src/index.ts';
import { reasonOf } from '../../../../libs/queue/src/queue-error.ts';
import type { Sweep } from '../leader.ts';
import type { Log } from '../log.ts';

const BATCH = 20;
/** What could not be made is tried again after so long. */
const AGAIN_MIN = 60;

/**
 * After a site day: what was forecast, what came and which limits broke is kept with the visit, anew when more hours have come in; and each
 * forecast of the day is held against what came, which the weights are fitted from.
 */
export function evidenceSweep({
  db,
  clock,
  log,
}: {
  readonly db: Database;
  readonly clock: Clock;
  readonly log: Log;
}): Sweep {
  const notBefore = new Map<string, Instant>();
  const write = async (visitId: string, now: Instant): Promise<void> => {
    const outside = await outsideVisit(db, briefCore, visitId);
    if (now < outside.to) return;
    const evidence = await makeEvidence(db, briefCore, outside, now);
    await keepForecastCases(db, await casesOfDay(db, briefCore, outside), now);
    await keepEvidence(db, { seasonId: outside.season.id, visitId, evidence, now });
    log.info(
      { visit: visitId, day: evidence.day, observed: evidence.observedHours },
      'weather evidence kept',
    );
  };
  return {
    name: 'evidence',
    everyMs: 30_000,
    run: async () => {
      const now = clock.now();
      for (const visitId of await visitsWithoutEvidence(db, { now, limit: BATCH })) {
        if ((notBefore.get(visitId) ?? now) > now) continue;
        try {
          await write(visitId, now);
          notBefore.delete(visitId);
        } catch (error) {
          notBefore.set(visitId, addMinutes(now, AGAIN_MIN));
          // A visit whose template says nothing of outside work has no limits to hold the weather against.
          const expected = error instanceof DryspellError && error.code === 'state-conflict';
          log[expected ? 'debug' : 'error'](
            { visit: visitId, reason: reasonOf(error) },
            'no weather evidence',
          );
        }
      }
      return false;
    },
  };
}
