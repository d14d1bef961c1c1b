import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import {
  checkLoadInWind,
  fewestHandsForLoad,
  gustAtHeightMps,
  LIFTING_CAUTIONS,
  LOAD_DRAG,
  loadWindLimit,
  type NioshLift,
  nioshLift,
  teamLift,
} from './index.ts';

const lift = (change: Partial<NioshLift>): NioshLift => ({
  load: 23,
  horizontal: 25,
  vertical: 75,
  verticalAtOrigin: null,
  travel: 25,
  asymmetryDeg: 0,
  liftsPerMin: 0.2,
  duration: 'short',
  coupling: 'good',
  ...change,
});

describe('the revised NIOSH lifting equation', () => {
  // Source: DHHS (NIOSH) 94-110, worked examples. "Full" values: multipliers without the rounding of the printed sheets. Example 4 was
  // checked against a transcription of the manual; examples 1 to 3 are values from memory of it, recomputed.
  it.each([
    [
      'example 4, package inspection, origin',
      { load: 26, horizontal: 10, vertical: 22, travel: 37, liftsPerMin: 3, coupling: 'fair' },
      34.81,
      0.75,
    ],
    [
      'example 4, destination',
      {
        load: 26,
        horizontal: 20,
        vertical: 59,
        verticalAtOrigin: 22,
        travel: 37,
        liftsPerMin: 3,
        coupling: 'fair',
      },
      15.25,
      1.7,
    ],
    [
      'example 1, punch press, origin',
      { load: 44, horizontal: 23, vertical: 15, travel: 48, coupling: 'fair' },
      16.03,
      2.74,
    ],
    [
      'example 1, destination',
      { load: 44, horizontal: 23, vertical: 63, verticalAtOrigin: 15, travel: 48, coupling: 'fair' },
      14.31,
      3.07,
    ],
    [
      'example 2, supply rolls, origin',
      { load: 35, horizontal: 15, vertical: 27, travel: 17, coupling: 'poor' },
      27.69,
      1.26,
    ],
    [
      'example 2, destination',
      { load: 35, horizontal: 20, vertical: 10, verticalAtOrigin: 27, travel: 17, coupling: 'poor' },
      18.06,
      1.94,
    ],
    [
      'example 3, bags into a hopper',
      { load: 40, horizontal: 18, vertical: 15, travel: 21, asymmetryDeg: 45, coupling: 'fair' },
      18.52,
      2.16,
    ],
  ] as [string, Partial<NioshLift>, number, number][])(
    '%s (pounds and inches)',
    (_name, change, limit, index) => {
      const result = nioshLift(lift(change), 'us');
      expect(Math.abs((result.limit as number) - limit)).toBeLessThan(0.005);
      // The index column was worked out from limits rounded to two decimals.
      expect(Math.abs((result.liftingIndex as number) - index)).toBeLessThan(0.006);
    },
  );

  it('says the same in kilograms and centimetres', () => {
    // Metric twin of example 4, from a solved textbook problem: 15.68 kg and 0.765; and the ideal lift and the far edge, recomputed.
    const twin = nioshLift(lift({ load: 12, vertical: 55, travel: 95, liftsPerMin: 3, coupling: 'fair' }));
    expect(twin.limit).toBeCloseTo(15.68, 2);
    expect(twin.liftingIndex).toBeCloseTo(0.765, 3);
    expect(nioshLift(lift({}))).toMatchObject({
      limit: 23,
      liftingIndex: 1,
      verdict: 'ok',
      limitingTerm: null,
    });
    const edge = nioshLift(lift({ load: 15, horizontal: 63, vertical: 175, travel: 175, asymmetryDeg: 135 }));
    expect(edge.limit).toBeCloseTo(3.069, 3);
    expect(edge).toMatchObject({ verdict: 'not ok', limitingTerm: 'HM' });
  });

  it('allows nothing beyond its limits', () => {
    for (const change of [
      { horizontal: 64 },
      { vertical: 176 },
      { travel: 176 },
      { asymmetryDeg: 136 },
      { liftsPerMin: 15.1 },
    ]) {
      expect(nioshLift(lift({ load: 1, ...change }))).toMatchObject({
        limit: 0,
        liftingIndex: Number.POSITIVE_INFINITY,
        verdict: 'not ok',
      });
    }
  });

  // Table 5 of the manual, and linear between its rows (p. 7).
  it.each([
    [0.1, 'short', 100, 1],
    [3, 'short', 50, 0.88],
    [9, 'long', 50, 0],
    [9, 'long', 75, 0.15],
    [12, 'moderate', 80, 0.21],
    [15, 'short', 80, 0.28],
    [5.33, 'short', 80, 0.8 - 0.33 * 0.05],
  ] as const)(
    'at %d lifts a minute, %s, hands at %d cm, FM is %d',
    (liftsPerMin, duration, vertical, multiplier) => {
      expect(nioshLift(lift({ liftsPerMin, duration, vertical })).multipliers?.FM).toBeCloseTo(
        multiplier,
        10,
      );
    },
  );

  it('cannot say when anything is unknown, whatever it is', () => {
    const names = [
      'load',
      'horizontal',
      'vertical',
      'travel',
      'asymmetryDeg',
      'liftsPerMin',
      'duration',
      'coupling',
    ] as const;
    for (const name of names) {
      expect(nioshLift(lift({ [name]: null }))).toMatchObject({
        verdict: 'cannot say',
        missing: [name],
        limit: null,
      });
    }
  });

  it('never allows more for a worse lift', () => {
    const amount = (max: number) => fc.double({ min: 0, max, noNaN: true });
    fc.assert(
      fc.property(
        amount(70),
        amount(190),
        amount(150),
        amount(16),
        (horizontal, travel, asymmetryDeg, liftsPerMin) => {
          const limit = (change: Partial<NioshLift>) =>
            nioshLift(lift({ horizontal, travel, asymmetryDeg, liftsPerMin, ...change })).limit as number;
          const here = limit({});
          expect(limit({ horizontal: horizontal + 5 })).toBeLessThanOrEqual(here);
          expect(limit({ travel: travel + 5 })).toBeLessThanOrEqual(here);
          expect(limit({ asymmetryDeg: asymmetryDeg + 5 })).toBeLessThanOrEqual(here);
          expect(limit({ liftsPerMin: liftsPerMin + 1 })).toBeLessThanOrEqual(here + 1e-12);
          expect(limit({ coupling: 'poor' })).toBeLessThanOrEqual(here);
        },
      ),
    );
  });
});

describe('lifting together', () => {
  // Source: HSE L23 paragraph 120; the first row is printed as "around 26.6" by a rail-infrastructure safety page.
  it.each([
    [[20, 20], 26.67],
    [[25, 25], 33.33],
    [[25, 16], 27.33],
    [[25, 25, 25], 37.5],
    [[20, 20, 20], 30],
    [[25], 25],
  ])('%p kg may be reckoned to lift %d kg', (capabilities, capacity) => {
    const result = teamLift(capacity - 0.1, capabilities);
    expect(Math.abs((result.capacityKg as number) - capacity)).toBeLessThan(0.1);
    expect(result.verdict).toBe('ok');
    expect(teamLift(capacity + 0.1, capabilities).verdict).toBe('not ok');
  });

  it('has no figure for four, for nobody and for the unknown', () => {
    expect(teamLift(10, [25, 25, 25, 25])).toMatchObject({
      verdict: 'cannot say',
      reason: 'assess-specifically',
      capacityKg: null,
    });
    expect(teamLift(10, [])).toMatchObject({ verdict: 'cannot say', reason: 'nobody' });
    expect(teamLift(null, [25])).toMatchObject({ verdict: 'cannot say', reason: 'unknown' });
    expect(teamLift(10, [25, null])).toMatchObject({ verdict: 'cannot say', reason: 'unknown' });
  });

  it('says how few people will do', () => {
    expect([20, 30, 36, 40, null].map((mass) => fewestHandsForLoad(mass, 25))).toEqual([1, 2, 3, null, null]);
  });
});

describe('a large load in the wind', () => {
  // Sources in turn: FEM 5.016 example (printed 7); a crane maker's training booklet (9, capped; printed 5.9); recomputed.
  it.each([
    [9, 50, 100, 6.97, 'load-area'],
    [9, 85, 60, 9, 'machine'],
    [11.1, 65, 280, 5.86, 'load-area'],
    [9, 10, 24, 6.364, 'load-area'],
  ])(
    'rated %d m/s, %d t, %d m2 with drag: %d m/s',
    (ratedGustMps, tonnes, areaWithDrag, limit, limitingTerm) => {
      const result = loadWindLimit({ ratedGustMps, massKg: tonnes * 1000, areaM2: areaWithDrag, drag: 1 });
      expect(Math.abs((result.limitMps as number) / limit - 1)).toBeLessThan(0.005);
      expect(result.limitingTerm).toBe(limitingTerm);
    },
  );

  it('takes the square root: a cylinder of 9 m2 and 2 t is cut to about half', () => {
    // Loader-crane handbook p. 23-24: 0.516, printed 0.5, so 36 km/h becomes 18.
    const result = loadWindLimit({ ratedGustMps: 36, massKg: 2000, areaM2: 9, drag: LOAD_DRAG.cylinder });
    expect((result.limitMps as number) / 36).toBeCloseTo(0.516, 3);
  });

  // ((z / 10)^0.14 + 0.4) x mean, recomputed; factors 1.400, 1.653 and 1.780 at 10, 50 and 100 m.
  it.each([
    [10, 6, 8.4],
    [30, 10, 15.66],
    [50, 6, 9.92],
    [100, 6, 10.68],
  ])('the gust at %d m in a mean wind of %d m/s is %d m/s', (heightM, mean, gust) => {
    expect(Math.abs(gustAtHeightMps(mean, heightM) / gust - 1)).toBeLessThan(0.005);
  });

  it('cannot say when the rated gust, the mass, the area or the wind is unknown', () => {
    const load = { ratedGustMps: 9, massKg: 900, areaM2: 6, drag: LOAD_DRAG.unknown };
    expect(checkLoadInWind(load, 2).verdict).toBe('ok');
    expect(checkLoadInWind(load, 8).verdict).toBe('not ok');
    expect(checkLoadInWind(load, null)).toMatchObject({ verdict: 'cannot say', missing: ['gustMps'] });
    for (const name of ['ratedGustMps', 'massKg', 'areaM2'] as const) {
      expect(checkLoadInWind({ ...load, [name]: null }, 1)).toMatchObject({
        verdict: 'cannot say',
        missing: [name],
      });
    }
    expect(Object.keys(LIFTING_CAUTIONS)).toEqual(['lifting.single', 'lifting.team', 'lifting.wind']);
  });
});
