import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import * as endpoints from '../../../../libs/contracts/src/http/plans.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { pagePlanRuns } from '../../../../libs/data/src/listing/plan-run-page.ts';
import { getPublishedPlan } from '../../../../libs/data/src/plan.repository.ts';
import {
  getPlanRun,
  type PlanRun,
  requestPlanRun,
  requestStop,
} from '../../../../libs/data/src/plan-run.repository.ts';
import { getSeason, type SeasonInfo } from '../../../../libs/data/src/season.repository.ts';
import { type Clock, DryspellError, type Instant } from '../../../../libs/kernel/src/index.ts';
import { actorOf } from '../data/acting.ts';
import { DATABASE } from '../data/database.token.ts';
import { Bind } from '../frame/bind.decorator.ts';
import type { Call } from '../frame/call.ts';
import { Cursors } from '../frame/cursor.ts';
import { OpenStreams } from '../frame/open-streams.ts';
import { Paging } from '../frame/paging.ts';
import { Reply } from '../frame/reply.ts';
import { rowEvents } from '../frame/row-events.ts';
import { CLOCK } from '../tokens.ts';

@Controller()
export class PlanRunController {
  constructor(
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
    @Inject(Cursors) private readonly cursors: Cursors,
    @Inject(OpenStreams) private readonly streams: OpenStreams,
  ) {}

  @Bind(endpoints.requestPlanRun)
  async request(input: InputOf<typeof endpoints.requestPlanRun>, call: Call): Promise<Reply> {
    const season = await this.season(input.params.season, call);
    const published = await getPublishedPlan(this.db, season.id);
    const run = await requestPlanRun(this.db, {
      seasonId: season.id,
      kind: published ? 'replan' : 'plan',
      options: input.body,
      actor: actorOf(call),
    });
    const location = `/api/v1/seasons/${input.params.season}/plan-runs/${run.id}`;
    return Reply.json(202, run, { location });
  }

  @Bind(endpoints.listPlanRuns)
  async list(input: InputOf<typeof endpoints.listPlanRuns>, call: Call) {
    const season = await this.season(input.params.season, call);
    const paging = new Paging<{ createdAt: Instant; id: string }>(this.cursors, call);
    const rows = await pagePlanRuns(this.db, {
      seasonId: season.id,
      after: paging.after,
      limit: paging.limit,
    });
    return paging.page(
      rows,
      (run: PlanRun) => run,
      ({ createdAt, id }) => ({ createdAt, id }),
    );
  }

  @Bind(endpoints.getPlanRun)
  get(input: InputOf<typeof endpoints.getPlanRun>, call: Call): Promise<PlanRun> {
    return this.run(input.params, call);
  }

  @Bind(endpoints.stopPlanRun)
  async stop(input: InputOf<typeof endpoints.stopPlanRun>, call: Call): Promise<Reply> {
    const { id } = await this.run(input.params, call);
    const { organisationId } = call.user;
    const run = await requestStop(this.db, {
      organisationId,
      id,
      actor: actorOf(call),
      now: this.clock.now(),
    });
    return Reply.json(202, run);
  }

  @Bind(endpoints.planRunEvents)
  async events(input: InputOf<typeof endpoints.planRunEvents>, call: Call): Promise<Reply> {
    const first = await this.run(input.params, call);
    const { organisationId } = call.user;
    return rowEvents(call, {
      read: () => getPlanRun(this.db, organisationId, first.id),
      shown: ({ seasonId: _seasonId, attempts: _attempts, ...run }) => run,
      ending: this.streams.signal,
    });
  }

  private async season(key: string, call: Call): Promise<SeasonInfo> {
    return getSeason(this.db, call.user.organisationId, key);
  }

  /** The run, where it is of this season. */
  private async run(params: { season: string; runId: string }, call: Call): Promise<PlanRun> {
    const season = await this.season(params.season, call);
    const run = await getPlanRun(this.db, call.user.organisationId, params.runId);
    if (run.seasonId !== season.id) throw new DryspellError('not-found', { planRun: params.runId });
    return run;
  }
}
