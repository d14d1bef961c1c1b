import { createHash, randomBytes } from 'node:crypto';
import type { Actor } from '../../../../libs/data/src/actor.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { createSignInLinkByHand } from '../../../../libs/data/src/sign-in-by-hand.repository.ts';
import { instantFromMs } from '../../../../libs/kernel/src/index.ts';

const VALID_MS = 24 * 60 * 60 * 1000;

/** Makes a fresh one-time sign-in link of an account, valid for 24 hours; older unused links of the account end. */
export async function makeSignInLink(
  db: Database,
  input: { readonly email: string; readonly publicUrl: string; readonly now: Date; readonly actor: Actor },
): Promise<{ url: string; expiresAt: string }> {
  const token = randomBytes(32).toString('base64url');
  const expiresAt = instantFromMs(input.now.getTime() + VALID_MS);
  await createSignInLinkByHand(db, {
    email: input.email,
    tokenHash: createHash('sha256').update(token).digest('hex'),
    expiresAt,
    now: instantFromMs(input.now.getTime()),
    actor: input.actor,
  });
  return { url: `${input.publicUrl}/sign-in/${token}`, expiresAt };
}
