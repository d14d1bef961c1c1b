import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import * as endpoints from '../../../../libs/contracts/src/http/links.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { type LinkSummary, pageLinks, revokeLinkById } from '../../../../libs/data/src/listing/link-page.ts';
import type { Clock, Instant } from '../../../../libs/kernel/src/index.ts';
import type { ApiConfig } from '../config.ts';
import { actorOf } from '../data/acting.ts';
import { DATABASE } from '../data/database.token.ts';
import { Bind } from '../frame/bind.decorator.ts';
import type { Call } from '../frame/call.ts';
import { Cursors } from '../frame/cursor.ts';
import { formMark, requireFormMark } from '../frame/form-mark.ts';
import { Paging } from '../frame/paging.ts';
import { Reply } from '../frame/reply.ts';
import { API_CONFIG, CLOCK } from '../tokens.ts';
import { crewPage } from './crew.page.ts';
import { LinkAnswers } from './link-answers.ts';
import type { FormState } from './link-parts.ts';
import { type LinkSubject, readLinkSubject } from './link-subject.ts';
import { partnerPage } from './partner.page.ts';
import { readinessPage } from './readiness.page.ts';

/** Pages behind links, and the list of links that were sent. */
@Controller()
export class LinkController {
  constructor(
    @Inject(API_CONFIG) private readonly config: ApiConfig,
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
    @Inject(Cursors) private readonly cursors: Cursors,
    @Inject(LinkAnswers) private readonly answers: LinkAnswers,
  ) {}

  @Bind(endpoints.linkPage)
  async page(input: InputOf<typeof endpoints.linkPage>, call: Call): Promise<Reply> {
    const subject = await readLinkSubject(this.db, call.link, this.clock.now());
    return Reply.page(200, pageFor(subject, this.formState(input.params.token, input.query.kept === '1')));
  }

  @Bind(endpoints.answerLink)
  async answer(input: InputOf<typeof endpoints.answerLink>, call: Call): Promise<Reply> {
    const { token } = input.params;
    const { mark, ...form } = input.body;
    requireFormMark(this.config.secret, token, mark);
    const subject = await readLinkSubject(this.db, call.link, this.clock.now());
    const outcome = await this.answers.take(call.link, subject, form);
    if (outcome.kind === 'kept') return Reply.seeOther(`/l/${token}?kept=1`);
    const state = this.formState(token, false);
    if (outcome.kind === 'faulty')
      return Reply.page(422, pageFor(subject, { ...state, faults: outcome.faults, given: form }));
    const now = await readLinkSubject(this.db, call.link, this.clock.now());
    return Reply.page(409, pageFor(now, { ...state, changed: true }));
  }

  @Bind(endpoints.listLinks)
  async list(input: InputOf<typeof endpoints.listLinks>, call: Call) {
    const paging = new Paging<{ createdAt: Instant; id: string }>(this.cursors, call);
    const rows = await pageLinks(this.db, {
      organisationId: call.user.organisationId,
      purpose: input.query.purpose,
      openAt: input.query.open === 'true' ? this.clock.now() : undefined,
      after: paging.after,
      limit: paging.limit,
    });
    return paging.page(
      rows,
      (row: LinkSummary) => row,
      ({ createdAt, id }) => ({ createdAt, id }),
    );
  }

  @Bind(endpoints.revokeLink)
  revoke(input: InputOf<typeof endpoints.revokeLink>, call: Call): Promise<LinkSummary> {
    const { organisationId } = call.user;
    return revokeLinkById(this.db, {
      organisationId,
      id: input.params.linkId,
      actor: actorOf(call),
      now: this.clock.now(),
    });
  }

  private formState(token: string, kept: boolean): FormState {
    const mark = formMark(this.config.secret, token);
    return { token, mark, kept, changed: false, faults: [], given: {} };
  }
}

function pageFor(subject: LinkSubject, state: FormState): string {
  if (subject.kind === 'assignment') return crewPage(subject, state);
  if (subject.kind === 'visit') return readinessPage(subject, state);
  return partnerPage(subject, state);
}
