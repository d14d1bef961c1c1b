import { Controller, Inject } from '@nestjs/common';
import * as endpoints from '../../../../libs/contracts/src/http/briefs.ts';
import type { InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import { makeBrief } from '../../../../libs/data/src/brief/make-brief.ts';
import { listBriefs } from '../../../../libs/data/src/brief/visit-brief.repository.ts';
import { visitByName } from '../../../../libs/data/src/brief/visit-by-name.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { briefCore } from '../../../../libs/intake/src/index.ts';
import { type Clock, DryspellError } from '../../../../libs/kernel/src/index.ts';
import { DATABASE } from '../data/database.token.ts';
import { Bind } from '../frame/bind.decorator.ts';
import type { Call } from '../frame/call.ts';
import { CLOCK } from '../tokens.ts';
import { scopeOf } from '../visits/visit.service.ts';

/** Go or hold for a visit, as it stands and as it was sent. */
@Controller()
export class BriefController {
  constructor(
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
  ) {}

  @Bind(endpoints.getBrief)
  async get(input: InputOf<typeof endpoints.getBrief>, call: Call) {
    const visitId = await visitByName(this.db, scopeOf(call), {
      season: input.params.season,
      name: input.params.visit,
    });
    const { role, subjectKey } = call.user;
    if (role === 'crew') await this.mustLead(visitId, subjectKey);
    const { brief } = await makeBrief(this.db, briefCore, { visitId, now: this.clock.now() });
    return brief;
  }

  @Bind(endpoints.listBriefs)
  async list(input: InputOf<typeof endpoints.listBriefs>, call: Call) {
    const { organisationId } = call.user;
    const { season, visit } = input.params;
    const visitId = await visitByName(this.db, scopeOf(call), { season, name: visit });
    const kept = await listBriefs(this.db, { organisationId, visitId });
    return {
      items: kept.map(({ id, kind, day, turnedFrom, madeAt, brief }) => ({
        ...{ id, kind, day, turnedFrom, madeAt, brief },
      })),
    };
  }

  /** Costs are in it: of the crew only the lead of the visit reads it. */
  private async mustLead(visitId: string, person: string | null): Promise<void> {
    const led = await this.db.client.assignment.count({
      where: { visitId, person: person ?? '', role: 'lead', state: { in: ['asked', 'accepted'] } },
    });
    if (led === 0) throw new DryspellError('not-found', { visit: visitId });
  }
}
