import type { Database } from '../../../../libs/data/src/database.ts';
import { turnDueReminders } from '../../../../libs/data/src/reminder.repository.ts';
import type { Clock } from '../../../../libs/kernel/src/index.ts';
import type { Sweep } from '../leader.ts';
import type { Log } from '../log.ts';

const BATCH = 100;

/** Reminders whose moment has come become messages. */
export function remindersSweep(params: { db: Database; clock: Clock; log: Log; mailDomain: string }): Sweep {
  const { db, clock, log, mailDomain } = params;
  return {
    name: 'reminders',
    everyMs: 3_000,
    run: async () => {
      const { done, skipped } = await turnDueReminders(db, { now: clock.now(), limit: BATCH, mailDomain });
      if (done + skipped > 0) log.info({ done, skipped }, 'reminders turned into messages');
      return done + skipped === BATCH;
    },
  };
}
