import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import * as endpoints from '../../../../libs/contracts/src/http/visits.ts';
import { recordManagerAnswer } from '../../../../libs/data/src/confirmation.repository.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import {
  findAssignment,
  findRequest,
  jobsOfCustomer,
  requestsOfPartner,
  sitesOfCustomer,
  sitesOfPerson,
} from '../../../../libs/data/src/listing/own.ts';
import { type Clock, DryspellError, type LocalDate } from '../../../../libs/kernel/src/index.ts';
import type { ApiConfig } from '../config.ts';
import { actorOf } from '../data/acting.ts';
import { DATABASE } from '../data/database.token.ts';
import { Bind } from '../frame/bind.decorator.ts';
import type { Call } from '../frame/call.ts';
import { mailDomain } from '../public-address.ts';
import { API_CONFIG, CLOCK } from '../tokens.ts';

/** What crew members, customers and partners with an account see and answer of their own. */
@Controller()
export class OwnController {
  constructor(
    @Inject(API_CONFIG) private readonly config: ApiConfig,
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
  ) {}

  @Bind(endpoints.listMySites)
  async sites(_input: InputOf<typeof endpoints.listMySites>, call: Call) {
    const { organisationId, role } = call.user;
    const key = keyOf(call);
    const items =
      role === 'crew'
        ? await sitesOfPerson(this.db, organisationId, key)
        : await sitesOfCustomer(this.db, organisationId, key);
    return { items };
  }

  @Bind(endpoints.listMyJobs)
  async jobs(_input: InputOf<typeof endpoints.listMyJobs>, call: Call) {
    return { items: await jobsOfCustomer(this.db, call.user.organisationId, keyOf(call)) };
  }

  @Bind(endpoints.listMyRequests)
  async requests(_input: InputOf<typeof endpoints.listMyRequests>, call: Call) {
    return { items: await requestsOfPartner(this.db, call.user.organisationId, keyOf(call)) };
  }

  @Bind(endpoints.answerAssignment)
  async answerAssignment(input: InputOf<typeof endpoints.answerAssignment>, call: Call) {
    const { assignmentId } = input.params;
    const person = call.user.role === 'crew' ? keyOf(call) : undefined;
    const found = await findAssignment(this.db, {
      organisationId: call.user.organisationId,
      id: assignmentId,
      person,
    });
    if (!found) throw new DryspellError('not-found', { assignment: assignmentId });
    return this.answer({ kind: 'assignment', id: assignmentId }, input.body, call);
  }

  @Bind(endpoints.answerRequest)
  async answerRequest(input: InputOf<typeof endpoints.answerRequest>, call: Call) {
    const { kind, requestId } = input.params;
    const partner = call.user.role === 'partner' ? keyOf(call) : undefined;
    const found = await findRequest(this.db, {
      organisationId: call.user.organisationId,
      kind,
      id: requestId,
      partner,
    });
    if (!found) throw new DryspellError('not-found', { request: requestId });
    const proposedDay = input.body.proposedDay as LocalDate | null;
    return this.answer({ kind, id: requestId }, { ...input.body, proposedDay }, call);
  }

  private answer(
    subject: { kind: 'assignment' | 'liftHold' | 'deliveryRun'; id: string },
    answer: {
      answer: 'accepted' | 'declined' | 'proposed';
      note: string | null;
      proposedDay?: LocalDate | null;
      reference?: string | null;
    },
    call: Call,
  ) {
    const { organisationId, role, subjectKey } = call.user;
    const recipientKind = role === 'crew' ? ('person' as const) : ('partner' as const);
    return recordManagerAnswer(this.db, {
      ...answer,
      organisationId,
      subjectKind: subject.kind,
      subjectId: subject.id,
      actor: actorOf(call),
      now: this.clock.now(),
      mailDomain: mailDomain(this.config),
      ...(role === 'manager' || subjectKey === null
        ? {}
        : { byAccountOf: { kind: recipientKind, key: subjectKey } }),
    });
  }
}

/** The key of the person, customer or partner for whom the caller's account stands. */
function keyOf(call: Call): string {
  const { subjectKey } = call.user;
  if (subjectKey === null) throw new DryspellError('not-found');
  return subjectKey;
}
