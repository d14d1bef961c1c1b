import { createHash } from 'node:crypto';
import { Controller, Inject } from '@nestjs/common';
import { feed } from '../../../../libs/calendar/src/feed.ts';
import * as endpoints from '../../../../libs/contracts/src/http/calendars.ts';
import type { InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import {
  createLink,
  linkToken,
  type Recipient,
  readLink,
} from '../../../../libs/data/src/action-link.repository.ts';
import { writeAudit } from '../../../../libs/data/src/audit.repository.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import {
  FEED_PURPOSE,
  type FeedSummary,
  isHolderActive,
  pageFeeds,
} from '../../../../libs/data/src/listing/feed-page.ts';
import {
  type FeedSubject,
  findFeedSubject,
  readFeed,
} from '../../../../libs/data/src/listing/feed-visits.ts';
import { findLinkById, revokeLinkById } from '../../../../libs/data/src/listing/link-page.ts';
import { addMinutes, type Clock, DryspellError, type Instant } from '../../../../libs/kernel/src/index.ts';
import type { ApiConfig } from '../config.ts';
import { actorOf } from '../data/acting.ts';
import { DATABASE } from '../data/database.token.ts';
import { Bind } from '../frame/bind.decorator.ts';
import type { Call } from '../frame/call.ts';
import { Cursors } from '../frame/cursor.ts';
import { Paging } from '../frame/paging.ts';
import { Reply } from '../frame/reply.ts';
import { hashSecret } from '../frame/secret-token.ts';
import { publicAddress } from '../public-address.ts';
import { API_CONFIG, CLOCK } from '../tokens.ts';
import { feedEvents } from './feed-events.ts';

/** A calendar address serves for a season and a half. */
const FEED_MIN = 550 * 24 * 60;

@Controller()
export class CalendarController {
  constructor(
    @Inject(API_CONFIG) private readonly config: ApiConfig,
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
    @Inject(Cursors) private readonly cursors: Cursors,
  ) {}

  @Bind(endpoints.createCalendarFeed)
  async create(input: InputOf<typeof endpoints.createCalendarFeed>, call: Call): Promise<Reply> {
    const { season, kind, key } = input.body;
    const { organisationId, role, subjectKey } = call.user;
    if (role === 'crew' && (kind !== 'person' || key !== subjectKey))
      throw new DryspellError('not-found', { [kind]: key });
    const found = await findFeedSubject(this.db, { organisationId, season, kind, key });
    if (!found) throw new DryspellError('not-found', { [kind]: key });
    const expiresAt = addMinutes(this.clock.now(), FEED_MIN);
    const id = await this.db.transaction(async (tx) => {
      const link = {
        organisationId,
        seasonId: found.seasonId,
        purpose: FEED_PURPOSE,
        subjectKind: kind,
        subjectId: found.id,
      };
      const made = await createLink(
        tx,
        { ...link, recipient: recipientOf(call), expiresAt },
        this.config.secret,
      );
      const entry = {
        actor: actorOf(call),
        organisationId,
        seasonId: found.seasonId,
        action: 'calendarFeed.made',
      };
      await writeAudit(tx, { ...entry, subjectKind: 'link', subjectId: made, subjectKey: `${kind} ${key}` });
      return made;
    });
    const url = `${publicAddress(this.config)}/calendar/${linkToken(this.config.secret, id)}.ics`;
    return Reply.json(201, { id, kind, key, expiresAt, url });
  }

  @Bind(endpoints.listCalendarFeeds)
  async list(_input: InputOf<typeof endpoints.listCalendarFeeds>, call: Call) {
    const paging = new Paging<{ createdAt: Instant; id: string }>(this.cursors, call);
    const { organisationId, role } = call.user;
    const rows = await pageFeeds(this.db, {
      organisationId,
      holder: role === 'manager' ? null : recipientOf(call),
      now: this.clock.now(),
      after: paging.after,
      limit: paging.limit,
    });
    return paging.page(
      rows,
      (row: FeedSummary) => ({ ...row, url: null }),
      ({ createdAt, id }) => ({ createdAt, id }),
    );
  }

  @Bind(endpoints.removeCalendarFeed)
  async remove(input: InputOf<typeof endpoints.removeCalendarFeed>, call: Call): Promise<Reply> {
    const { organisationId, role } = call.user;
    const link = await findLinkById(this.db, organisationId, input.params.feedId);
    const own = recipientOf(call);
    const may = role === 'manager' || (link?.recipient.kind === own.kind && link.recipient.key === own.key);
    if (!link || link.purpose !== FEED_PURPOSE || !may)
      throw new DryspellError('not-found', { feed: input.params.feedId });
    await revokeLinkById(this.db, {
      organisationId,
      id: link.id,
      actor: actorOf(call),
      now: this.clock.now(),
    });
    return Reply.empty(204);
  }

  @Bind(endpoints.calendarFeed)
  async feed(input: InputOf<typeof endpoints.calendarFeed>): Promise<Reply> {
    const now = this.clock.now();
    const link = await readLink(this.db, { tokenHash: hashSecret(input.params.token), now });
    if (link?.purpose !== FEED_PURPOSE || !(await isHolderActive(this.db, link)))
      throw new DryspellError('not-found');
    const found = await readFeed(this.db, {
      kind: link.subjectKind as FeedSubject['kind'],
      id: link.subjectId,
    });
    if (!found) throw new DryspellError('not-found');
    const text = feed({ name: `${found.name} (${found.seasonName})`, events: feedEvents(found) });
    const etag = `"${createHash('sha256').update(text).digest('base64url').slice(0, 22)}"`;
    return Reply.raw(200, 'text/calendar; charset=utf-8', text, {
      etag,
      'cache-control': 'private, no-cache',
    });
  }
}

function recipientOf(call: Call): Recipient {
  const { role, subjectKey, userId } = call.user;
  return role === 'crew' && subjectKey !== null
    ? { kind: 'person', key: subjectKey }
    : { kind: 'user', key: userId };
}
