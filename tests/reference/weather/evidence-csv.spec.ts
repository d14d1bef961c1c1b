import { describe, expect, it } from '@jest/globals';
import { parse } from 'csv-parse/sync';
import { parseInstant } from '../../../libs/kernel/src/index.ts';
import {
  evidence,
  evidenceCsv,
  type HourValues,
  recordOf,
  type StepLimits,
} from '../../../libs/weather/src/index.ts';

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

function record(hours: readonly (HourValues | null)[], source: string) {
  return recordOf({
    place,
    source,
    standardOffsetMin: 0,
    typicalYear: false,
    start: '2027-05-04T06',
    hours: hours.map((hour) => (hour === null ? null : { ...calm, ...hour })),
  });
}

describe('evidence as CSV', () => {
  const made = evidence({
    steps: [{ key: '=1+1', limits: { ...FREE, gustMps: 9, tempMinC: 0 } }],
    observed: record([{ tempC: -3.5, gustMps: 10 }, null, { gustMps: null, windMps: 6 }], '@station, "east"'),
    forecast: {
      source: 'service',
      issuedAt: parseInstant('2027-05-03T00:00:00Z'),
      members: [record([{ gustMps: 12 }, {}, {}], 'member')],
    },
    from: parseInstant('2027-05-04T06:00:00Z'),
    to: parseInstant('2027-05-04T09:00:00Z'),
    zone: 'Europe/Dublin',
  });
  const text = evidenceCsv(made);
  const rows = parse(text, { columns: true, record_delimiter: '\r\n' }) as Record<string, string>[];

  it('is read by a general reader of RFC 4180, one row an hour', () => {
    expect(rows).toHaveLength(3);
    expect(text.endsWith('\r\n')).toBe(true);
    expect(rows[0]).toMatchObject({
      'hour (UTC)': '2027-05-04T06:00:00.000Z',
      'observed tempC': '-3.5',
      'forecast gustMps worst': '12',
      'observed thunder': 'no',
      'verdict =1+1': 'not ok',
    });
    expect(rows[1]).toMatchObject({ 'observed tempC': '', 'verdict =1+1': 'cannot say' });
    expect(rows[1]?.['unknown of what came']).toBe('gustMps windMps rainMm tempC dewPointMarginC thunder');
  });

  it('puts an apostrophe before what a spreadsheet program would run, but not before a number', () => {
    expect(rows[0]?.['observed source']).toBe('\'@station, "east"');
    expect(rows[0]?.['limits broken by what came']).toBe(
      "'=1+1: gustMps 10, limit 9, beyond by 1; =1+1: tempMinC -3.5, limit 0, beyond by 3.5",
    );
    expect(rows[0]?.['limits that members of the forecast broke']).toBe(
      "'=1+1: gustMps worst 12, limit 9, 1 of 1 members",
    );
  });

  it('says where a gust stands for the mean wind', () => {
    expect(rows[2]).toMatchObject({
      'gust estimated': 'observed: mean wind x 1.4',
      'observed gustMps': '8.4',
    });
  });

  it('is plain data as JSON too', () => {
    expect(JSON.parse(JSON.stringify(made))).toEqual(made);
  });
});
