/** Each job exactly once; every id that a visit names exists. */
import { hashOf } from '../../../kernel/src/index.ts';
import { counted, type Findings, shown } from './findings.ts';
import type { SeasonFacts } from './season-facts.ts';
import type { StatedPlan } from './stated-plan.ts';

export function checkListing(plan: StatedPlan, facts: SeasonFacts, findings: Findings): void {
  const seen = new Map<string, number>();
  for (const job of [...plan.visits.map((visit) => visit.job), ...plan.notPlanned]) {
    seen.set(job, (seen.get(job) ?? 0) + 1);
  }
  for (const job of facts.jobs.keys()) {
    const times = seen.get(job) ?? 0;
    if (times === 1) continue;
    const message =
      times === 0
        ? `Job ${job}: it is neither in visits nor in notPlanned.`
        : `Job ${job}: it is listed ${counted(times, 'time')} in visits and notPlanned, once is needed.`;
    findings.add(0, times === 0 ? 'jobMissing' : 'jobTwice', { job }, message, { times });
  }
  for (const job of new Set(plan.notPlanned)) {
    if (!facts.jobs.has(job)) {
      findings.add(0, 'unknownJob', { job }, `notPlanned names job ${job}, which the problem does not hold.`);
    }
  }
  for (const visit of plan.visits) {
    const unknown = (noun: string, id: string): void =>
      findings.add(
        0,
        'unknownId',
        { job: visit.job },
        `Job ${visit.job}: its ${noun} ${id} is not in the problem.`,
        { id },
      );
    if (visit.liftUnit !== null && !facts.lifts.has(visit.liftUnit)) unknown('lift', visit.liftUnit);
    for (const id of visit.equipment) if (!facts.equipment.has(id)) unknown('equipment unit', id);
    for (const id of visit.casualHands) {
      if (!facts.casualHands.has(id) && !facts.hands.has(id)) unknown('casual hand', id);
    }
  }
}

/** Whether the plan says that it was made for this very problem. */
export function checkProblemHash(plan: StatedPlan, facts: SeasonFacts, findings: Findings): void {
  let hash: string;
  try {
    hash = hashOf(facts.problem);
  } catch {
    findings.add(
      0,
      'problemHash',
      {},
      'The problem holds a number that JSON cannot hold, so the plan cannot be told to be of it.',
    );
    return;
  }
  if (plan.problemHash !== hash) {
    const message = `The plan was made for problem ${shown(plan.problemHash)}, this problem is "${hash}".`;
    findings.add(0, 'problemHash', {}, message, { expected: hash });
  }
}
