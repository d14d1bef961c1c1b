import type { StoredPlan } from '../../../../libs/data/src/plan.repository.ts';
import { toLocalDate } from '../../../../libs/kernel/src/index.ts';
import type { Binding } from '../../../../libs/season/src/plan.ts';

/** A stored plan with dates, as the interface shows it. */
export function planView(plan: StoredPlan, currency: string, seasonChangesSince: number) {
  const { content, ...info } = plan;
  return {
    ...info,
    currency,
    visits: content.visits.map((visit) => ({
      ...visit,
      days: visit.days.map(toLocalDate),
      reserve: visit.reserve.map(toLocalDate),
      deliveryDay: visit.deliveryDay === null ? null : toLocalDate(visit.deliveryDay),
      bindings: visit.bindings.map(dated),
    })),
    notPlanned: content.notPlanned.map((row) => ({ job: row.job, bindings: row.bindings.map(dated) })),
    costLines: content.costLines,
    odds: plan.odds ?? null,
    seasonChangesSince,
  };
}

/** Days in the planner are numbers; people read dates. */
function dated({ kind, data }: Binding) {
  const { day } = data;
  return { kind, data: typeof day === 'number' ? { ...data, day: toLocalDate(day) } : { ...data } };
}
