import { Inject, Injectable } from '@nestjs/common';
import type { LinkPurpose } from '../../../../libs/contracts/src/http/endpoint.ts';
import { readLink } from '../../../../libs/data/src/action-link.repository.ts';
import { readApiToken } from '../../../../libs/data/src/api-token.repository.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { whyDead } from '../../../../libs/data/src/listing/dead-link.ts';
import { readSession } from '../../../../libs/data/src/session.repository.ts';
import type { Clock } from '../../../../libs/kernel/src/index.ts';
import { type LinkHolder, LinkReader, SessionReader, type SignedIn } from '../frame/caller.ts';
import { deadLink } from '../frame/dead-link.ts';
import { CLOCK } from '../tokens.ts';
import { DATABASE } from './database.token.ts';

/** Sessions and program tokens as kept in the database. */
@Injectable()
export class StoredSessions extends SessionReader {
  constructor(
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
  ) {
    super();
  }

  async read(tokenHash: string): Promise<Omit<SignedIn, 'by'> | null> {
    const now = this.clock.now();
    const session = await readSession(this.db, { tokenHash, now });
    const account = session?.account ?? (await readApiToken(this.db, { tokenHash, now }));
    if (!account) return null;
    const { userId, organisationId, role, name, email, subjectKey } = account;
    return { sessionId: session?.sessionId ?? null, userId, organisationId, role, name, email, subjectKey };
  }
}

/** Links as kept in the database. */
@Injectable()
export class StoredLinks extends LinkReader {
  constructor(
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
  ) {
    super();
  }

  async read(tokenHash: string): Promise<LinkHolder> {
    const now = this.clock.now();
    const link = await readLink(this.db, { tokenHash, now });
    if (!link) throw deadLink(await whyDead(this.db, { tokenHash, now }));
    return {
      linkId: link.id,
      tokenHash,
      organisationId: link.organisationId,
      purpose: link.purpose as LinkPurpose,
      subjectKind: link.subjectKind,
      subjectId: link.subjectId,
      recipient: link.recipient,
    };
  }
}
