/** Rule 8: one usable unit of each kind, at one site at a time, with time to bring it from crew to crew. */
import { counted, dateText, type Findings } from './findings.ts';
import type { SeasonFacts } from './season-facts.ts';
import { daysOf, overlap, type VisitFacts, wholeSpan } from './visit-facts.ts';

export function checkEquipment(visit: VisitFacts, facts: SeasonFacts, findings: Findings): void {
  const { job } = visit;
  const at = { job: job.id };
  const units = visit.stated.equipment;
  for (const id of new Set(units)) {
    const times = units.filter((other) => other === id).length;
    if (times > 1) {
      const message = `Job ${job.id}: equipment unit ${id} is named ${times} times.`;
      findings.add(8, 'equipmentTwice', at, message, { unit: id, times });
    }
  }
  const named = [...new Set(units)].flatMap((id) => facts.equipment.get(id) ?? []);
  for (const kind of new Set([...job.equipmentKinds, ...named.map((unit) => unit.kind)])) {
    const needed = job.equipmentKinds.filter((other) => other === kind).length;
    const there = named.filter((unit) => unit.kind === kind).length;
    if (there === needed) continue;
    const message = `Job ${job.id}: ${counted(there, 'unit')} of equipment kind ${kind} named, ${needed} needed.`;
    findings.add(8, there < needed ? 'equipmentMissing' : 'equipmentNotNeeded', at, message, {
      kind,
      named: there,
      needed,
    });
  }
  for (const unit of named) {
    for (const day of daysOf(wholeSpan(visit))) {
      if (facts.on(unit.usable, day)) continue;
      const message = `Job ${job.id}: equipment unit ${unit.id} is held on ${dateText(day)}, on which it cannot be used.`;
      findings.add(8, 'equipmentNotUsable', { job: job.id, day }, message, { unit: unit.id });
    }
  }
}

export function checkEquipmentOnce(
  visits: readonly VisitFacts[],
  facts: SeasonFacts,
  findings: Findings,
): void {
  for (const unit of facts.equipment.keys()) {
    const holding = visits
      .filter((visit) => visit.stated.equipment.includes(unit))
      .sort((a, b) => a.start - b.start);
    for (const [index, first] of holding.entries()) {
      for (const second of holding.slice(index + 1)) {
        if (!overlap(wholeSpan(first), wholeSpan(second))) continue;
        const message =
          `Job ${first.job.id}: equipment unit ${unit} is held from ${dateText(first.start)} to ${dateText(first.release)}, ` +
          `and by job ${second.job.id} from ${dateText(second.start)} to ${dateText(second.release)}.`;
        findings.add(8, 'equipmentHeldTwice', { job: first.job.id, day: second.start }, message, {
          unit,
          otherJob: second.job.id,
        });
      }
      const next = holding[index + 1];
      if (next) checkHandOver(unit, first, next, facts, findings);
    }
  }
}

function checkHandOver(
  unit: string,
  from: VisitFacts,
  to: VisitFacts,
  facts: SeasonFacts,
  findings: Findings,
): void {
  if (from.crew === to.crew || overlap(wholeSpan(from), wholeSpan(to))) return;
  const travelDays = facts.travelDays(to.crew, from.job.site, to.job.site);
  const earliest = from.release + travelDays + 1;
  if (to.start >= earliest) return;
  const message =
    `Job ${to.job.id}: equipment unit ${unit} comes from job ${from.job.id} of crew ${from.crew.id}, released on ` +
    `${dateText(from.release)}, ${counted(travelDays, 'travel day')} away; ${dateText(earliest)} is the earliest, ` +
    `the start is ${dateText(to.start)}.`;
  findings.add(8, 'equipmentHandOver', { job: to.job.id, day: to.start }, message, {
    unit,
    previousJob: from.job.id,
    travelDays,
  });
}
