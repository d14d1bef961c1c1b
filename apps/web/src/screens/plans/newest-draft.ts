import type { Schema } from '../../api/client.ts';

type Plan = Pick<Schema<'PlanInfo'>, 'number' | 'status'>;

/** The draft with the highest number, or null when there is none. */
export function newestDraft<Found extends Plan>(plans: readonly Found[]): Found | null {
  const drafts = plans.filter(({ status }) => status === 'draft');
  return drafts.reduce<Found | null>(
    (newest, plan) => (newest && newest.number > plan.number ? newest : plan),
    null,
  );
}
