/** The visits of one crew in the order of their starts, put together to tours. */
import type { Crew, PlaceId } from '../problem.ts';
import type { SeasonFacts } from './season-facts.ts';
import type { VisitFacts } from './visit-facts.ts';

export interface Tour {
  readonly visits: readonly VisitFacts[];
  readonly departure: number;
  readonly return: number;
  readonly legs: readonly Leg[];
}

export interface Leg {
  readonly from: PlaceId;
  readonly to: PlaceId;
  readonly km: number;
  readonly travelDays: number;
}

export interface CrewSeason {
  readonly crew: Crew;
  readonly visits: readonly VisitFacts[];
  readonly tours: readonly Tour[];
}

/** One entry for each crew of the problem that has visits. */
export function crewSeasons(visits: readonly VisitFacts[], facts: SeasonFacts): CrewSeason[] {
  return [...facts.crews.values()].flatMap((crew) => {
    const own = visits.filter((visit) => visit.crew === crew).sort((a, b) => a.start - b.start);
    return own.length === 0 ? [] : [{ crew, visits: own, tours: toursOf(crew, own, facts) }];
  });
}

function toursOf(crew: Crew, visits: readonly VisitFacts[], facts: SeasonFacts): Tour[] {
  const runs: VisitFacts[][] = [];
  for (const visit of visits) {
    const run = runs.at(-1);
    if (run && !visit.stated.fromBase) run.push(visit);
    else runs.push([visit]);
  }
  return runs.map((run) => {
    const stops = [crew.base, ...run.map((visit) => visit.job.site), crew.base];
    const legs = stops.slice(1).map((to, index) => {
      const from = stops[index] as PlaceId;
      return { from, to, km: facts.km(from, to), travelDays: facts.travelDays(crew, from, to) };
    });
    return {
      visits: run,
      departure: (run[0] as VisitFacts).start - (legs[0] as Leg).travelDays,
      return: (run.at(-1) as VisitFacts).release + (legs.at(-1) as Leg).travelDays,
      legs,
    };
  });
}
