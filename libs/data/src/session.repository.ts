import { addMinutes, type Instant } from '../../kernel/src/index.ts';
import { type Account, accountOf } from './account.repository.ts';
import type { Database } from './database.ts';
import { toDate } from './moments.ts';

export interface SessionInfo {
  readonly sessionId: string;
  readonly account: Account;
}

/** Whose session it is; null when it has ended, expired or was never there. */
export async function readSession(
  db: Database,
  input: { tokenHash: string; now: Instant },
): Promise<SessionInfo | null> {
  const row = await db.client.session.findUnique({
    where: { tokenHash: input.tokenHash },
    include: { membership: { include: { user: true } } },
  });
  if (!row || row.endedAt || row.expiresAt <= toDate(input.now)) return null;
  const account = accountOf(row.membership);
  if (!account.active) return null;
  // Not at each request: once in a while is enough to tell a session in use from a forgotten one.
  if (row.lastSeenAt < toDate(addMinutes(input.now, -10))) {
    await db.client.session.update({ where: { id: row.id }, data: { lastSeenAt: toDate(input.now) } });
  }
  return { sessionId: row.id, account };
}

/** Ends a session; ending it twice is fine. */
export async function endSession(db: Database, input: { sessionId: string; now: Instant }): Promise<void> {
  await db.client.session.updateMany({
    where: { id: input.sessionId, endedAt: null },
    data: { endedAt: toDate(input.now) },
  });
}

/** Removes sessions and sign-in links that ended or expired before a moment; returns how many. */
export async function forgetOldSessions(db: Database, before: Instant): Promise<number> {
  const date = toDate(before);
  const sessions = await db.client.session.deleteMany({
    where: { OR: [{ expiresAt: { lt: date } }, { endedAt: { lt: date } }] },
  });
  const links = await db.client.signInLink.deleteMany({ where: { expiresAt: { lt: date } } });
  return sessions.count + links.count;
}
