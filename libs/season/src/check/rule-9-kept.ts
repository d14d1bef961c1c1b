/** Rule 9: pins and frozen days. */
import type { Job } from '../problem.ts';
import { dateText, type Findings } from './findings.ts';
import type { SeasonFacts } from './season-facts.ts';
import type { StatedPlan } from './stated-plan.ts';

/** Reads the visits as they are written, so that a visit which breaks other rules is still held against its pin. */
export function checkKept(plan: StatedPlan, facts: SeasonFacts, findings: Findings): void {
  for (const job of facts.jobs.values()) {
    const visits = plan.visits.filter((visit) => visit.job === job.id);
    const frozen = isFrozen(job, facts);
    if (visits.length === 0) {
      const why = job.pin ? 'it is pinned' : frozen ? 'its published start is frozen' : null;
      if (why)
        findings.add(
          9,
          job.pin ? 'pinNotPlanned' : 'frozenNotPlanned',
          { job: job.id },
          `Job ${job.id}: ${why}, but it is not planned.`,
        );
    }
    for (const visit of visits) {
      const start = visit.days[0] ?? Number.NaN;
      if (job.pin) compare(job, 'pin', 'pinned', job.pin.start, job.pin.crew, start, visit.crew, findings);
      if (frozen && job.published) {
        compare(
          job,
          'frozen',
          'frozen',
          job.published.start,
          job.published.crew,
          start,
          visit.crew,
          findings,
        );
      }
      checkFrozenDays(job, frozen, start, facts, findings);
    }
  }
}

function isFrozen(job: Job, facts: SeasonFacts): boolean {
  const { frozenUntil } = facts.problem;
  return frozenUntil !== null && job.published !== null && job.published.start <= frozenUntil;
}

function compare(
  job: Job,
  code: 'pin' | 'frozen',
  word: string,
  start: number | null,
  crew: string | null,
  plannedStart: number,
  plannedCrew: string,
  findings: Findings,
): void {
  if (start !== null && plannedStart !== start) {
    const message = `Job ${job.id}: its start is ${word} on ${dateText(start)}, it is planned on ${dateText(plannedStart)}.`;
    findings.add(9, `${code}Start`, { job: job.id, day: plannedStart }, message);
  }
  if (crew !== null && plannedCrew !== crew) {
    const message = `Job ${job.id}: its crew is ${word} as ${crew}, it is planned with ${plannedCrew}.`;
    findings.add(9, `${code}Crew`, { job: job.id, day: plannedStart }, message, { crew, plannedCrew });
  }
}

function checkFrozenDays(
  job: Job,
  frozen: boolean,
  start: number,
  facts: SeasonFacts,
  findings: Findings,
): void {
  const { frozenUntil } = facts.problem;
  if (frozen || frozenUntil === null || start > frozenUntil || Number.isNaN(start)) return;
  const message =
    `Job ${job.id}: it starts on ${dateText(start)}; the days up to ${dateText(frozenUntil)} are frozen ` +
    'and it was not published on one of them.';
  findings.add(9, 'frozenDayTaken', { job: job.id, day: start }, message);
}
