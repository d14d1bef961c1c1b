import { createHash } from 'node:crypto';
import { Inject, Injectable } from '@nestjs/common';
import { canonicalJson } from '../../../../libs/kernel/src/index.ts';
import type { Call } from './call.ts';
import { ProblemError } from './problem-error.ts';
import type { SentAnswer } from './serialise.ts';

/** A kept answer to a request that carried an Idempotency-Key. */
export interface KeptAnswer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly mediaType: string | null;
  readonly body: string | null;
  readonly version: number | null;
}

export interface KeyClaim {
  readonly organisationId: string;
  readonly userId: string;
  readonly key: string;
  readonly requestHash: string;
}

/** What is known of a key: nobody had it (and now it is ours), it is in use, or the answer is there. */
export type ClaimResult =
  | { readonly kind: 'ours' }
  | { readonly kind: 'running'; readonly requestHash: string }
  | { readonly kind: 'answered'; readonly requestHash: string; readonly answer: KeptAnswer };

/** Where keys and answers are kept. */
export abstract class KeyStore {
  abstract claim(claim: KeyClaim): Promise<ClaimResult>;
  abstract keep(claim: KeyClaim, answer: KeptAnswer): Promise<void>;
  abstract release(claim: KeyClaim): Promise<void>;
}

const KEY = /^[\x21-\x7e]{8,200}$/;

/** Lets a request with an Idempotency-Key happen once; a repeat gets the answer of the first. */
@Injectable()
export class Idempotency {
  constructor(@Inject(KeyStore) private readonly store: KeyStore) {}

  async once(call: Call, run: () => Promise<SentAnswer>): Promise<SentAnswer> {
    const claim = claimOf(call);
    if (!claim) return run();
    const found = await this.store.claim(claim);
    if (found.kind !== 'ours') {
      if (found.requestHash !== claim.requestHash) throw new ProblemError('repeat-differs');
      if (found.kind === 'running')
        throw new ProblemError('repeat-in-progress', { headers: { 'retry-after': '2' } });
      const { body, headers, ...answer } = found.answer;
      return { ...answer, headers: { ...headers, 'idempotency-replayed': 'true' }, body: body ?? undefined };
    }
    let answer: SentAnswer;
    try {
      answer = await run();
    } catch (error) {
      // A refusal changed nothing (handlers are one transaction), so the key may be used again.
      await this.store.release(claim);
      throw error;
    }
    await this.store.keep(claim, keptOf(answer));
    return answer;
  }
}

function claimOf(call: Call): KeyClaim | null {
  const { endpoint, request } = call;
  if (endpoint.idempotency === 'none') return null;
  const key = request.headers['idempotency-key'];
  if (key === undefined) {
    if (endpoint.idempotency === 'required') throw new ProblemError('idempotency-key-required');
    return null;
  }
  if (typeof key !== 'string' || !KEY.test(key)) {
    throw new ProblemError('invalid-input', {
      errors: [
        {
          pointer: '/header/Idempotency-Key',
          message: 'This key cannot be used.',
          expected: '8 to 200 printable characters',
        },
      ],
    });
  }
  const { organisationId, userId } = call.user;
  return { organisationId, userId, key, requestHash: hashOfRequest(call) };
}

function hashOfRequest(call: Call): string {
  const { request, endpoint } = call;
  const hash = createHash('sha256');
  hash.update(
    canonicalJson({ endpoint: endpoint.id, url: request.url, ifMatch: request.headers['if-match'] ?? null }),
  );
  hash.update(request.body instanceof Uint8Array ? request.body : canonicalJson(request.body ?? null));
  return hash.digest('hex');
}

function keptOf(answer: SentAnswer): KeptAnswer {
  const body = typeof answer.body === 'string' ? answer.body : null;
  return {
    status: answer.status,
    headers: answer.headers,
    mediaType: answer.mediaType,
    body,
    version: answer.version,
  };
}
