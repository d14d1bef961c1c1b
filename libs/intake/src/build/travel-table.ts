import type { SeasonFile } from '../../../contracts/src/index.ts';
import type { CasualHand, Crew, LiftUnit, TravelTable } from '../../../season/src/problem.ts';
import { type TravelParams, type TravelPlace, travelMatrix } from '../../../travel/src/index.ts';
import { byKey } from '../tables.ts';
import { type IntakeWarning, warning } from '../warning.ts';

/** Who travels: only the places that they leave from or come to are in the table. */
export interface Travellers {
  readonly crews: readonly Crew[];
  readonly casualHands: readonly CasualHand[];
  readonly lifts: readonly LiftUnit[];
}

/**
 * Minutes and kilometres between crew bases, sites with jobs, homes of casual hands and lift depots. Minutes are the time that the way
 * takes: at the wheel and waiting, such as for a ferry; whether driving hours allow it is another check.
 */
export function buildTravelTable(
  file: SeasonFile,
  travellers: Travellers,
  params: TravelParams,
): { table: TravelTable; warnings: IntakeWarning[] } {
  const places = travelPlaces(file, travellers);
  const ids = new Set(places.map((place) => place.id));
  const overrides = file.travelOverrides
    .filter((row) => ids.has(row.fromPlace) && ids.has(row.toPlace) && row.fromPlace !== row.toPlace)
    .map((row) => ({
      from: row.fromPlace,
      to: row.toPlace,
      km: row.km,
      driveMin: row.driveMin,
      waitMin: row.waitMin ?? 0,
      source: row.source,
    }));
  const matrix = travelMatrix(places, overrides, params);
  const table = {
    places: matrix.places,
    driveMin: matrix.legs.map((row) => row.map((leg) => leg.driveMin + leg.waitMin)),
    distanceKm: matrix.legs.map((row) => row.map((leg) => leg.km)),
  };
  return { table, warnings: estimatedWays(file, matrix.legs, params) };
}

function travelPlaces(file: SeasonFile, { crews, casualHands, lifts }: Travellers): TravelPlace[] {
  const places = byKey(file.places);
  const sites = byKey(file.sites);
  const people = byKey(file.people);
  const liftRows = byKey(file.lifts);
  const found = new Map<string, TravelPlace>();
  const add = (id: string, lat: number | null | undefined, lon: number | null | undefined): void => {
    if (typeof lat === 'number' && typeof lon === 'number') found.set(id, { id, lat, lon });
  };
  for (const { base } of crews) add(base, places.get(base)?.lat, places.get(base)?.lon);
  for (const { site } of file.jobs) add(site, sites.get(site)?.lat, sites.get(site)?.lon);
  for (const { id, home } of casualHands) add(home, people.get(id)?.homeLat, people.get(id)?.homeLon);
  for (const { id, depot } of lifts) add(depot, liftRows.get(id)?.depotLat, liftRows.get(id)?.depotLon);
  return [...found.values()];
}

/** One warning for the ways of crews that are only estimated: they are the ones that make or break a tour. */
function estimatedWays(
  file: SeasonFile,
  legs: ReturnType<typeof travelMatrix>['legs'],
  params: TravelParams,
): IntakeWarning[] {
  let estimated = 0;
  let all = 0;
  legs.forEach((row, i) => {
    row.forEach((leg, j) => {
      if (i >= j) return;
      all += 1;
      if (leg.basis === 'estimated') estimated += 1;
    });
  });
  if (estimated === 0) return [];
  const message =
    `${estimated} of ${all} ways are estimated from the map (${params.roadFactor} times the distance at ${params.speedKmh} km/h), ` +
    'as if there were a road. Enter ways that lead over water or mountains as known ways.';
  return [warning('travel-estimated', 'season', file.season.key, message, { estimated, all })];
}
