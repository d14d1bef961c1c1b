import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { type Instant, parseInstant } from '../../../kernel/src/index.ts';
import { hourText, readMetNorwayForecast, readOpenMeteoEnsemble } from '../index.ts';

const issued = parseInstant('2026-07-20T01:30:57Z');

/** A step of the Norwegian format with the units of the service; the figures are invented. */
function step(time: string, instant: object, nextHour?: object) {
  return { time, data: { instant: { details: instant }, ...(nextHour ? { next_1_hours: nextHour } : {}) } };
}
const metUnits = {
  air_temperature: 'celsius',
  dew_point_temperature: 'celsius',
  relative_humidity: '%',
  precipitation_amount: 'mm',
  wind_speed: 'm/s',
  wind_speed_of_gust: 'm/s',
};
function metDocument(timeseries: readonly object[], units: object = metUnits) {
  return {
    type: 'Feature',
    geometry: { type: 'Point', coordinates: [-63.5, 44.6, 12] },
    properties: { meta: { updated_at: '2026-07-20T01:30:57Z', units }, timeseries },
  };
}
const rain = (amount: number, symbol = 'cloudy', more: object = {}) => ({
  summary: { symbol_code: symbol },
  details: { precipitation_amount: amount, ...more },
});

describe('the reader of the Norwegian forecast', () => {
  it('reads hours in UTC, rain from the hour after the stamp and the windier end of the hour', () => {
    const result = readMetNorwayForecast(
      metDocument([
        step(
          '2026-07-20T11:00:00Z',
          { air_temperature: 20, relative_humidity: 50, wind_speed: 3, wind_speed_of_gust: 7 },
          rain(0.4),
        ),
        step(
          '2026-07-20T12:00:00Z',
          { air_temperature: 21, dew_point_temperature: 9, wind_speed: 5, wind_speed_of_gust: 6 },
          rain(0, 'rainandthunder'),
        ),
        step('2026-07-20T13:00:00Z', { wind_speed: 4 }),
      ]),
    );
    if (!result.ok) throw new Error(result.problem.words);
    const { forecast } = result.value;
    const [hours] = forecast.members;
    if (!hours) throw new Error('one member');
    expect([forecast.issuedAt, forecast.members.length, hours.standardOffsetMin]).toEqual([issued, 1, 0]);
    expect(hours.place).toEqual({ name: '', lat: 44.6, lon: -63.5, elevationM: 12 });
    expect(Array.from(hours.hourIndex, hourText)).toEqual(['2026-07-20 11:00', '2026-07-20 12:00']);
    expect([...hours.rainMm]).toEqual([Math.fround(0.4), 0]);
    expect([...hours.windMps]).toEqual([5, 5]);
    expect([...hours.gustMps]).toEqual([7, 6]);
    expect(hours.dewPointC[0]).toBeCloseTo(9.255, 3); // 20 C and 50 %, Magnus form of WMO-No. 8
    expect(hours.dewPointC[1]).toBe(9);
    expect([...hours.thunder]).toEqual([0, 1]);
  });

  it('leaves the steps of six hours unknown, and knows a chance of thunder', () => {
    const result = readMetNorwayForecast(
      metDocument([
        step('2026-07-20T17:00:00Z', { wind_speed: 3 }, rain(0, 'cloudy', { probability_of_thunder: 12 })),
        step('2026-07-20T18:00:00Z', { wind_speed: 9 }),
        step('2026-07-21T00:00:00Z', { wind_speed: 1 }),
      ]),
    );
    if (!result.ok) throw new Error(result.problem.words);
    const hours = result.value.forecast.members[0];
    expect([hours?.hourIndex.length, hours?.windMps[0], hours?.thunder[0]]).toEqual([1, 9, 1]);
    expect(result.value.warnings.map(({ code }) => code)).toEqual(['gust-missing']);
  });

  it('names what is wrong with other documents', () => {
    const good = step('2026-07-20T17:00:00Z', { wind_speed: 3 }, rain(0));
    for (const [document, code, words] of [
      [null, 'wrong-kind', 'the document is null'],
      [{ type: 'FeatureCollection' }, 'wrong-kind', '"FeatureCollection"'],
      [metDocument([]), 'no-hours', 'next_1_hours'],
      [
        metDocument([good], { ...metUnits, wind_speed: 'beaufort' }),
        'wrong-unit',
        'wind_speed is "beaufort"',
      ],
      [metDocument([step('soon', {})]), 'wrong-kind', 'timeseries[0].time'],
      [metDocument([step('2026-02-30T00:00:00Z', {})]), 'wrong-kind', 'timeseries[0].time'],
      [
        metDocument([step('2026-07-20T17:00:00Z', { wind_speed: '3' })]),
        'wrong-kind',
        'timeseries[0] wind_speed',
      ],
      [
        metDocument([step('2026-07-20T17:00:00Z', { wind_speed: 300 }, rain(0))]),
        'bad-value',
        'mean wind 300 m/s',
      ],
    ] as const) {
      const result = readMetNorwayForecast(document);
      expect(result).toMatchObject({ ok: false, problem: { code } });
      expect(result.ok ? '' : result.problem.words).toContain(words);
    }
  });
});

function ensemble(change: object = {}, units: object = {}, top: object = {}) {
  const hourly = {
    time: ['2026-07-20T00:00', '2026-07-20T01:00', '2026-07-20T02:00'],
    temperature_2m: [10, 11, 12],
    dew_point_2m: [5, 6, 7],
    precipitation: [9, 0.5, 0],
    wind_speed_10m: [36, 18, 0],
    wind_gusts_10m: [99, 54, 36],
    precipitation_member01: [null, 0, 2],
    wind_speed_10m_member01: [3.6, 7.2, 10.8],
    wind_gusts_10m_member01: [null, null, 18],
    ...change,
  };
  const unitOf = (key: string): string =>
    key === 'time' ? 'iso8601' : key.startsWith('wind') ? 'km/h' : key.startsWith('prec') ? 'mm' : '°C';
  return {
    latitude: 44.6,
    longitude: -63.5,
    elevation: 12,
    utc_offset_seconds: 0,
    timezone: 'GMT',
    hourly_units: { ...Object.fromEntries(Object.keys(hourly).map((key) => [key, unitOf(key)])), ...units },
    hourly,
    ...top,
  };
}

describe('the reader of the ensemble', () => {
  // Documentation of the interface: precipitation "preceding hour sum", gusts "preceding hour max", wind and temperature "instant".
  it('takes rain and gust of the stamp after the hour, and converts units', () => {
    const result = readOpenMeteoEnsemble(ensemble(), issued);
    if (!result.ok) throw new Error(result.problem.words);
    const [control, first] = result.value.forecast.members;
    expect(result.value.forecast.members).toHaveLength(2);
    expect(Array.from(control?.hourIndex ?? [], hourText)).toEqual(['2026-07-20 00:00', '2026-07-20 01:00']);
    expect([...(control?.rainMm ?? [])]).toEqual([0.5, 0]);
    expect([...(control?.gustMps ?? [])]).toEqual([15, 10]);
    expect([...(control?.windMps ?? [])]).toEqual([10, 5]);
    expect([...(control?.tempC ?? [])]).toEqual([10, 11]);
    expect([...(first?.rainMm ?? [])]).toEqual([0, 2]);
    expect([...(first?.gustMps ?? [])]).toEqual([Number.NaN, 5]);
    expect([...(first?.windMps ?? [])]).toEqual([2, 3]);
    expect([...(first?.tempC ?? [])]).toEqual([Number.NaN, Number.NaN]);
    expect([...(first?.thunder ?? [])]).toEqual([-1, -1]);
  });

  it('reads other units, other clocks and thunder codes', () => {
    const result = readOpenMeteoEnsemble(
      ensemble(
        { weather_code: [3, 95, 3] },
        { temperature_2m: '°F', wind_speed_10m: 'mp/h', precipitation: 'inch', wind_gusts_10m: 'kn' },
        { utc_offset_seconds: 19_800, timezone: 'Asia/Kolkata' },
      ),
      issued,
    );
    if (!result.ok) throw new Error(result.problem.words);
    const [control] = result.value.forecast.members;
    // 2026-07-20T00:00 at +05:30 is 18:30 UTC of the day before; on a clock half an hour ahead of UTC that is 19:00.
    expect(control?.standardOffsetMin).toBe(30);
    expect(hourText(control?.hourIndex[0] ?? 0)).toBe('2026-07-19 19:00');
    expect(control?.tempC[0]).toBeCloseTo(-12.222, 3);
    expect(control?.rainMm[0]).toBeCloseTo(12.7, 5);
    expect(control?.windMps[0]).toBeCloseTo(16.0934, 3);
    expect(control?.gustMps[0]).toBeCloseTo(27.78, 3);
    expect([...(control?.thunder ?? [])]).toEqual([1, 1]);
  });

  it('names what is wrong with other documents', () => {
    for (const [document, code, words] of [
      [[], 'wrong-kind', 'several places'],
      [{ error: true, reason: 'Latitude must be in range' }, 'service-error', 'Latitude must be in range'],
      [{ latitude: 1 }, 'wrong-kind', 'hourly is missing'],
      [ensemble({}, { wind_speed_10m: undefined }), 'wrong-unit', 'wind_speed_10m'],
      [ensemble({}, { time: 'hours' }), 'wrong-unit', 'hourly.time'],
      [ensemble({ precipitation: [1] }), 'wrong-kind', '1 values for 3 times'],
      [ensemble({ time: ['2026-07-20T00:00', '2026-07-20T03:00', '2026-07-20T06:00'] }), 'no-hours', 'hour'],
      [ensemble({ precipitation: [0, -1, 0] }), 'bad-value', 'rain is negative'],
      [ensemble({ time: ['x', 'y', 'z'] }), 'wrong-kind', 'hourly.time[0]'],
      [{ ...ensemble(), hourly: { time: [] } }, 'wrong-kind', 'none of the variables'],
    ] as const) {
      const result = readOpenMeteoEnsemble(document, issued);
      expect(result).toMatchObject({ ok: false, problem: { code } });
      expect(result.ok ? '' : result.problem.words).toContain(words);
    }
  });
});

describe('any document at all', () => {
  it('is read or refused, and nothing is thrown', () => {
    const readers: ((document: unknown) => { ok: boolean })[] = [
      readMetNorwayForecast,
      (document) => readOpenMeteoEnsemble(document, issued as Instant),
    ];
    fc.assert(
      fc.property(
        fc.jsonValue(),
        fc.constantFrom('meta', 'timeseries', 'hourly', 'geometry', 'time'),
        (value, key) => {
          for (const read of readers) {
            expect(typeof read(value).ok).toBe('boolean');
            expect(
              typeof read({ ...metDocument([value as object]), ...ensemble({ [key]: value }), [key]: value })
                .ok,
            ).toBe('boolean');
          }
        },
      ),
    );
  });
});
