/** Rule 4: enough people with the right tickets, each at one place. */
import type { CasualHand, Hand } from '../problem.ts';
import { counted, dateText, type Findings } from './findings.ts';
import type { SeasonFacts } from './season-facts.ts';
import { overlap, type VisitFacts, wholeSpan } from './visit-facts.ts';

export function checkPeople(visit: VisitFacts, facts: SeasonFacts, findings: Findings): void {
  visit.siteDays.forEach((day, k) => {
    const present = peopleOn(visit, day, facts);
    const pattern = visit.job.pattern[k];
    const at = { job: visit.job.id, day };
    const where = `Job ${visit.job.id}: on ${dateText(day)}`;
    const are = present.length === 1 ? 'person is' : 'people are';
    if (!(present.length >= (pattern?.hands ?? Number.NaN))) {
      const message = `${where} ${present.length} ${are} present, ${pattern?.hands} are needed.`;
      findings.add(4, 'tooFewHands', at, message, {
        present: present.length,
        needed: pattern?.hands ?? Number.NaN,
      });
    }
    for (const need of pattern?.tickets ?? []) {
      const holders = present.filter((hand) => holds(hand, need.ticket, day)).length;
      if (holders >= need.count) continue;
      const message = `${where} ${counted(holders, 'person', 'people')} present with ticket ${need.ticket}, ${need.count} needed.`;
      findings.add(4, 'tooFewTickets', at, message, {
        ticket: need.ticket,
        present: holders,
        needed: need.count,
      });
    }
  });
  checkCasualHands(visit, facts, findings);
}

/** The crew's members who belong to it on the day and are available, and the visit's casual hands; each once. */
function peopleOn(visit: VisitFacts, day: number, facts: SeasonFacts): Hand[] {
  const present = new Map<string, Hand>();
  for (const member of visit.crew.members) {
    const hand = facts.hands.get(member.hand);
    if (hand && facts.on(member.belongs, day) && facts.on(hand.available, day)) present.set(hand.id, hand);
  }
  for (const id of visit.stated.casualHands) {
    const hand = facts.casualHands.get(id);
    if (hand && facts.on(hand.available, day)) present.set(hand.id, hand);
  }
  return [...present.values()];
}

function holds(hand: Hand, ticket: string, day: number): boolean {
  return hand.tickets.some((held) => held.ticket === ticket && held.validFrom <= day && day <= held.validTo);
}

function checkCasualHands(visit: VisitFacts, facts: SeasonFacts, findings: Findings): void {
  const at = { job: visit.job.id };
  const named = visit.stated.casualHands;
  for (const id of new Set(named)) {
    const data = { hand: id };
    const times = named.filter((other) => other === id).length;
    if (times > 1) {
      findings.add(4, 'casualTwice', at, `Job ${visit.job.id}: casual hand ${id} is named ${times} times.`, {
        ...data,
        times,
      });
    }
    if (facts.hands.has(id)) {
      const message = `Job ${visit.job.id}: regular hand ${id} is named as a casual hand.`;
      findings.add(4, 'regularAsCasual', at, message, data);
    }
    const hand = facts.casualHands.get(id);
    if (!hand) continue;
    const km = facts.km(hand.home, visit.job.site);
    if (!(km <= hand.rangeKm)) {
      const message = `Job ${visit.job.id}: casual hand ${id} lives ${km} km from the site, goes at most ${hand.rangeKm} km.`;
      findings.add(4, 'casualOutOfRange', at, message, { ...data, km, rangeKm: hand.rangeKm });
    }
    checkAvailable(visit, hand, facts, findings);
  }
}

function checkAvailable(visit: VisitFacts, hand: CasualHand, facts: SeasonFacts, findings: Findings): void {
  for (const day of visit.chain) {
    if (facts.on(hand.available, day)) continue;
    const message = `Job ${visit.job.id}: casual hand ${hand.id} is not available on ${dateText(day)}.`;
    findings.add(4, 'casualNotAvailable', { job: visit.job.id, day }, message, { hand: hand.id });
  }
}

/** A casual hand is held by one visit at a time, from w1 to w(n+m). */
export function checkCasualHandsOnce(
  visits: readonly VisitFacts[],
  facts: SeasonFacts,
  findings: Findings,
): void {
  for (const hand of facts.casualHands.keys()) {
    const holding = visits.filter((visit) => visit.stated.casualHands.includes(hand));
    for (const [index, first] of holding.entries()) {
      for (const second of holding.slice(index + 1)) {
        if (!overlap(wholeSpan(first), wholeSpan(second))) continue;
        const day = Math.max(first.start, second.start);
        const message =
          `Job ${first.job.id}: casual hand ${hand} is held from ${dateText(first.start)} to ${dateText(first.release)}, ` +
          `and by job ${second.job.id} from ${dateText(second.start)} to ${dateText(second.release)}.`;
        findings.add(4, 'casualHeldTwice', { job: first.job.id, day }, message, {
          hand,
          otherJob: second.job.id,
        });
      }
    }
  }
}

/** No hand belongs to two crews on one day; this lies in the problem and no plan can mend it. */
export function checkHandsInOneCrew(facts: SeasonFacts, findings: Findings): void {
  const { problem } = facts;
  for (const hand of facts.hands.keys()) {
    const crews = problem.crews.flatMap((crew) => {
      const masks = crew.members.filter((member) => member.hand === hand).map((member) => member.belongs);
      return masks.length === 0 ? [] : [{ id: crew.id, masks }];
    });
    if (crews.length < 2) continue;
    const twice: number[] = [];
    const clashing = new Set<string>();
    for (let day: number = problem.firstDay; day <= problem.lastDay; day += 1) {
      const on = crews.filter((crew) => crew.masks.some((mask) => facts.on(mask, day)));
      if (on.length < 2) continue;
      twice.push(day);
      for (const crew of on) clashing.add(crew.id);
    }
    if (twice.length === 0) continue;
    const day = twice[0] as number;
    const message =
      `Hand ${hand} belongs to crews ${[...clashing].join(' and ')} at once on ${counted(twice.length, 'day')}, ` +
      `first on ${dateText(day)}.`;
    findings.add(4, 'handInTwoCrews', { day }, message, { hand, days: twice.length });
  }
}
