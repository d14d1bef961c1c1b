import { describe, expect, it } from '@jest/globals';
import { parseInstant } from '../../../kernel/src/index.ts';
import { type Forecast, hourText, metarReader, parseTaf, readText, tafForecast } from '../index.ts';

const place = { name: 'Invented Field', lat: 44, lon: -63, elevationM: null };
const KT = 1852 / 3600;
const near = (values: ArrayLike<number> | undefined): number[] =>
  Array.from(values ?? [], (value) => Number((value / KT).toFixed(2)));

describe('hours from reports', () => {
  const read = (...lines: string[]) =>
    readText(
      metarReader({ place, source: 'invented', reference: parseInstant('2025-01-31T00:00:00Z') }),
      lines.join('\n'),
      {
        keepGood: true,
      },
    );

  it('a report tells of the hour that it ends; means, highest gust, over the end of a month', () => {
    const { record } = read(
      'METAR YUDO 312253Z 27010KT 9999 05/01 Q1010',
      'SPECI YUDO 312240Z 27020G30KT',
      '     9999 07/01 Q1010=',
      'METAR YUDO 010000Z 27012KT 9999 05/01 Q1010',
      'METAR YUDO 010200Z /////KT 9999 ///// Q1010',
    );
    expect(Array.from(record?.hourIndex ?? [], hourText)).toEqual([
      '2025-01-31 22:00',
      '2025-01-31 23:00',
      '2025-02-01 01:00',
    ]);
    expect(near(record?.windMps)).toEqual([15, 12, Number.NaN]);
    expect(near(record?.gustMps)).toEqual([30, Number.NaN, Number.NaN]);
    expect([...(record?.tempC ?? [])]).toEqual([6, 5, Number.NaN]);
    expect([...(record?.rainMm ?? [])]).toEqual([0, 0, 0]);
    expect([...(record?.thunder ?? [])]).toEqual([0, 0, 0]);
  });

  it('machines do not say that it is dry or without thunder; nearby and recent thunder is thunder', () => {
    const { record, warnings } = read(
      'METAR YUDO 310000Z AUTO 27010KT 9999 05/01',
      'METAR YUDO 310100Z AUTO 27010KT 9999 VCTS 05/01',
      'METAR YUDO 310200Z 27010KT 9999 RETS 05/01',
      'METAR YUDO 310300Z 27010KT 9999 -RA 05/01',
      'METAR YUDO 310400Z 27010KT 9999 -RA 05/01 RMK P0002',
      'METAR YUDO 310500Z 27010KT 9999 x/y 05/01',
    );
    expect([...(record?.thunder ?? [])]).toEqual([-1, 1, 1, 0, 0, -1]);
    expect([...(record?.rainMm ?? [])]).toEqual([
      Number.NaN,
      Number.NaN,
      0,
      Number.NaN,
      Math.fround(0.51),
      Number.NaN,
    ]);
    expect(warnings[0]).toMatchObject({
      code: 'groups-unread',
      words: expect.stringContaining('line 6: x/y'),
    });
  });

  it('takes the time of an archive before a report, passes NIL over, and reports what is none', () => {
    const reading = read(
      '201902282250 METAR YUDO 282250Z 27010KT',
      '2020-02-29T22:50Z METAR YUDO 292250Z 27010KT',
      'METAR YUDO 292350Z NIL',
      'no report',
    );
    expect(Array.from(reading.record?.hourIndex ?? [], hourText)).toEqual([
      '2019-02-28 22:00',
      '2020-02-29 22:00',
    ]);
    expect(reading.badLines).toEqual([
      { line: 4, reason: 'there is no time group such as 221630Z', value: 'no report' },
    ]);
  });
});

describe('reports of an unknown month', () => {
  it('are bad lines until one has its full time before it', () => {
    const reading = readText(
      metarReader({ place, source: 'invented', reference: null }),
      'METAR YUDO 282150Z 27010KT\n201902282250 METAR YUDO 282250Z 27010KT\nMETAR YUDO 282350Z 27010KT',
      { keepGood: true },
    );
    expect(reading.badLines).toMatchObject([{ line: 1, reason: expect.stringContaining('201901312250') }]);
    expect(Array.from(reading.record?.hourIndex ?? [], hourText)).toEqual([
      '2019-02-28 22:00',
      '2019-02-28 23:00',
    ]);
  });
});

describe('hours from an aerodrome forecast', () => {
  const hours = (text: string): Forecast => {
    const taf = parseTaf(text, parseInstant('2025-07-16T00:00:00Z'));
    if (!taf.ok) throw new Error(taf.problem);
    const forecast = tafForecast(taf.value, place);
    if (!forecast) throw new Error('it is not cancelled');
    return forecast;
  };
  const windOf = (forecast: Forecast, member: number): number[] => near(forecast.members[member]?.windMps);
  const gustOf = (forecast: Forecast, member: number): number[] => near(forecast.members[member]?.gustMps);

  it('has both states while it becomes, and only the new one after FM', () => {
    const forecast = hours(
      'TAF YUDO 160000Z 1606/1612 13005KT 9999 BECMG 1607/1609 13012KT FM161030 13003KT 9999',
    );
    expect(forecast.members).toHaveLength(10);
    expect(forecast.members[0]?.hourIndex).toHaveLength(6);
    expect(windOf(forecast, 0)).toEqual([5, 12, 12, 12, 12, 3]);
    expect([...(forecast.members[0]?.rainMm ?? [])].every(Number.isNaN)).toBe(true);
  });

  it('carries TEMPO in all members and PROB30 in three of ten', () => {
    const forecast = hours(
      'TAF YUDO 160000Z 1606/1610 13005KT 9999 TEMPO 1607/1608 13010G25KT PROB30 TEMPO 1608/1609 13015G40KT TSRA',
    );
    expect(gustOf(forecast, 2)).toEqual([Number.NaN, 25, 40, Number.NaN]);
    expect(gustOf(forecast, 3)).toEqual([Number.NaN, 25, Number.NaN, Number.NaN]);
    expect(forecast.members.map(({ thunder }) => thunder[2])).toEqual([1, 1, 1, 0, 0, 0, 0, 0, 0, 0]);
  });

  it('counts a part whose time cannot be read at any hour, and drops a gust below another mean', () => {
    const forecast = hours('TAF YUDO 160000Z 1606/1608 13005KT 9999 TEMPO 1607/ 13030G45KT');
    expect(gustOf(forecast, 9)).toEqual([45, 45]);
    const crossed = hours('TAF YUDO 160000Z 1606/1608 13005G20KT 9999 BECMG 1606/1608 13030KT');
    expect([windOf(crossed, 0), gustOf(crossed, 0)]).toEqual([
      [30, 30],
      [Number.NaN, Number.NaN],
    ]);
  });

  it('is nothing when cancelled', () => {
    const taf = parseTaf('TAF YUDO 160000Z 1606/1706 CNL', parseInstant('2025-07-16T00:00:00Z'));
    expect(taf.ok && tafForecast(taf.value, place)).toBeNull();
  });
});
