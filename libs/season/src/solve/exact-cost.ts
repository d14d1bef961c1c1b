import type { Placements } from './placements.ts';

/** Cost lines of one crew's legs and tours, whole cents. */
export interface RouteCents {
  readonly km: number;
  readonly nights: number;
  readonly travelDays: number;
}

/** What a crew's tours cost (README, lines `km`, `nights`, `travelDays`). */
export function routeCents(placements: Placements, crewIndex: number): RouteCents {
  const { season, startOf, fromBase } = placements;
  const crew = season.crews[crewIndex]!;
  const { placeCount } = season;
  let km = 0;
  let travelDays = 0;
  let nights = 0;
  const leg = (from: number, to: number): number => {
    const days = crew.travelDays[from * placeCount + to]!;
    km += season.km[from * placeCount + to]!;
    travelDays += days;
    return days;
  };
  let at = -1;
  let departure = 0;
  let released = 0;
  for (const job of placements.sequences[crewIndex]!) {
    const site = season.jobs[job]!.site;
    if (fromBase[job]) {
      if (at >= 0) nights += released + leg(at, crew.base) - departure;
      departure = startOf[job]! - leg(crew.base, site);
    } else {
      leg(at, site);
    }
    at = site;
    released = placements.releaseOf(job);
  }
  if (at >= 0) nights += released + leg(at, crew.base) - departure;
  return {
    km: Math.round(crew.perKmCents * km),
    nights: nights * crew.nightCents,
    travelDays: travelDays * crew.dayCents,
  };
}

/** Standby of a planned job (README, line `standby`). */
export function standbyCents(placements: Placements, job: number): number {
  const { season } = placements;
  const lift = placements.liftOf[job]!;
  const rate =
    season.crews[placements.crewOf[job]!]!.standbyDayCents + (lift >= 0 ? season.lifts[lift]!.dayCents : 0);
  return Math.round(season.jobs[job]!.lostDays[placements.startOf[job]!]! * rate);
}

/** Pay and travel of the casual hands of a planned job. */
export function casualCents(placements: Placements, job: number): number {
  const { season } = placements;
  const set = placements.casualsOf[job]!;
  if (set.length === 0) return 0;
  const list = season.covers[season.slots.cover[placements.slotOf(job)]!]!;
  const at = list.sets.indexOf(set);
  if (at >= 0) return list.cents[at]!;
  const key = set.join();
  return list.cents[list.sets.findIndex((other) => other.join() === key)]!;
}

/** What a job costs by itself: left out, or late, moved, crew changed, standby and casual hands. */
export function jobCents(placements: Placements, job: number): number {
  const { season } = placements;
  if (!placements.isPlanned(job)) return season.jobs[job]!.notPlannedCents;
  const own = season.slots.ownCents[placements.slotOf(job)]!;
  const withLift = season.jobs[job]!.liftType >= 0 ? standbyCents(placements, job) : 0;
  return own + withLift + casualCents(placements, job);
}
