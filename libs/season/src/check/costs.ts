/** Every cost line, from the visits alone. Sums are taken in order of time, so that the same figures come out everywhere. */
import type { CostKind, CostLine } from '../plan.ts';
import type { Job } from '../problem.ts';
import type { CrewSeason } from './crew-season.ts';
import { type Findings, shown } from './findings.ts';
import type { SeasonFacts } from './season-facts.ts';
import { dayOfChain, liftPatternDays, liftSpan, type VisitFacts } from './visit-facts.ts';

type Subject = Partial<Pick<CostLine, 'job' | 'crew' | 'lift' | 'warehouse'>>;

class Lines {
  private readonly lines = new Map<string, CostLine>();
  private readonly findings: Findings;

  constructor(findings: Findings) {
    this.findings = findings;
  }

  add(kind: CostKind, subject: Subject, cents: number): void {
    if (!Number.isFinite(cents)) {
      const message = `The cost ${kind} of ${shown(subject)} cannot be worked out from the problem.`;
      this.findings.add(0, 'costUnknown', subject.job ? { job: subject.job } : {}, message, { kind });
      return;
    }
    const line = { kind, job: null, crew: null, lift: null, warehouse: null, ...subject, cents };
    const name = lineName(line);
    this.lines.set(name, { ...line, cents: cents + (this.lines.get(name)?.cents ?? 0) });
  }

  all(): CostLine[] {
    return [...this.lines.values()].filter((line) => line.cents !== 0);
  }
}

/** What tells one cost line from another: its kind and its subject. */
export function lineName(line: Omit<CostLine, 'kind' | 'cents'> & { readonly kind: string }): string {
  const subjects = ['job', 'crew', 'lift', 'warehouse'] as const;
  return [line.kind, ...subjects.flatMap((noun) => (line[noun] === null ? [] : [noun, line[noun]]))].join(
    ' ',
  );
}

export function costLines(
  visits: readonly VisitFacts[],
  notPlanned: readonly Job[],
  crews: readonly CrewSeason[],
  facts: SeasonFacts,
  findings: Findings,
): CostLine[] {
  const lines = new Lines(findings);
  for (const visit of visits) {
    addLate(visit, lines);
    addStandby(visit, lines);
    addCasualHands(visit, facts, lines);
    addDisturbance(visit, facts, lines);
  }
  for (const job of notPlanned) {
    lines.add('notPlanned', { job: job.id }, job.notPlannedCents);
    if (job.published) {
      const cents = Math.round(facts.problem.disturbance.movedCents * nearWeight(job.published.start, facts));
      lines.add('moved', { job: job.id }, cents);
    }
  }
  for (const season of crews) addCrew(season, lines);
  addLiftHire(visits, facts, lines);
  addBays(visits, notPlanned, facts, lines);
  return lines.all();
}

function addLate(visit: VisitFacts, lines: Lines): void {
  const { job } = visit;
  if (job.promisedBy === null) return;
  lines.add('late', { job: job.id }, Math.max(0, visit.lastSiteDay - job.promisedBy) * job.lateCentsPerDay);
}

function addStandby(visit: VisitFacts, lines: Lines): void {
  const dayCents = visit.crew.standbyDayCents + (visit.lift ? visit.lift.dayCents : 0);
  lines.add(
    'standby',
    { job: visit.job.id, crew: visit.crew.id },
    Math.round(visit.expectedLostDays * dayCents),
  );
}

function addCasualHands(visit: VisitFacts, facts: SeasonFacts, lines: Lines): void {
  for (const id of new Set(visit.stated.casualHands)) {
    const hand = facts.casualHands.get(id);
    if (!hand) continue;
    const km = facts.km(hand.home, visit.job.site);
    const travelCents = Math.round(hand.travelFixedCents + hand.travelPerKmCents * 2 * km);
    lines.add('casualHands', { job: visit.job.id }, visit.siteDayCount * hand.dayCents + travelCents);
  }
}

function addDisturbance(visit: VisitFacts, facts: SeasonFacts, lines: Lines): void {
  const { job } = visit;
  if (!job.published) return;
  const { movedCents, movedPerDayCents, crewChangedCents } = facts.problem.disturbance;
  const movedDays = Math.abs(visit.start - job.published.start);
  if (movedDays > 0) {
    const cents = Math.round(
      (movedCents + movedPerDayCents * movedDays) * nearWeight(job.published.start, facts),
    );
    lines.add('moved', { job: job.id }, cents);
  }
  if (visit.crew.id !== job.published.crew) lines.add('crewChanged', { job: job.id }, crewChangedCents);
}

function nearWeight(publishedStart: number, facts: SeasonFacts): number {
  const { asOfDay, disturbance } = facts.problem;
  const nearness = 1 - (publishedStart - asOfDay) / disturbance.nearDays;
  return 1 + disturbance.nearFactor * Math.min(1, Math.max(0, nearness));
}

function addCrew({ crew, tours }: CrewSeason, lines: Lines): void {
  let km = 0;
  let nights = 0;
  let travelDays = 0;
  for (const tour of tours) {
    nights += tour.return - tour.departure;
    for (const leg of tour.legs) {
      km += leg.km;
      travelDays += leg.travelDays;
    }
  }
  lines.add('km', { crew: crew.id }, Math.round(crew.perKmCents * km));
  lines.add('nights', { crew: crew.id }, nights * crew.heads * crew.nightPerHeadCents);
  lines.add('travelDays', { crew: crew.id }, crew.dayCents * travelDays);
}

function addLiftHire(visits: readonly VisitFacts[], facts: SeasonFacts, lines: Lines): void {
  for (const lift of facts.lifts.values()) {
    const held = visits
      .flatMap((visit) => {
        const span = visit.lift === lift ? liftSpan(visit) : null;
        const needed = liftPatternDays(visit.job);
        return span && needed
          ? [{ site: visit.job.site, span, lastNeeded: dayOfChain(visit, needed.last) }]
          : [];
      })
      .sort((a, b) => a.span.from - b.span.from);
    const hires: (typeof held)[] = [];
    for (const entry of held) {
      const before = hires.at(-1)?.at(-1);
      if (before && entry.span.from <= before.span.to + 1) hires.at(-1)?.push(entry);
      else hires.push([entry]);
    }
    for (const hire of hires) {
      const stops = [lift.depot, ...hire.map((entry) => entry.site), lift.depot];
      let km = 0;
      stops.slice(1).forEach((to, index) => {
        km += facts.km(stops[index] as string, to);
      });
      const firstDay = hire[0]?.span.from as number;
      const lastDay = hire.at(-1)?.lastNeeded as number;
      const days = Math.max(lift.minDays, lastDay - firstDay + 1);
      const mobiliseCents = Math.round(lift.mobiliseFixedCents + lift.mobilisePerKmCents * km);
      lines.add('liftHire', { lift: lift.id }, mobiliseCents + lift.dayCents * days);
    }
  }
}

function addBays(
  visits: readonly VisitFacts[],
  notPlanned: readonly Job[],
  facts: SeasonFacts,
  lines: Lines,
): void {
  const { firstDay, lastDay } = facts.problem;
  const stays = [
    ...visits.map((visit) => {
      const { job, stated } = visit;
      // Without a delivery day (a violation of its own) the goods stay where they are.
      const left =
        stated.deliveryDay === null ? lastDay + 1 : stated.deliveryDay - (job.goods?.deliveryLeadDays ?? 0);
      return { goods: job.goods, to: Math.min(lastDay, left - 1) };
    }),
    ...notPlanned.map((job) => ({ goods: job.goods, to: lastDay as number })),
  ];
  for (const warehouse of facts.warehouses.values()) {
    const used = new Map<number, number>();
    for (const { goods, to } of stays) {
      if (goods?.warehouse !== warehouse.id) continue;
      for (let day = Math.max(goods.goodsFrom, firstDay); day <= to; day += 1) {
        used.set(day, (used.get(day) ?? 0) + goods.bays);
      }
    }
    let inside = 0;
    let over = 0;
    for (const bays of used.values()) {
      inside += Math.min(bays, warehouse.bays);
      over += Math.max(0, bays - warehouse.bays);
    }
    lines.add('bays', { warehouse: warehouse.id }, inside * warehouse.bayDayCents);
    lines.add('bayOverflow', { warehouse: warehouse.id }, over * warehouse.overflowBayDayCents);
  }
}
