import type { SeasonFile } from '../../../../libs/contracts/src/index.ts';
import { type PlanFile, toPlanFile } from '../../../../libs/contracts/src/plan-file.ts';
import { buildSeasonProblem, type IntakeWarning } from '../../../../libs/intake/src/index.ts';
import { DryspellError } from '../../../../libs/kernel/src/index.ts';
import { checkPlan, type SeasonPlan } from '../../../../libs/season/src/index.ts';
import { planBesideYardstick, type ThreadPlanOptions } from '../../../worker/src/threads/planner-pool.ts';
import { PlainError } from '../program/plain-error.ts';
import { withFigures } from '../season-input/figure-tables.ts';

export interface PlannedSeason {
  readonly plan: SeasonPlan;
  /** The plan with dates and names. */
  readonly planFile: PlanFile;
  readonly warnings: readonly IntakeWarning[];
  /** Cost of first come, first served, as the yardstick; null where that finds no plan. */
  readonly firstComeCents: number | null;
}

/**
 * Plans a season file in worker threads and has the independent checker look at the result. Throws PlainError when
 * pinned or frozen jobs cannot be kept together, `plan-not-valid` when the checker finds a broken rule.
 */
export async function planSeasonFile(
  file: SeasonFile,
  today: string,
  options: Omit<ThreadPlanOptions, 'entry'>,
  say: (line: string) => void,
): Promise<PlannedSeason> {
  const { problem, warnings } = buildSeasonProblem(file, { today, windowTables: withFigures(file, {}, say) });
  const { outcome, firstComeCents } = await planBesideYardstick(problem, options);
  if (outcome.kind === 'refused') {
    const jobs = [...new Set(outcome.clashes.flatMap((clash) => clash.jobs))].join(', ');
    throw new PlainError(
      `the pinned or frozen dates of these jobs cannot all be kept: ${jobs}. Take a pin away and plan again.`,
    );
  }
  const { plan } = outcome;
  const check = checkPlan(problem, plan);
  if (!check.valid) {
    throw new DryspellError('plan-not-valid', { breaches: check.violations.map(({ message }) => message) });
  }
  return { plan, planFile: toPlanFile(plan, problem), warnings, firstComeCents };
}
