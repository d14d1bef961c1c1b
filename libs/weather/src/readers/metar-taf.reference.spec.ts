import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { parseInstant } from '../../../kernel/src/index.ts';
import { type Metar, parseMetar, parseTaf, type Taf } from '../index.ts';

/**
 * Examples 1 to 4 are the text of the WMO's example files for its XML form of these reports (ICAO Annex 3 / WMO-No. 49, examples A3-1,
 * A3-2, A5-1, and one of LKKV); YUDO is a fictitious aerodrome. The year and month are ours, since reports name none. Knots: 1852 m an hour.
 */
const reference = parseInstant('2025-07-20T00:00:00Z');
const metar = (text: string): Metar => {
  const result = parseMetar(text, reference);
  if (!result.ok) throw new Error(result.problem);
  return result.value;
};
const taf = (text: string, near = reference): Taf => {
  const result = parseTaf(text, near);
  if (!result.ok) throw new Error(result.problem);
  return result.value;
};
const texts = (codes: readonly { text: string }[]): string[] => codes.map(({ text }) => text);

describe('published METAR examples', () => {
  it('1: wind in m/s, fog, and two changes', () => {
    const report = metar(
      'METAR YUDO 221630Z 24004MPS 0600 R12/1000U DZ FG SCT010 OVC020 17/16 Q1018 BECMG TL1700 0800 FG BECMG AT1800 9999 NSW',
    );
    expect(report).toMatchObject({
      kind: 'METAR',
      station: 'YUDO',
      observedAt: '2025-07-22T16:30:00.000Z',
      wind: { fromDeg: 240, meanMps: 4, gustMps: null, variable: false },
      visibility: { metres: 600, bound: 'exact' },
      clouds: [
        { cover: 'SCT', baseFt: 1000, towering: null },
        { cover: 'OVC', baseFt: 2000, towering: null },
      ],
      tempC: 17,
      dewPointC: 16,
      qnhHpa: 1018,
      unread: [],
    });
    expect(texts(report.weather)).toEqual(['DZ', 'FG']);
    const [first, second] = report.trends;
    expect(first).toMatchObject({
      kind: 'BECMG',
      untilAt: '2025-07-22T17:00:00.000Z',
      state: { visibility: { metres: 800 }, weather: [{ phenomena: ['FG'] }] },
    });
    expect(second).toMatchObject({
      kind: 'BECMG',
      atTime: '2025-07-22T18:00:00.000Z',
      state: { visibility: { metres: 10_000, bound: 'at-least' }, noWeather: true },
    });
  });

  it('2: gusts in knots, a thunderstorm, least visibility', () => {
    const report = metar(
      'SPECI YUDO 151115Z 05025G37KT 3000 1200NE +TSRA BKN005CB 25/22 Q1008 TEMPO TL1200 0600 BECMG AT1200 8000 NSW NSC',
    );
    expect(report).toMatchObject({
      kind: 'SPECI',
      observedAt: '2025-07-15T11:15:00.000Z',
      visibility: { metres: 3000 },
      leastVisibilityM: 1200,
      weather: [{ intensity: 'heavy', descriptor: 'TS', phenomena: ['RA'] }],
      clouds: [{ cover: 'BKN', baseFt: 500, towering: 'CB' }],
      tempC: 25,
      dewPointC: 22,
      unread: [],
    });
    expect(report.wind?.fromDeg).toBe(50);
    expect(report.wind?.meanMps).toBeCloseTo(12.86, 2);
    expect(report.wind?.gustMps).toBeCloseTo(19.03, 2);
    expect(report.trends).toMatchObject([
      { kind: 'TEMPO', untilAt: '2025-07-15T12:00:00.000Z', state: { visibility: { metres: 600 } } },
      {
        kind: 'BECMG',
        atTime: '2025-07-15T12:00:00.000Z',
        state: { visibility: { metres: 8000 }, noWeather: true },
      },
    ]);
  });

  it('4: showers nearby, recent thunder, and a runway group with missing parts', () => {
    const report = metar('METAR LKKV 251200Z 21003MPS 6000 VCSH ////// 27/10 Q1010 RETS WS R18C R11/1/////');
    expect(report).toMatchObject({
      wind: { fromDeg: 210, meanMps: 3 },
      visibility: { metres: 6000 },
      weather: [{ text: 'VCSH', nearby: true, descriptor: 'SH' }],
      recentWeather: [{ descriptor: 'TS', recent: true }],
      clouds: [],
      tempC: 27,
      dewPointC: 10,
      qnhHpa: 1010,
      unread: [],
    });
  });
});

describe('published TAF examples', () => {
  it('3: base, a change, a temporary thunderstorm, a new state', () => {
    const forecast = taf(
      'TAF YUDO 160000Z 1606/1624 13005MPS 9000 BKN020 BECMG 1606/1608 SCT015CB BKN020 TEMPO 1608/1612 17006G12MPS 1000 TSRA SCT010CB BKN020 FM161230 15004MPS 9999 BKN020',
    );
    expect(forecast).toMatchObject({
      station: 'YUDO',
      issuedAt: '2025-07-16T00:00:00.000Z',
      // Hour 24 of the 16th is hour 0 of the 17th.
      valid: { from: '2025-07-16T06:00:00.000Z', to: '2025-07-17T00:00:00.000Z' },
      wind: { fromDeg: 130, meanMps: 5 },
      visibility: { metres: 9000 },
      clouds: [{ cover: 'BKN', baseFt: 2000 }],
      unread: [],
    });
    expect(forecast.changes).toMatchObject([
      { kind: 'BECMG', span: { from: '2025-07-16T06:00:00.000Z', to: '2025-07-16T08:00:00.000Z' } },
      {
        kind: 'TEMPO',
        probabilityPct: null,
        span: { from: '2025-07-16T08:00:00.000Z', to: '2025-07-16T12:00:00.000Z' },
        wind: { fromDeg: 170, meanMps: 6, gustMps: 12 },
        visibility: { metres: 1000 },
        weather: [{ descriptor: 'TS', phenomena: ['RA'] }],
      },
      {
        kind: 'FM',
        span: { from: '2025-07-16T12:30:00.000Z', to: '2025-07-17T00:00:00.000Z' },
        wind: { fromDeg: 150, meanMps: 4 },
        visibility: { metres: 10_000, bound: 'at-least' },
      },
    ]);
  });

  // FAA Aeronautical Information Manual, probability groups; the lines around them are ours.
  it('5: chances with miles, over the end of a day', () => {
    const late = taf('TAF KAAA 221720Z 2218/2324 18008KT P6SM SKC PROB40 2221/2302 1/2SM +TSRA');
    expect(late.changes).toMatchObject([
      {
        kind: 'PROB',
        probabilityPct: 40,
        span: { from: '2025-07-22T21:00:00.000Z', to: '2025-07-23T02:00:00.000Z' },
        visibility: { metres: 805 },
        weather: [{ intensity: 'heavy', descriptor: 'TS', phenomena: ['RA'] }],
      },
    ]);
    expect(late.visibility).toEqual({ metres: 9656, bound: 'at-least' });
    const snow = taf(
      'TAF KAAA 300520Z 3006/3112 18008KT 5SM PROB30 3010/3014 1SM RASN',
      parseInstant('2025-07-30T00:00:00Z'),
    );
    expect(snow.changes).toMatchObject([
      {
        kind: 'PROB',
        probabilityPct: 30,
        span: { from: '2025-07-30T10:00:00.000Z', to: '2025-07-30T14:00:00.000Z' },
        visibility: { metres: 1609 },
        weather: [{ phenomena: ['RA', 'SN'] }],
      },
    ]);
  });

  it('probability may stand before TEMPO, and reports are amended, cancelled or missing', () => {
    const forecast = taf('TAF AMD YUDO 160000Z 1606/1706 13005KT 9999 PROB30 TEMPO 1608/1612 25G40KT TSRA');
    expect(forecast).toMatchObject({
      amended: true,
      changes: [{ kind: 'TEMPO', probabilityPct: 30 }],
      unread: ['25G40KT'],
    });
    expect(taf('TAF YUDO 160000Z 1606/1706 CNL=').cancelled).toBe(true);
    expect(parseTaf('TAF YUDO 160000Z NIL=', reference)).toEqual({
      ok: false,
      problem: 'the forecast is missing (NIL)',
    });
  });
});

describe('what is missing or malformed', () => {
  it('is unknown or unread, never guessed', () => {
    for (const [group, wind, unread] of [
      ['/////KT', null, []],
      ['000////KT', null, []],
      ['VRB03KT', { variable: true, fromDeg: null }, []],
      ['280P99KT', { atLeast: true, meanMps: expect.closeTo(50.93, 6) }, []],
      ['28050GP99KT', { atLeast: true, gustMps: expect.closeTo(50.93, 6) }, []],
      ['09010G20', null, ['09010G20']],
      ['40010KT', null, ['40010KT']],
      ['28030G20KT', null, ['28030G20KT']],
      ['36018KMH', { meanMps: 5 }, []],
    ] as const) {
      const report = metar(`YUDO 221630Z ${group} 9999 17/16 Q1018`);
      if (wind === null) expect([group, report.wind]).toEqual([group, null]);
      else expect(report.wind).toMatchObject(wind);
      expect([group, report.unread]).toEqual([group, unread]);
    }
    expect(metar('YUDO 221630Z 01001KT 11/2SM 0507 201/16 25//// A////')).toMatchObject({
      visibility: null,
      tempC: 25,
      dewPointC: null,
      qnhHpa: null,
      unread: ['11/2SM', '0507', '201/16'],
    });
    expect(metar('YUDO 221630Z 01001KT 1 1/2SM M00/M04').visibility?.metres).toBe(2414);
    expect(metar('YUDO 221630Z 01001KT 9999 M00/M04')).toMatchObject({ tempC: 0, dewPointC: -4 });
  });

  it('does not mix a second report into the first', () => {
    const report = metar(
      'EGLL 170550Z AUTO 09011KT 9999 NCD 10/05 Q1016 NOSIG EGLL 170520Z AUTO 09040KT 9999',
    );
    expect(report.wind?.meanMps).toBeCloseTo(5.66, 2);
    expect(report.unread).toEqual(['EGLL', '170520Z', 'AUTO', '09040KT', '9999']);
    expect(metar('YUDO 221630Z 01001KT 02050KT').unread).toEqual(['02050KT']);
  });

  it('takes tenths and rain from remarks', () => {
    const report = metar(
      'KAAA 191855Z 18015G22KT 7SM -RA FEW049 28/18 A3001 RMK AO2 P0013 T02830178 09099KT',
    );
    expect(report).toMatchObject({
      tempC: 28.3,
      dewPointC: 17.8,
      remarkRainMm: 3.3,
      qnhHpa: 1016.3,
      unread: [],
    });
  });

  it('finds the month that is nearest, over the ends of months and years', () => {
    const at = (text: string, near: string): string | null => {
      const result = parseMetar(text, parseInstant(near));
      return result.ok ? result.value.observedAt.slice(0, 16) : null;
    };
    expect(at('YUDO 312350Z', '2026-01-01T00:10:00Z')).toBe('2025-12-31T23:50');
    expect(at('YUDO 010020Z', '2025-12-31T23:50:00Z')).toBe('2026-01-01T00:20');
    expect(at('YUDO 290000Z', '2024-03-05T00:00:00Z')).toBe('2024-02-29T00:00');
    expect(at('YUDO 290000Z', '2025-03-05T00:00:00Z')).toBe('2025-03-29T00:00');
    expect(at('YUDO 320000Z', '2025-03-05T00:00:00Z')).toBeNull();
    expect(at('YUDO 012460Z', '2025-03-05T00:00:00Z')).toBeNull();
    expect(taf('TAF YUDO 312300Z 0100/0206 13005KT', parseInstant('2026-01-01T00:00:00Z')).valid).toEqual({
      from: '2026-01-01T00:00:00.000Z',
      to: '2026-01-02T06:00:00.000Z',
    });
  });

  it('refuses what is none of the two', () => {
    expect(parseMetar('A clearly wrong code', reference).ok).toBe(false);
    expect(parseTaf('A clearly wrong code', reference).ok).toBe(false);
    expect(parseTaf('TAF LFPG 150500Z 2018l/2020 17005KT 6000', reference)).toMatchObject({
      problem: '2018l/2020 stands where the time of validity is expected',
    });
    expect(parseTaf('TAF YUDO 160000Z 0106/0112 17005KT', reference).ok).toBe(false);
  });

  it('throws for no text at all', () => {
    const word = fc.constantFrom(
      ...[
        'METAR',
        'TAF',
        'YUDO',
        '221630Z',
        '1606/1624',
        '24004MPS',
        '/////',
        'RMK',
        'FM161230',
        'PROB30',
        'TEMPO',
        'BECMG',
        '1/2SM',
        '1',
        'WS',
        'NIL',
        '=',
        'TL2400',
        'T0',
      ],
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(word).map((words) => words.join(' ')),
        ),
        (text) => {
          expect(typeof parseMetar(text, reference).ok).toBe('boolean');
          expect(typeof parseTaf(text, reference).ok).toBe('boolean');
        },
      ),
      { numRuns: 1000 },
    );
  });
});
