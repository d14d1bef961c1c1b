import type { Instant } from '../../../kernel/src/index.ts';
import type { Database } from '../database.ts';
import { toDate } from '../moments.ts';

/** Why a link does not open anything. */
export type DeadLink =
  /** No link has this address. */
  | 'unknown'
  | 'expired'
  /** A newer link was sent to the same reader about the same thing. */
  | 'superseded'
  /** Called off or withdrawn, and none came in its place. */
  | 'withdrawn';

/** Says why a link that `readLink` does not give is dead. */
export async function whyDead(db: Database, input: { tokenHash: string; now: Instant }): Promise<DeadLink> {
  const link = await db.client.actionLink.findUnique({ where: { tokenHash: input.tokenHash } });
  if (!link) return 'unknown';
  if (!link.revokedAt) return 'expired';
  const { purpose, subjectKind, subjectId, recipientKind, recipientKey } = link;
  const newer = await db.client.actionLink.count({
    where: {
      purpose,
      subjectKind,
      subjectId,
      recipientKind,
      recipientKey,
      revokedAt: null,
      expiresAt: { gt: toDate(input.now) },
    },
  });
  return newer > 0 ? 'superseded' : 'withdrawn';
}
