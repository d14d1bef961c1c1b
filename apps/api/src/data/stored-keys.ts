import { Inject, Injectable } from '@nestjs/common';
import type { Database } from '../../../../libs/data/src/database.ts';
import { claimKey, keepAnswer, releaseKey } from '../../../../libs/data/src/idempotency.repository.ts';
import { addMinutes, type Clock } from '../../../../libs/kernel/src/index.ts';
import { type ClaimResult, type KeptAnswer, type KeyClaim, KeyStore } from '../frame/idempotency.ts';
import { CLOCK } from '../tokens.ts';
import { DATABASE } from './database.token.ts';

/** For how long a repeat gets the answer of the first request. */
const KEPT_MIN = 24 * 60;

/** Idempotency keys as kept in the database. */
@Injectable()
export class StoredKeys extends KeyStore {
  constructor(
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
  ) {
    super();
  }

  async claim(claim: KeyClaim): Promise<ClaimResult> {
    const now = this.clock.now();
    return (await claimKey(this.db, { ...claim, now, expiresAt: addMinutes(now, KEPT_MIN) })) as ClaimResult;
  }

  async keep(claim: KeyClaim, answer: KeptAnswer): Promise<void> {
    await keepAnswer(this.db, claim, { ...answer, headers: { ...answer.headers } });
  }

  async release(claim: KeyClaim): Promise<void> {
    await releaseKey(this.db, claim);
  }
}
