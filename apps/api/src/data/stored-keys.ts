import { Inject, Injectable } from '@nestjs/common';
import type { Database } from '../../../../libs/data/src/database.ts';
import {
  claimKey,
  keepAnswer,
  releaseKey,
  renewKey,
} from '../../../../libs/data/src/idempotency.repository.ts';
import { addMinutes, type Clock } from '../../../../libs/kernel/src/index.ts';
import { type ClaimResult, type KeptAnswer, type KeyClaim, KeyStore } from '../frame/idempotency.ts';
import { CLOCK } from '../tokens.ts';
import { DATABASE } from './database.token.ts';

/** For how long a repeat gets the answer of the first request. */
const KEPT_MIN = 24 * 60;
/** For how long a claim holds unless its request says that it still runs; then a server that died has let go of the key. */
const CLAIM_MIN = 0.5;
const RENEW_MS = 8_000;

/** Idempotency keys as kept in the database. */
@Injectable()
export class StoredKeys extends KeyStore {
  readonly #renewals = new Map<string, NodeJS.Timeout>();

  constructor(
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
  ) {
    super();
  }

  async claim(claim: KeyClaim): Promise<ClaimResult> {
    const now = this.clock.now();
    const found = await claimKey(this.db, { ...claim, now, expiresAt: addMinutes(now, CLAIM_MIN) });
    if (found.kind === 'ours') this.#keepRenewing(claim);
    return found as ClaimResult;
  }

  async keep(claim: KeyClaim, answer: KeptAnswer): Promise<void> {
    this.#stopRenewing(claim);
    const until = addMinutes(this.clock.now(), KEPT_MIN);
    await keepAnswer(this.db, claim, { ...answer, headers: { ...answer.headers } }, until);
  }

  async release(claim: KeyClaim): Promise<void> {
    this.#stopRenewing(claim);
    await releaseKey(this.db, claim);
  }

  #keepRenewing(claim: KeyClaim): void {
    const renew = async (): Promise<void> => {
      // A database that is away for a moment is asked again at the next turn.
      await renewKey(this.db, claim, addMinutes(this.clock.now(), CLAIM_MIN)).catch(() => undefined);
    };
    this.#stopRenewing(claim);
    this.#renewals.set(nameOf(claim), setInterval(renew, RENEW_MS).unref());
  }

  #stopRenewing(claim: KeyClaim): void {
    clearInterval(this.#renewals.get(nameOf(claim)));
    this.#renewals.delete(nameOf(claim));
  }
}

const nameOf = ({ organisationId, userId, key }: KeyClaim): string => `${organisationId} ${userId} ${key}`;
