import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import * as endpoints from '../../../../libs/contracts/src/http/plans.ts';
import type { PlanInfo } from '../../../../libs/data/src/plan.repository.ts';
import { Bind } from '../frame/bind.decorator.ts';
import type { Call } from '../frame/call.ts';
import { Cursors } from '../frame/cursor.ts';
import { Paging } from '../frame/paging.ts';
import { PlanService } from './plan.service.ts';

@Controller()
export class PlanController {
  constructor(
    @Inject(PlanService) private readonly plans: PlanService,
    @Inject(Cursors) private readonly cursors: Cursors,
  ) {}

  @Bind(endpoints.listPlans)
  async list(input: InputOf<typeof endpoints.listPlans>, call: Call) {
    const paging = new Paging<{ number: number }>(this.cursors, call);
    const { status } = input.query;
    const below = paging.after?.number ?? Number.POSITIVE_INFINITY;
    const rows = (await this.plans.list(input.params.season, call)).filter(
      (plan) => plan.number < below && (status === undefined || plan.status === status),
    );
    return paging.page(
      rows,
      (plan: PlanInfo) => plan,
      ({ number }) => ({ number }),
    );
  }

  @Bind(endpoints.getPlan)
  get(input: InputOf<typeof endpoints.getPlan>, call: Call) {
    return this.plans.get(input.params.season, input.params.planId, call);
  }

  @Bind(endpoints.getPlanDifference)
  difference(input: InputOf<typeof endpoints.getPlanDifference>, call: Call) {
    return this.plans.difference(input.params.season, input.params.planId, call);
  }

  @Bind(endpoints.publishPlan)
  publish(input: InputOf<typeof endpoints.publishPlan>, call: Call) {
    return this.plans.publish({ ...input.params, ...input.body, version: input.version }, call);
  }

  @Bind(endpoints.discardPlan)
  discard(input: InputOf<typeof endpoints.discardPlan>, call: Call) {
    return this.plans.discard(input.params.season, input.params.planId, input.version, call);
  }

  @Bind(endpoints.putPin)
  pin(input: InputOf<typeof endpoints.putPin>, call: Call) {
    return this.plans.pin(input.params.season, input.params.job, input.body, input.version, call);
  }

  @Bind(endpoints.removePin)
  unpin(input: InputOf<typeof endpoints.removePin>, call: Call) {
    return this.plans.pin(input.params.season, input.params.job, null, input.version, call);
  }
}
