/** Rule 7: a lift of the right type, in range, there on each day for which it is held, at one site at a time. */
import { dateText, type Findings } from './findings.ts';
import type { SeasonFacts } from './season-facts.ts';
import { daysOf, liftSpan, overlap, type VisitFacts } from './visit-facts.ts';

export function checkLift(visit: VisitFacts, facts: SeasonFacts, findings: Findings): void {
  const { job, lift } = visit;
  const at = { job: job.id };
  const span = liftSpan(visit);
  if (!span) {
    if (visit.stated.liftUnit !== null) {
      const message = `Job ${job.id}: lift ${visit.stated.liftUnit} is written, no site day needs one.`;
      findings.add(7, 'liftNotNeeded', at, message, { lift: visit.stated.liftUnit });
    }
    return;
  }
  const types = [...new Set(job.pattern.flatMap((day) => (day.liftType === null ? [] : [day.liftType])))];
  if (types.length > 1) {
    const message = `Job ${job.id}: its site days need lifts of ${types.length} types (${types.join(', ')}), one type is allowed.`;
    findings.add(7, 'liftTypes', at, message);
  }
  if (visit.stated.liftUnit === null) {
    findings.add(7, 'liftMissing', at, `Job ${job.id}: it needs a ${types[0]}, no lift is written.`);
    return;
  }
  if (!lift) return;
  for (const type of types) {
    if (lift.type === type) continue;
    const message = `Job ${job.id}: lift ${lift.id} is a ${lift.type}, a ${type} is needed.`;
    findings.add(7, 'liftWrongType', at, message, { lift: lift.id });
  }
  const km = facts.km(lift.depot, job.site);
  if (!(km <= lift.rangeKm)) {
    const message = `Job ${job.id}: the depot of lift ${lift.id} is ${km} km from the site, it goes at most ${lift.rangeKm} km.`;
    findings.add(7, 'liftOutOfRange', at, message, { lift: lift.id, km, rangeKm: lift.rangeKm });
  }
  for (const day of daysOf(span)) {
    if (facts.on(lift.available, day)) continue;
    const message = `Job ${job.id}: lift ${lift.id} is held on ${dateText(day)}, on which it is not available.`;
    findings.add(7, 'liftNotAvailable', { job: job.id, day }, message, { lift: lift.id });
  }
}

export function checkLiftsOnce(visits: readonly VisitFacts[], facts: SeasonFacts, findings: Findings): void {
  for (const lift of facts.lifts.values()) {
    const held = visits.flatMap((visit) => {
      const span = visit.lift === lift ? liftSpan(visit) : null;
      return span ? [{ job: visit.job.id, span }] : [];
    });
    for (const [index, first] of held.entries()) {
      for (const second of held.slice(index + 1)) {
        if (!overlap(first.span, second.span)) continue;
        const message =
          `Job ${first.job}: lift ${lift.id} is held from ${dateText(first.span.from)} to ${dateText(first.span.to)}, ` +
          `and by job ${second.job} from ${dateText(second.span.from)} to ${dateText(second.span.to)}.`;
        const day = Math.max(first.span.from, second.span.from);
        findings.add(7, 'liftHeldTwice', { job: first.job, day }, message, {
          lift: lift.id,
          otherJob: second.job,
        });
      }
    }
  }
}
