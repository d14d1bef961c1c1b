import { DryspellError, type Instant } from '../../kernel/src/index.ts';
import { type Account, accountOf, normalEmail } from './account.repository.ts';
import { writeAudit } from './audit.repository.ts';
import type { Database } from './database.ts';
import { toDate } from './moments.ts';
import { addDeliveries } from './new-delivery.ts';

export interface SignInRequest {
  readonly email: string;
  /** SHA-256 of the token, lower-case hex. The token itself is kept nowhere. */
  readonly tokenHash: string;
  readonly expiresAt: Instant;
  readonly now: Instant;
  readonly mailDomain: string;
  /** From which the token is derived again when the message is rendered, as in `links: [{ id, purpose: 'sign-in' }]`. */
  readonly messageData: object;
}

/**
 * Makes a sign-in link for a known address and the message that carries it; older unused links of the user end. For an
 * unknown address nothing happens. Returns whether there is such a user; never tell that to whoever asked.
 */
export async function createSignInLink(db: Database, input: SignInRequest): Promise<boolean> {
  return db.transaction(async (tx) => {
    const user = await tx.user.findUnique({
      where: { email: normalEmail(input.email) },
      include: {
        memberships: {
          where: { revokedAt: null },
          include: { organisation: true },
          orderBy: { createdAt: 'asc' },
        },
      },
    });
    const membership = user?.memberships[0];
    if (!user || user.disabledAt || !membership) return false;
    await tx.signInLink.updateMany({
      where: { userId: user.id, usedAt: null, revokedAt: null },
      data: { revokedAt: toDate(input.now) },
    });
    const link = await tx.signInLink.create({
      data: { userId: user.id, tokenHash: input.tokenHash, expiresAt: toDate(input.expiresAt) },
    });
    const { organisation } = membership;
    await addDeliveries(tx, input.mailDomain, [
      {
        organisationId: organisation.id,
        seasonId: null,
        channel: 'mail',
        recipient: { kind: 'user', key: user.id },
        address: user.email,
        language: user.language,
        template: 'sign-in-link',
        data: {
          organisation: organisation.name,
          isDemo: organisation.isDemo,
          name: user.name,
          expires: { at: input.expiresAt, zone: organisation.zone },
          ...input.messageData,
        },
        dedupeKey: `sign-in-link:${link.id}`,
        notBefore: input.now,
      },
    ]);
    return true;
  });
}

/** Who would sign in with a link; null when it is not valid. Changes nothing. */
export async function readSignInLink(
  db: Database,
  input: { tokenHash: string; now: Instant },
): Promise<Account | null> {
  const link = await db.client.signInLink.findUnique({
    where: { tokenHash: input.tokenHash },
    include: {
      user: { include: { memberships: { where: { revokedAt: null }, orderBy: { createdAt: 'asc' } } } },
    },
  });
  const membership = link?.user.memberships[0];
  const alive = link && !link.usedAt && !link.revokedAt && link.expiresAt > toDate(input.now);
  return alive && membership && !link.user.disabledAt ? accountOf({ ...membership, user: link.user }) : null;
}

export interface SignInUse {
  readonly tokenHash: string;
  readonly sessionTokenHash: string;
  readonly sessionExpiresAt: Instant;
  readonly userAgent?: string | null;
  readonly now: Instant;
}

/** Uses a sign-in link up and makes a session, in one. Throws `link-not-valid`, also for the second of two at once. */
export async function useSignInLink(
  db: Database,
  input: SignInUse,
): Promise<{ sessionId: string; account: Account }> {
  const account = await readSignInLink(db, input);
  if (!account) throw new DryspellError('link-not-valid');
  return db.transaction(async (tx) => {
    const { count } = await tx.signInLink.updateMany({
      where: {
        tokenHash: input.tokenHash,
        usedAt: null,
        revokedAt: null,
        expiresAt: { gt: toDate(input.now) },
      },
      data: { usedAt: toDate(input.now) },
    });
    if (count === 0) throw new DryspellError('link-not-valid');
    const session = await tx.session.create({
      data: {
        tokenHash: input.sessionTokenHash,
        membershipId: account.id,
        createdAt: toDate(input.now),
        lastSeenAt: toDate(input.now),
        expiresAt: toDate(input.sessionExpiresAt),
        userAgent: input.userAgent?.slice(0, 300) ?? null,
      },
    });
    await writeAudit(tx, {
      actor: { kind: 'user', id: account.userId, name: account.name },
      organisationId: account.organisationId,
      action: 'session.started',
      subjectKind: 'session',
      subjectId: session.id,
    });
    return { sessionId: session.id, account };
  });
}
