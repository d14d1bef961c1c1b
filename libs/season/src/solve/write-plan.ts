import type { Day } from '../../../kernel/src/index.ts';
import { hashOf } from '../../../kernel/src/index.ts';
import { weatherColumn } from '../compile/jobs.ts';
import { visitDays } from '../compile/visit-days.ts';
import type { Binding, PlannedVisit, SeasonPlan } from '../plan.ts';
import { costLines } from './cost-lines.ts';
import type { PlanState } from './plan-state.ts';

export interface PlanStory {
  readonly bound: SeasonPlan['bound'];
  readonly made: SeasonPlan['made'];
  /** What binds each job, by job index: a planned one against an earlier start, the others against any. */
  readonly bindings: readonly (readonly Binding[])[];
}

/** Writes what the state holds as a season plan: visits in the order of their starts, jobs not planned, cost lines. */
export function writePlan(state: PlanState, story: PlanStory): SeasonPlan {
  const { season, placements } = state;
  const { problem } = season;
  const planned: number[] = [];
  for (let job = 0; job < season.jobCount; job += 1) if (placements.isPlanned(job)) planned.push(job);
  planned.sort(
    (a, b) =>
      placements.startOf[a]! - placements.startOf[b]! ||
      placements.crewOf[a]! - placements.crewOf[b]! ||
      a - b,
  );
  const lines = costLines(placements, state.holds.lifts, state.holds.bays);
  return {
    formatVersion: 1,
    problemHash: hashOf(problem),
    visits: planned.map((job) => visitOf(state, job, story.bindings[job] ?? [])),
    notPlanned: state
      .unplanned()
      .map((job) => ({ job: season.jobs[job]!.id, bindings: story.bindings[job] ?? [] })),
    costLines: lines,
    totalCents: lines.reduce((sum, line) => sum + line.cents, 0),
    bound: story.bound,
    made: story.made,
  };
}

function visitOf(state: PlanState, job: number, bindings: readonly Binding[]): PlannedVisit {
  const { season, placements } = state;
  const { problem } = season;
  const facts = problem.jobs[job]!;
  const crew = placements.crewOf[job]!;
  const start = placements.startOf[job]!;
  const reserve = weatherColumn(facts, problem, season.dayCount, 'reserveDays')[start]!;
  const days = visitDays(facts, season.crews[crew]!.works, start, reserve);
  const chain = typeof days === 'string' ? [] : days.chain;
  const calendar = chain.map((day) => (problem.firstDay + day) as Day);
  const lift = placements.liftOf[job]!;
  return {
    job: facts.id,
    crew: season.crews[crew]!.id,
    days: calendar.slice(0, facts.pattern.length),
    reserve: calendar.slice(facts.pattern.length),
    casualHands: [...placements.casualsOf[job]!].map((casual) => season.casuals[casual]!.id),
    liftUnit: lift < 0 ? null : season.lifts[lift]!.id,
    equipment: placements.unitsOf[job]!.map((unit) => season.equipment[unit]!.id),
    deliveryDay: facts.goods
      ? ((problem.firstDay + season.jobs[job]!.dispatch[start]! + facts.goods.deliveryLeadDays) as Day)
      : null,
    fromBase: placements.fromBase[job] === 1,
    bindings,
  };
}
