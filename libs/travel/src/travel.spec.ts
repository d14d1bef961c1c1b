import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { estimateLeg, geodesicKm, travelMatrix } from './index.ts';

const point = fc.record({
  lat: fc.double({ min: -90, max: 90, noNaN: true }),
  lon: fc.double({ min: -180, max: 180, noNaN: true }),
});

describe('distance over the ellipsoid', () => {
  // Source: GeographicLib documentation and GeodSolve 2.x, WGS 84; tolerance 1 mm.
  it.each([
    [40.6, -73.8, 51.6, -0.5, 5551.7594],
    [-41.32, 174.81, 40.96, -5.5, 19959.679267],
    [0, 0, 0, 1, 111.3194908],
    [0, 0, 1, 0, 110.5743886],
    [0, 0, 90, 0, 10001.9657293],
    [0, 0, 0.5, 179.5, 19936.288579],
  ])('from %d, %d to %d, %d', (latA, lonA, latB, lonB, km) => {
    expect(Math.abs(geodesicKm({ lat: latA, lon: lonA }, { lat: latB, lon: lonB }) - km)).toBeLessThan(1e-6);
  });

  it('is the same both ways and never longer than half the way round', () => {
    fc.assert(
      fc.property(point, point, (a, b) => {
        expect(geodesicKm(a, b)).toBeCloseTo(geodesicKm(b, a), 6);
        expect(geodesicKm(a, b)).toBeLessThanOrEqual(20_004);
      }),
    );
  });
});

const places = [
  { id: 'yard', lat: 44.65, lon: -63.57 },
  { id: 'shore', lat: 45.65, lon: -63.57 },
  { id: 'island', lat: 47.56, lon: -52.71 },
];
const ferry = {
  from: 'yard',
  to: 'island',
  km: 890,
  driveMin: 660,
  waitMin: 480,
  source: 'ferry timetable, invented for this test',
};

describe('the travel matrix', () => {
  it('estimates a way from its distance, by road and at the stated speed', () => {
    // One degree of latitude at 45 degrees is 111.1 km: 144.5 km by road, 116 minutes at 75 km/h.
    const leg = estimateLeg(places[0]!, places[1]!);
    expect(leg).toMatchObject({ basis: 'estimated', source: null, waitMin: 0 });
    expect(leg.km).toBeCloseTo(144.5, 0);
    expect(leg.driveMin).toBe(116);
  });

  it('prefers a known way, in both directions unless the way back is given', () => {
    const { legs } = travelMatrix(places, [ferry]);
    expect(legs[0]?.[2]).toEqual({
      km: 890,
      driveMin: 660,
      waitMin: 480,
      basis: 'measured',
      source: ferry.source,
    });
    expect(legs[2]?.[0]).toEqual(legs[0]?.[2]);
    expect(legs[1]?.[2]?.basis).toBe('estimated');
    expect(legs[0]?.[0]?.basis).toBe('same');
    const back = travelMatrix(places, [ferry, { ...ferry, from: 'island', to: 'yard', driveMin: 700 }]);
    expect([back.legs[0]?.[2]?.driveMin, back.legs[2]?.[0]?.driveMin]).toEqual([660, 700]);
  });

  it('refuses an unknown place, a doubled way and impossible parameters', () => {
    const bad = expect.objectContaining({ code: 'invalid-input' });
    expect(() => travelMatrix(places, [{ ...ferry, to: 'moon' }])).toThrow(bad);
    expect(() => travelMatrix(places, [ferry, ferry])).toThrow(bad);
    expect(() => travelMatrix(places, [], { roadFactor: 0.5, speedKmh: 75, fixedMin: 0 })).toThrow(bad);
  });
});
