import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import * as endpoints from '../../../../libs/contracts/src/http/visits.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import {
  type AssignmentSummary,
  pageAssignments,
  pageVisits,
  type VisitSummary,
} from '../../../../libs/data/src/listing/visit-page.ts';
import { DATABASE } from '../data/database.token.ts';
import { Bind } from '../frame/bind.decorator.ts';
import type { Call } from '../frame/call.ts';
import { Cursors } from '../frame/cursor.ts';
import { Paging } from '../frame/paging.ts';
import { scopeOf, VisitService } from './visit.service.ts';

@Controller()
export class VisitController {
  constructor(
    @Inject(DATABASE) private readonly db: Database,
    @Inject(Cursors) private readonly cursors: Cursors,
    @Inject(VisitService) private readonly visits: VisitService,
  ) {}

  @Bind(endpoints.listVisits)
  async list(input: InputOf<typeof endpoints.listVisits>, call: Call) {
    const paging = new Paging<{ startDay: string; id: string }>(this.cursors, call);
    const { sort, limit: _limit, cursor: _cursor, ...filters } = input.query;
    const rows = await pageVisits(this.db, {
      ...scopeOf(call),
      ...filters,
      latestFirst: sort === '-startDay',
      after: paging.after,
      limit: paging.limit,
    });
    return paging.page(
      rows,
      (visit: VisitSummary) => visit,
      ({ startDay, id }) => ({ startDay, id }),
    );
  }

  @Bind(endpoints.getVisit)
  get(input: InputOf<typeof endpoints.getVisit>, call: Call) {
    return this.visits.get(input.params.visitId, call);
  }

  @Bind(endpoints.changeVisitState)
  change(input: InputOf<typeof endpoints.changeVisitState>, call: Call) {
    return this.visits.setState(input.params.visitId, input.body.state, input.version, call);
  }

  @Bind(endpoints.listAssignments)
  async assignments(input: InputOf<typeof endpoints.listAssignments>, call: Call) {
    const paging = new Paging<{ fromDay: string; id: string }>(this.cursors, call);
    const { organisationId, role, subjectKey } = call.user;
    const { season, person, state } = input.query;
    const rows = await pageAssignments(this.db, {
      organisationId,
      season,
      person: role === 'crew' ? (subjectKey ?? '') : person,
      state,
      after: paging.after,
      limit: paging.limit,
    });
    return paging.page(
      rows,
      (row: AssignmentSummary) => row,
      ({ fromDay, id }) => ({ fromDay, id }),
    );
  }
}
