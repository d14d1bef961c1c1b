import type { CompiledSeason } from '../compile/compiled-season.ts';
import { allOpen } from '../compile/resources.ts';
import type { SeasonPlan } from '../plan.ts';

const METHOD =
  'job by job: for each job the least of leaving it out and of any single open slot with its own cost, its nights, half of the shortest ' +
  'legs to and from it (whole legs from and to base), its cheapest casual hands, the paid lift days without mobilising, and its bay days at ' +
  'the lower rate; that crews, lifts, equipment and casual hands are at one place a day is left out';

/** A proven lower bound on the total of every valid plan of the problem; see `method` for what it leaves out. */
export function lowerBound(season: CompiledSeason): NonNullable<SeasonPlan['bound']> {
  let cents = 0;
  for (let job = 0; job < season.jobCount; job += 1) {
    let least = season.jobs[job]!.mandatory ? Number.POSITIVE_INFINITY : outCents(season, job);
    for (let crew = 0; crew < season.crewCount; crew += 1)
      least = Math.min(least, bestSlotCents(season, crew, job, least));
    cents += least;
  }
  // km are rounded once for each crew, which can take off half a cent.
  return { cents: Math.max(0, Math.floor(cents - season.crewCount * 0.5 - 1e-6)), method: METHOD };
}

function bayRate(season: CompiledSeason, job: number): number {
  const { warehouse, bays } = season.jobs[job]!;
  if (warehouse < 0) return 0;
  const { bayDayCents, overflowCents } = season.warehouses[warehouse]!;
  return bays * Math.min(bayDayCents, overflowCents);
}

function outCents(season: CompiledSeason, job: number): number {
  const { bayFrom, notPlannedCents } = season.jobs[job]!;
  return notPlannedCents + Math.max(0, season.dayCount - bayFrom) * bayRate(season, job);
}

function bestSlotCents(season: CompiledSeason, crew: number, job: number, atMost: number): number {
  const { slots, jobs, crews, covers } = season;
  const facts = jobs[job]!;
  const row = (crew * season.jobCount + job) * season.dayCount;
  const way = wayCents(season, crew, job);
  const rate = bayRate(season, job);
  let least = atMost;
  for (let start = 0; start < season.dayCount; start += 1) {
    const slot = row + start;
    if (slots.bar[slot] !== 0) continue;
    let cents = slots.ownCents[slot]! + way + (slots.release[slot]! - start) * crews[crew]!.nightCents;
    cents += covers[slots.cover[slot]!]!.cents[0] ?? Number.POSITIVE_INFINITY;
    if (facts.warehouse >= 0) cents += Math.max(0, facts.dispatch[start]! - facts.bayFrom) * rate;
    if (facts.liftType >= 0 && cents < least) cents += liftCents(season, crew, job, start, slot);
    if (cents < least) least = cents;
  }
  return least;
}

function liftCents(season: CompiledSeason, crew: number, job: number, start: number, slot: number): number {
  const from = season.slots.liftFrom[slot]!;
  let least = Number.POSITIVE_INFINITY;
  for (const unit of season.jobs[job]!.liftUnits) {
    const lift = season.lifts[unit]!;
    if (!allOpen(lift.availableBefore, from, season.slots.liftHeldTo[slot]!)) continue;
    const standby = Math.round(
      season.jobs[job]!.lostDays[start]! * (season.crews[crew]!.standbyDayCents + lift.dayCents),
    );
    least = Math.min(least, standby + lift.dayCents * (season.slots.liftPaidTo[slot]! - from + 1));
  }
  return least;
}

/**
 * Least cost of getting to a site and away: from and to base the whole leg with its nights, from and to another site half of it, the
 * other half being that site's.
 */
function wayCents(season: CompiledSeason, crewIndex: number, job: number): number {
  const crew = season.crews[crewIndex]!;
  const { placeCount, jobs } = season;
  const site = jobs[job]!.site;
  const leg = (from: number, to: number): number => {
    const at = from * placeCount + to;
    return crew.legCents[at]! + crew.nightCents * crew.travelDays[at]!;
  };
  let to = leg(crew.base, site);
  let from = leg(site, crew.base);
  for (let other = 0; other < jobs.length; other += 1) {
    if (other === job) continue;
    // Between two visits lies at least one night more than travel days.
    to = Math.min(to, (leg(jobs[other]!.site, site) + crew.nightCents) / 2);
    from = Math.min(from, (leg(site, jobs[other]!.site) + crew.nightCents) / 2);
  }
  return to + from;
}
