import { DryspellError } from '../../kernel/src/index.ts';
import { type GeoPoint, geodesicKm } from './geodesic.ts';

/** Somewhere that people, goods or machines leave from or come to. */
export interface TravelPlace extends GeoPoint {
  readonly id: string;
}

/** A known way. It holds in both directions unless the way back is given too. */
export interface TravelOverride {
  readonly from: string;
  readonly to: string;
  readonly km: number;
  /** Time at the wheel, without rests. */
  readonly driveMin: number;
  /** Waiting that is not driving, such as a ferry. */
  readonly waitMin: number;
  /** Where the figures come from. */
  readonly source: string;
}

/** How a way is estimated where none is known. */
export interface TravelParams {
  /** Road kilometres for each kilometre as the crow flies. */
  readonly roadFactor: number;
  readonly speedKmh: number;
  /** Minutes that any way costs: loading up, getting out of town. */
  readonly fixedMin: number;
}

/** Common practice, no published source: roads are about 1.3 times as long as the crow flies, driven at 75 km/h with a trailer. */
export const DEFAULT_TRAVEL_PARAMS: TravelParams = { roadFactor: 1.3, speedKmh: 75, fixedMin: 0 };

/** One way, and how far it can be trusted. */
export interface TravelLeg {
  readonly km: number;
  readonly driveMin: number;
  readonly waitMin: number;
  /** `measured`: given with a source; `estimated`: from the distance; `same`: no way at all. */
  readonly basis: 'measured' | 'estimated' | 'same';
  readonly source: string | null;
}

/** Legs between every two places; `legs[i][j]` is from the i-th to the j-th. */
export interface TravelMatrix {
  readonly places: readonly string[];
  readonly legs: readonly (readonly TravelLeg[])[];
  readonly params: TravelParams;
}

/**
 * The way between two points by estimate: geodesic distance times the road factor, at the stated speed, minutes rounded up, km to
 * one decimal. It supposes that there is a road: it knows nothing of water, mountains or ferries, and makes none up. Such ways
 * belong among the overrides.
 */
export function estimateLeg(
  from: GeoPoint,
  to: GeoPoint,
  params: TravelParams = DEFAULT_TRAVEL_PARAMS,
): TravelLeg {
  const km = geodesicKm(from, to) * params.roadFactor;
  const driveMin = Math.ceil((km / params.speedKmh) * 60 + params.fixedMin - 1e-9);
  return { km: Math.round(km * 10) / 10, driveMin, waitMin: 0, basis: 'estimated', source: null };
}

/**
 * Legs between all places: the known ways where given, estimates elsewhere, each marked as which.
 * Throws `invalid-input` for an override that names an unknown place, two for one direction, or parameters that are not above zero.
 */
export function travelMatrix(
  places: readonly TravelPlace[],
  overrides: readonly TravelOverride[],
  params: TravelParams = DEFAULT_TRAVEL_PARAMS,
): TravelMatrix {
  if (!(params.roadFactor >= 1 && params.speedKmh > 0 && params.fixedMin >= 0)) {
    throw new DryspellError('invalid-input', {
      field: 'params',
      value: params,
      expected: 'roadFactor >= 1, speedKmh > 0, fixedMin >= 0',
    });
  }
  const ids = new Set(places.map((place) => place.id));
  const given = new Map<string, TravelOverride>();
  for (const override of overrides) {
    for (const id of [override.from, override.to]) {
      if (!ids.has(id))
        throw new DryspellError('invalid-input', { field: 'override', value: id, expected: 'a known place' });
    }
    const way = wayKey(override.from, override.to);
    if (given.has(way))
      throw new DryspellError('invalid-input', {
        field: 'override',
        value: [override.from, override.to],
        expected: 'one way for each direction',
      });
    given.set(way, override);
  }
  const legs = places.map((from) => places.map((to) => legBetween(from, to, given, params)));
  return { places: places.map((place) => place.id), legs, params };
}

function legBetween(
  from: TravelPlace,
  to: TravelPlace,
  given: ReadonlyMap<string, TravelOverride>,
  params: TravelParams,
): TravelLeg {
  if (from.id === to.id) return { km: 0, driveMin: 0, waitMin: 0, basis: 'same', source: null };
  const override = given.get(wayKey(from.id, to.id)) ?? given.get(wayKey(to.id, from.id));
  if (!override) return estimateLeg(from, to, params);
  const { km, driveMin, waitMin, source } = override;
  return { km, driveMin, waitMin, basis: 'measured', source };
}

function wayKey(from: string, to: string): string {
  return JSON.stringify([from, to]);
}
