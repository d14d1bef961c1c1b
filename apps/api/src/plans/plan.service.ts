import { Inject, Injectable } from '@nestjs/common';
import type { Database } from '../../../../libs/data/src/database.ts';
import { countSeasonChanges } from '../../../../libs/data/src/listing/season-changes.ts';
import {
  discardPlan,
  getPlan,
  getPlanDifference,
  getPublishedPlan,
  listPlans,
  type PlanInfo,
} from '../../../../libs/data/src/plan.repository.ts';
import { comparePlans } from '../../../../libs/data/src/plan-difference.ts';
import { type PublishReport, publishPlan } from '../../../../libs/data/src/publish.repository.ts';
import { getSeason, type SeasonInfo } from '../../../../libs/data/src/season.repository.ts';
import { exportSeason } from '../../../../libs/data/src/season-export.repository.ts';
import { changeRow, findRow, type StoredRow } from '../../../../libs/data/src/season-rows.repository.ts';
import { templatesOfJob, visitPattern } from '../../../../libs/intake/src/index.ts';
import { type Clock, DryspellError } from '../../../../libs/kernel/src/index.ts';
import type { SeasonProblem } from '../../../../libs/season/src/problem.ts';
import type { ApiConfig } from '../config.ts';
import { actorOf } from '../data/acting.ts';
import { DATABASE } from '../data/database.token.ts';
import type { Call } from '../frame/call.ts';
import { mailDomain } from '../public-address.ts';
import { API_CONFIG, CLOCK } from '../tokens.ts';
import { planView } from './plan-view.ts';

interface Publishing {
  readonly season: string;
  readonly planId: string;
  readonly version: number;
  readonly seasonChangesSeen: number;
}

interface Pinning {
  readonly start: string | null;
  readonly crew: string | null;
  readonly reason: string | null;
}

/** Plans: drafts looked at, published, put away; and the pins that the next plan must keep. */
@Injectable()
export class PlanService {
  constructor(
    @Inject(API_CONFIG) private readonly config: ApiConfig,
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
  ) {}

  async list(season: string, call: Call): Promise<PlanInfo[]> {
    return listPlans(this.db, (await this.season(season, call)).id);
  }

  async get(seasonKey: string, planId: string, call: Call) {
    const season = await this.season(seasonKey, call);
    const plan = await getPlan(this.db, season.id, planId);
    return planView(plan, season.head.currency, await countSeasonChanges(this.db, season.id, planId));
  }

  /** For a published plan what publishing changed; for a draft what publishing it now would. */
  async difference(seasonKey: string, planId: string, call: Call) {
    const season = await this.season(seasonKey, call);
    const plan = await getPlan(this.db, season.id, planId);
    const stored = await getPlanDifference(this.db, planId);
    if (stored) return { ...stored.content, fromPlanId: stored.fromPlanId, toPlanId: planId };
    const published = await getPublishedPlan(this.db, season.id);
    const difference = comparePlans(published?.content ?? null, plan.content);
    return { ...difference, fromPlanId: published?.id ?? null, toPlanId: planId };
  }

  async publish(input: Publishing, call: Call): Promise<PublishReport> {
    const season = await this.season(input.season, call);
    await getPlan(this.db, season.id, input.planId);
    const changes = await countSeasonChanges(this.db, season.id, input.planId);
    if (changes !== input.seasonChangesSeen) {
      throw new DryspellError('state-conflict', {
        detail:
          'Rows of the season changed after this plan was drafted, so it was not checked against them. Plan again, or look at the ' +
          'changes and publish with seasonChangesSeen set to their number.',
        seasonChangesSince: changes,
      });
    }
    return publishPlan(this.db, {
      seasonId: season.id,
      planId: input.planId,
      version: input.version,
      problem: { jobs: await this.patterns(input.season, call) },
      actor: actorOf(call),
      now: this.clock.now(),
      linkSecret: this.config.secret,
      mailDomain: mailDomain(this.config),
    });
  }

  async discard(seasonKey: string, planId: string, version: number, call: Call): Promise<PlanInfo> {
    const season = await this.season(seasonKey, call);
    return discardPlan(this.db, { seasonId: season.id, planId, version, actor: actorOf(call) });
  }

  async pin(seasonKey: string, job: string, pin: Pinning | null, version: number, call: Call) {
    const season = await this.season(seasonKey, call);
    const target = { seasonId: season.id, table: 'jobs' as const };
    const found = await findRow(this.db, { ...target, key: { key: job } });
    if (!found) throw new DryspellError('not-found', { job });
    if (pin?.start && (pin.start < season.head.firstDay || pin.start > season.head.lastDay)) {
      throw new DryspellError('invalid-input', {
        faults: [
          {
            pointer: '/body/start',
            message: 'The day is outside the season.',
            expected: `a day from ${season.head.firstDay} to ${season.head.lastDay}`,
          },
        ],
      });
    }
    const changes = {
      pinnedStart: pin?.start ?? null,
      pinnedCrew: pin?.crew ?? null,
      pinReason: pin?.reason ?? null,
    };
    return pinOf(
      await changeRow(this.db, { ...target, id: found.id, version, changes, actor: actorOf(call) }),
    );
  }

  private async season(key: string, call: Call): Promise<SeasonInfo> {
    return getSeason(this.db, call.user.organisationId, key);
  }

  /** The site days of each job, which publishing writes down with its visit. */
  private async patterns(seasonKey: string, call: Call): Promise<SeasonProblem['jobs']> {
    const file = await exportSeason(this.db, call.user.organisationId, seasonKey);
    const jobs = file.jobs.map((job) => {
      const { templates, kitsWithout } = templatesOfJob(file, job);
      const pattern =
        templates.length > 0 && kitsWithout.length === 0 ? visitPattern(file, templates).siteDays : [];
      return { id: job.key, pattern };
    });
    // Publishing reads the patterns only; the rest of the problem is the planner's.
    return jobs as unknown as SeasonProblem['jobs'];
  }
}

function pinOf({ row, version }: StoredRow) {
  return {
    job: row['key'],
    start: row['pinnedStart'] ?? null,
    crew: row['pinnedCrew'] ?? null,
    reason: row['pinReason'] ?? null,
    version,
  };
}
