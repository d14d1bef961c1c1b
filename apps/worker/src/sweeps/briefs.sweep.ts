import { briefsToCheck, noteBriefChecked } from '../../../../libs/data/src/brief/briefs-to-check.ts';
import { closeBrief, type DueBrief, dueBriefs } from '../../../../libs/data/src/brief/due-briefs.ts';
import { makeBrief } from '../../../../libs/data/src/brief/make-brief.ts';
import { noteNewerForecast, sendBrief } from '../../../../libs/data/src/brief/visit-brief.repository.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { briefCore } from '../../../../libs/intake/src/index.ts';
import { addMinutes, type Clock, type Instant } from '../../../../libs/kernel/src/index.ts';
import { reasonOf } from '../../../../libs/queue/src/queue-error.ts';
import type { Sweep } from '../leader.ts';
import type { Log } from '../log.ts';

interface BriefsParams {
  readonly db: Database;
  readonly clock: Clock;
  readonly log: Log;
  readonly mailDomain: string;
}

const BATCH = 500;
/** A brief that could not be made is tried again after so long, for as long as it would help. */
const AGAIN_MIN = 1;

/**
 * Briefs whose moment has come are made from the newest forecast and written as messages; late ones only while they still help. One that
 * cannot be made keeps none of the others back.
 */
export function briefsSweep({ db, clock, log, mailDomain }: BriefsParams): Sweep {
  const tryAgainAt = new Map<string, Instant>();
  const send = async ({ reminderId, visitId, purpose, closeBecause }: DueBrief): Promise<void> => {
    const now = clock.now();
    if (closeBecause !== null) {
      await closeBrief(db, { reminderId, reason: closeBecause, now });
      log.warn({ visit: visitId, purpose, reason: closeBecause }, 'a brief was not sent');
      return;
    }
    const made = await makeBrief(db, briefCore, { visitId, now });
    const kind = purpose === 'brief-day-before' ? 'day-before' : 'on-the-day';
    const sent = await sendBrief(db, { reminderId, kind, made, now, mailDomain });
    if (sent) log.info({ visit: visitId, purpose, advice: made.brief.advice }, 'a brief is on its way');
  };
  return {
    name: 'briefs',
    everyMs: 3_000,
    run: async () => {
      const now = clock.now();
      for (const due of await dueBriefs(db, { now, limit: BATCH })) {
        if (due.closeBecause === null && (tryAgainAt.get(due.reminderId) ?? now) > now) continue;
        try {
          await send(due);
          tryAgainAt.delete(due.reminderId);
        } catch (error) {
          tryAgainAt.set(due.reminderId, addMinutes(now, AGAIN_MIN));
          log.error({ visit: due.visitId, purpose: due.purpose, reason: reasonOf(error) }, 'no brief');
        }
      }
      return false;
    },
  };
}

/** Briefs that were sent are held against newer forecasts until the day has begun; where the advice turns, the manager sees it at once. */
export function briefWatchSweep({ db, clock, log }: Omit<BriefsParams, 'mailDomain'>): Sweep {
  return {
    name: 'brief watch',
    everyMs: 10_000,
    run: async () => {
      const now = clock.now();
      for (const { visitId, briefId } of await briefsToCheck(db, now)) {
        try {
          const made = await makeBrief(db, briefCore, { visitId, now });
          const from = await noteNewerForecast(db, { made, seen: briefId, now });
          if (from !== null)
            log.warn({ visit: visitId, from, to: made.brief.advice }, 'an advice has turned');
        } catch (error) {
          await noteBriefChecked(db, briefId, now);
          log.error({ visit: visitId, reason: reasonOf(error) }, 'a brief could not be looked at again');
        }
      }
      return false;
    },
  };
}
