import { randomUUID } from 'node:crypto';
import { Inject, Injectable } from '@nestjs/common';
import type { Account } from '../../../../libs/data/src/account.repository.ts';
import { linkToken } from '../../../../libs/data/src/action-link.repository.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { endSession } from '../../../../libs/data/src/session.repository.ts';
import {
  createSignInLink,
  readSignInLink,
  useSignInLink as takeSignInLink,
} from '../../../../libs/data/src/sign-in.repository.ts';
import { addMinutes, type Clock, DryspellError, type Instant } from '../../../../libs/kernel/src/index.ts';
import type { ApiConfig } from '../config.ts';
import { DATABASE } from '../data/database.token.ts';
import { hashSecret, newSecret } from '../frame/secret-token.ts';
import { mailDomain } from '../public-address.ts';
import { API_CONFIG, CLOCK } from '../tokens.ts';

export interface NewSession {
  readonly token: string;
  readonly expiresAt: Instant;
}

/** Sign-in by a link that works once. */
@Injectable()
export class SignInService {
  constructor(
    @Inject(API_CONFIG) private readonly config: ApiConfig,
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
  ) {}

  /** Sends a link where the address is known; otherwise nothing happens, and nobody is told which. */
  async sendLink(email: string): Promise<void> {
    const now = this.clock.now();
    const linkId = randomUUID();
    await createSignInLink(this.db, {
      email,
      tokenHash: hashSecret(linkToken(this.config.secret, linkId)),
      expiresAt: addMinutes(now, this.config.signInLinkMin),
      now,
      mailDomain: mailDomain(this.config),
      messageData: { links: [{ id: linkId, purpose: 'sign-in' }] },
    });
  }

  /** Whose account a link opens. Throws `link-not-valid`. Uses nothing up. */
  async whose(token: string): Promise<Account> {
    const account = await readSignInLink(this.db, { tokenHash: hashSecret(token), now: this.clock.now() });
    if (!account) throw new DryspellError('link-not-valid');
    return account;
  }

  /** Uses a link up and starts a session. Throws `link-not-valid`. */
  async start(token: string, userAgent: string | undefined): Promise<NewSession> {
    const now = this.clock.now();
    const session = newSecret();
    const expiresAt = addMinutes(now, this.config.sessionDays * 24 * 60);
    await takeSignInLink(this.db, {
      tokenHash: hashSecret(token),
      sessionTokenHash: hashSecret(session),
      sessionExpiresAt: expiresAt,
      userAgent: userAgent ?? null,
      now,
    });
    return { token: session, expiresAt };
  }

  async end(sessionId: string): Promise<void> {
    await endSession(this.db, { sessionId, now: this.clock.now() });
  }
}
