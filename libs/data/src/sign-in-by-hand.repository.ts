import { DryspellError, type Instant } from '../../kernel/src/index.ts';
import { type Account, accountOf, normalEmail } from './account.repository.ts';
import type { Actor } from './actor.ts';
import { writeAudit } from './audit.repository.ts';
import type { Database } from './database.ts';
import { toDate } from './moments.ts';

export interface SignInByHand {
  readonly email: string;
  /** SHA-256 of the token, lower-case hex. The token itself is shown once to whoever runs the server. */
  readonly tokenHash: string;
  readonly expiresAt: Instant;
  readonly now: Instant;
  readonly actor: Actor;
}

/**
 * Makes a sign-in link that no message carries: whoever runs the server hands it over. Older unused links of the user
 * end. Throws `not-found` when the address has no active account.
 */
export async function createSignInLinkByHand(db: Database, input: SignInByHand): Promise<Account> {
  return db.transaction(async (tx) => {
    const email = normalEmail(input.email);
    const user = await tx.user.findUnique({
      where: { email },
      include: { memberships: { where: { revokedAt: null }, orderBy: { createdAt: 'asc' } } },
    });
    const membership = user?.memberships[0];
    if (!user || user.disabledAt || !membership) throw new DryspellError('not-found', { account: email });
    await tx.signInLink.updateMany({
      where: { userId: user.id, usedAt: null, revokedAt: null },
      data: { revokedAt: toDate(input.now) },
    });
    const link = await tx.signInLink.create({
      data: { userId: user.id, tokenHash: input.tokenHash, expiresAt: toDate(input.expiresAt) },
    });
    await writeAudit(tx, {
      actor: input.actor,
      organisationId: membership.organisationId,
      action: 'sign-in-link.made',
      subjectKind: 'user',
      subjectId: user.id,
      after: { link: link.id, expiresAt: input.expiresAt },
    });
    return accountOf({ ...membership, user });
  });
}
