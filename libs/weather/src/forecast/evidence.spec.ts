import { describe, expect, it } from '@jest/globals';
import { parseInstant } from '../../../kernel/src/index.ts';
import {
  type EvidenceInput,
  evidence,
  type Forecast,
  type HourlyRecord,
  type HourValues,
  recordOf,
  type StepLimits,
} from '../index.ts';

const FREE: StepLimits = {
  gustMps: null,
  meanWindMps: null,
  loadHeightM: null,
  rainMmPerHour: null,
  tempMinC: null,
  tempMaxC: null,
  dewPointMarginC: null,
  needsDaylight: false,
};
const calm: HourValues = { tempC: 12, dewPointC: 6, rainMm: 0, windMps: 3, gustMps: 5, thunder: false };
const place = { name: 'made up', lat: 52, lon: -9, elevationM: null };

function record(
  hours: readonly (Partial<HourValues> | null)[],
  { start = '2027-05-04T06', standardOffsetMin = 0, source = 'station' } = {},
): HourlyRecord {
  return recordOf({
    place,
    source,
    standardOffsetMin,
    typicalYear: false,
    start,
    hours: hours.map((hour) => (hour === null ? null : { ...calm, ...hour })),
  });
}

const forecastOf = (...members: HourlyRecord[]): Forecast => ({
  source: 'service',
  issuedAt: parseInstant('2027-05-03T00:00:00Z'),
  members,
});
const input = (changes: Partial<EvidenceInput>): EvidenceInput => ({
  steps: [{ key: 'lift', limits: { ...FREE, gustMps: 9, loadHeightM: 20 } }],
  forecast: null,
  observed: record([{}, {}, {}]),
  from: parseInstant('2027-05-04T06:00:00Z'),
  to: parseInstant('2027-05-04T09:00:00Z'),
  zone: 'Europe/Dublin',
  ...changes,
});

describe('evidence of a site day', () => {
  it('tells which limit broke in which hour, at the height of the load, and by how much', () => {
    const made = evidence(input({ observed: record([{}, { gustMps: 8.5 }, { gustMps: 8 }]) }));
    expect(made.hours.map(({ verdicts }) => verdicts[0]?.verdict)).toEqual(['ok', 'not ok', 'ok']);
    // Power law, exponent 0.14: 2^0.14 = 1.10191, so 8.5 m/s at 10 m are 9.37 at 20 m and 8 are 8.82.
    expect(made.hours[1]?.breaches).toEqual([
      {
        step: 'lift',
        limit: 'gustMps',
        limitValue: 9,
        loadHeightM: 20,
        observedValue: 9.37,
        observedBy: 0.37,
        forecastMedian: null,
        forecastWorst: null,
        membersBreaking: 0,
        membersKnown: 0,
      },
    ]);
    expect(made.hours[1]).toMatchObject({
      hour: '2027-05-04T07:00:00.000Z',
      localTime: '2027-05-04 08:00',
      offsetMin: 60,
    });
    expect(made.totals).toEqual([
      {
        step: 'lift',
        hours: 3,
        okHours: 2,
        brokenHours: 1,
        unknownHours: 0,
        firstBroken: '2027-05-04T07:00:00.000Z',
        lastBroken: '2027-05-04T07:00:00.000Z',
        forecastMedianBrokenHours: 0,
        forecastWorstBrokenHours: 0,
      },
    ]);
  });

  it('puts median and worst member beside what came', () => {
    const gusts = [4, 6, 12].map((gustMps) => record([{ gustMps }, { gustMps }, {}], { source: 'member' }));
    const made = evidence(input({ forecast: forecastOf(...gusts) }));
    expect(made.hours[0]?.forecast.gustMps).toEqual({ median: 6, lowest: 4, highest: 12, knownMembers: 3 });
    expect(made.hours[0]?.breaches).toEqual([
      expect.objectContaining({
        observedValue: 5.51,
        observedBy: null,
        forecastMedian: 6.61,
        forecastWorst: 13.22,
        membersBreaking: 1,
        membersKnown: 3,
      }),
    ]);
    expect(made.totals[0]).toMatchObject({
      okHours: 3,
      forecastMedianBrokenHours: 0,
      forecastWorstBrokenHours: 2,
    });
    expect(made).toMatchObject({
      issuedAt: '2027-05-03T00:00:00.000Z',
      members: 3,
      observedSource: 'station',
    });
  });

  it('never passes an unknown hour, and names what is unknown', () => {
    const noGust = { gustMps: Number.NaN, windMps: Number.NaN };
    const made = evidence(input({ observed: record([noGust, null, { rainMm: Number.NaN }]) }));
    expect(made.hours.map(({ verdicts }) => verdicts[0]?.verdict)).toEqual([
      'cannot say',
      'cannot say',
      'ok',
    ]);
    expect(made.hours[0]?.unknown).toEqual(['gustMps', 'windMps']);
    expect(made.hours[1]?.unknown).toEqual([
      'gustMps',
      'windMps',
      'rainMm',
      'tempC',
      'dewPointMarginC',
      'thunder',
    ]);
    expect(made.hours[2]?.unknown).toEqual(['rainMm']);
    const nothing = evidence(input({ observed: null, steps: [{ key: 'walk', limits: FREE }] }));
    expect(nothing.totals[0]).toMatchObject({ hours: 3, okHours: 0, unknownHours: 3 });
  });

  it('says where a gust is estimated from the mean wind', () => {
    const made = evidence(input({ observed: record([{ gustMps: Number.NaN, windMps: 6 }, {}, {}]) }));
    expect(made.hours[0]?.observed.gustMps).toBe(8.4);
    expect(made.hours[0]?.gustEstimated).toEqual({ observed: true, forecast: false });
    expect(made.hours[0]?.verdicts[0]?.verdict).toBe('not ok');
  });

  it('counts every kind of limit, in its own direction', () => {
    const limits = {
      ...FREE,
      meanWindMps: 5,
      rainMmPerHour: 0.2,
      tempMinC: 5,
      tempMaxC: 25,
      dewPointMarginC: 3,
    };
    const observed = record([
      { windMps: 6 },
      { rainMm: 0.5 },
      { tempC: 4, dewPointC: 0 },
      { tempC: 26 },
      { dewPointC: 10 },
      { thunder: true },
      {},
      {},
    ]);
    const made = evidence(
      input({ steps: [{ key: 'seal', limits }], observed, to: parseInstant('2027-05-04T14:00:00Z') }),
    );
    expect(made.hours.map(({ breaches }) => breaches.map(({ limit }) => limit))).toEqual([
      ['windMps'],
      ['rainMm'],
      ['tempMinC'],
      ['tempMaxC'],
      ['dewPointMarginC'],
      ['thunder'],
      // Half an hour after thunder lies in the next hour, and an hourly record does not say when in the hour it thundered.
      ['thunder'],
      [],
    ]);
    expect(made.hours[2]?.breaches[0]).toMatchObject({ limitValue: 5, observedValue: 4, observedBy: 1 });
  });

  it('a value written as the limit itself keeps it, also as a 32-bit number', () => {
    const limits = { ...FREE, rainMmPerHour: 0.1, gustMps: 8.3 };
    const observed = record([{ rainMm: 0.1, gustMps: 8.3 }, { rainMm: 0.2 }, {}]);
    const made = evidence(input({ steps: [{ key: 'lift', limits }], observed }));
    expect(made.hours.map(({ verdicts }) => verdicts[0]?.verdict)).toEqual(['ok', 'not ok', 'ok']);
  });

  it('follows the clock of the station, whose hours may begin at half past', () => {
    const observed = record([{ gustMps: 11 }, {}], { start: '2027-05-04T12', standardOffsetMin: 330 });
    const forecast = forecastOf(record([{ gustMps: 20 }, {}, {}]));
    const made = evidence(
      input({ observed, forecast, zone: 'Asia/Kolkata', to: parseInstant('2027-05-04T08:30:00Z') }),
    );
    // 12:00 in India is 06:30 UTC; the first row holds 06:00 UTC and is the station's hour before, which is missing.
    expect(made.hours.map(({ localTime }) => localTime)).toEqual([
      '2027-05-04 11:00',
      '2027-05-04 12:00',
      '2027-05-04 13:00',
    ]);
    expect(made.hours.map(({ verdicts }) => verdicts[0]?.verdict)).toEqual(['cannot say', 'not ok', 'ok']);
    expect(made.hours[1]?.forecast.gustMps?.highest).toBe(20);
  });

  it('refuses a span that is none or endless', () => {
    for (const to of ['2027-05-04T06:00:00Z', '2029-05-04T06:00:00Z'])
      expect(() => evidence(input({ to: parseInstant(to) }))).toThrow(
        expect.objectContaining({ code: 'invalid-input' }),
      );
  });
});
