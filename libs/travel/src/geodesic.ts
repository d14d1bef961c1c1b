import geodesic from 'geographiclib-geodesic';

/** A point on the earth, WGS 84, in degrees north and east. */
export interface GeoPoint {
  readonly lat: number;
  readonly lon: number;
}

/**
 * Shortest distance over the ellipsoid WGS 84 in kilometres, also between points nearly opposite each other.
 * Source: Karney, Algorithms for geodesics, J. Geodesy 87 (2013), by its own library.
 */
export function geodesicKm(from: GeoPoint, to: GeoPoint): number {
  return (geodesic.Geodesic.WGS84.Inverse(from.lat, from.lon, to.lat, to.lon).s12 as number) / 1000;
}
