/** Rule 1, the days of a visit, and rule 2, its reserve. */
import type { CrewSeason } from './crew-season.ts';
import { counted, dateText, type Findings } from './findings.ts';
import type { SeasonFacts } from './season-facts.ts';
import { daysOf, type VisitFacts } from './visit-facts.ts';

export function checkDays(visit: VisitFacts, facts: SeasonFacts, findings: Findings): void {
  const { job, crew, siteDays, siteDayCount } = visit;
  if (!facts.on(crew.works, visit.start)) {
    const message = `Job ${job.id}: it starts on ${dateText(visit.start)}, on which crew ${crew.id} does not work.`;
    findings.add(1, 'notWorkingDay', { job: job.id, day: visit.start }, message);
  }
  if (siteDays.length < siteDayCount) {
    const message =
      `Job ${job.id}: it needs ${counted(siteDayCount, 'site day')} from ${dateText(visit.start)}, ` +
      `crew ${crew.id} has ${siteDays.length} left in the season.`;
    findings.add(1, 'outsideHorizon', { job: job.id, day: visit.start }, message, {
      needed: siteDayCount,
      left: siteDays.length,
    });
  } else compare(1, 'siteDays', 'site day', visit, visit.stated.days, siteDays, findings);

  for (let k = 1; k < siteDays.length; k += 1) {
    const day = siteDays[k] as number;
    const gapDays = day - (siteDays[k - 1] as number) - 1;
    if (gapDays === 0) continue;
    const at = { job: job.id, day };
    if (job.pattern[k]?.outside !== false) {
      const message =
        `Job ${job.id}: site day ${k + 1} on ${dateText(day)} is outside work, ` +
        `${counted(gapDays, 'non-working day')} before it; no gap is allowed there.`;
      findings.add(1, 'gapBeforeOutsideDay', at, message, { gapDays });
    } else if (!(gapDays <= job.maxGapDays)) {
      const message =
        `Job ${job.id}: before site day ${k + 1} on ${dateText(day)} lie ${counted(gapDays, 'non-working day')}, ` +
        `at most ${job.maxGapDays} are allowed.`;
      findings.add(1, 'gapTooLong', at, message, { gapDays, maxGapDays: job.maxGapDays });
    }
  }
}

export function checkReserve(visit: VisitFacts, findings: Findings): void {
  const { job, crew, reserveDays, reserveDayCount } = visit;
  if (visit.siteDays.length === visit.siteDayCount && reserveDays.length < reserveDayCount) {
    const message =
      `Job ${job.id}: it needs ${counted(reserveDayCount, 'reserve day')} after ${dateText(visit.lastSiteDay)}, ` +
      `crew ${crew.id} has ${reserveDays.length} left in the season.`;
    findings.add(2, 'outsideHorizon', { job: job.id, day: visit.lastSiteDay }, message, {
      needed: reserveDayCount,
      left: reserveDays.length,
    });
  } else compare(2, 'reserveDays', 'reserve day', visit, visit.stated.reserve, reserveDays, findings);
}

function compare(
  rule: 1 | 2,
  code: string,
  noun: string,
  visit: VisitFacts,
  stated: readonly number[],
  needed: readonly number[],
  findings: Findings,
): void {
  const job = visit.job.id;
  if (stated.length !== needed.length) {
    const message = `Job ${job}: ${counted(stated.length, noun)} are written, ${needed.length} are needed.`;
    findings.add(rule, code, { job }, message, { written: stated.length, needed: needed.length });
  }
  needed.forEach((day, k) => {
    const written = stated[k];
    if (written === undefined || written === day) return;
    const message = `Job ${job}: ${noun} ${k + 1} is written as ${dateText(written)}, it is ${dateText(day)}.`;
    findings.add(rule, code, { job, day }, message, { number: k + 1 });
  });
}

/** Rule 2: nothing else of the crew (site, reserve or travel day) lies in a visit's reserve days. */
export function checkReserveIsFree(season: CrewSeason, facts: SeasonFacts, findings: Findings): void {
  const uses = usesByDay(season, facts);
  for (const visit of season.visits) {
    for (const day of visit.reserveDays) {
      for (const use of uses.get(day) ?? []) {
        if (use.visit === visit) continue;
        const message =
          `Job ${visit.job.id}: ${dateText(day)} is held back in reserve, ` +
          `but crew ${season.crew.id} has a ${use.what} for job ${use.visit.job.id} on it.`;
        findings.add(2, 'reserveTaken', { job: visit.job.id, day }, message, {
          byJob: use.visit.job.id,
          what: use.what,
        });
      }
    }
  }
}

interface Use {
  readonly visit: VisitFacts;
  readonly what: 'site day' | 'reserve day' | 'travel day';
}

/**
 * What the crew does on each day. Of travel days only those that have a fixed place are known: from base to a tour's
 * first site and back from its last. Those between two sites are counted by rule 5.
 */
function usesByDay(season: CrewSeason, facts: SeasonFacts): Map<number, Use[]> {
  const uses = new Map<number, Use[]>();
  const add = (day: number, use: Use): void => {
    uses.set(day, [...(uses.get(day) ?? []), use]);
  };
  const addTravel = (visit: VisitFacts, from: number, to: number): void => {
    const span = { from: Math.max(from, facts.problem.firstDay), to: Math.min(to, facts.problem.lastDay) };
    for (const day of daysOf(span)) add(day, { visit, what: 'travel day' });
  };
  for (const visit of season.visits) {
    for (const day of visit.siteDays) add(day, { visit, what: 'site day' });
    for (const day of visit.reserveDays) add(day, { visit, what: 'reserve day' });
  }
  for (const tour of season.tours) {
    const first = tour.visits[0] as VisitFacts;
    const last = tour.visits.at(-1) as VisitFacts;
    addTravel(first, tour.departure, first.start - 1);
    addTravel(last, last.release + 1, tour.return);
  }
  return uses;
}
