import { describe, expect, it } from '@jest/globals';
import { localDateOfHour, monthlyTableFromHourly, readEpw } from '../index.ts';

interface Hour {
  readonly day?: number;
  readonly month?: number;
  readonly hour: number;
  readonly temp?: string;
  readonly wind?: string;
  readonly rain?: string;
}

/** One data line of 35 fields; the fields that are not read hold the format's own marks for missing. */
function line({ month = 6, day = 1, hour, temp = '15.0', wind = '4.0', rain = '0.0' }: Hour): string {
  const cells = new Array<string>(35).fill('9999');
  cells.splice(0, 8, '2019', String(month), String(day), String(hour), '0', '?9?9', temp, '9.5');
  cells[21] = wind;
  cells[33] = rain;
  return cells.join(',');
}
const head = [
  'LOCATION,Invented Head,NS,CAN,made for a test,000000,44.65,-63.57,-4.0,30.0',
  'DESIGN CONDITIONS,0',
  'COMMENTS 1,made for a test',
  'DATA PERIODS,1,1,Data,Sunday,6/1,6/30',
];
const file = (hours: readonly Hour[]): string => [...head, ...hours.map(line)].join('\r\n');
const fullDay = (day: number, change: Partial<Hour> = {}): Hour[] =>
  Array.from({ length: 24 }, (_, index) => ({ day, hour: index + 1, ...(index === 9 ? change : {}) }));
const limits = { workFromHour: 8, workToHour: 17, rainMmPerHour: 0.2, gustMps: 9, gustFactor: 1.4 };

describe('the EPW reader', () => {
  it('reads place, offset and hours, an hour numbered 1 beginning at midnight', () => {
    const { record, badLines, warnings } = readEpw(
      file([
        { hour: 1, rain: '0.4' },
        { hour: 24, wind: '7.5' },
      ]),
    );
    expect(badLines).toEqual([]);
    expect(warnings).toEqual([]);
    expect(record?.place).toEqual({ name: 'Invented Head, CAN', lat: 44.65, lon: -63.57, elevationM: 30 });
    expect(record?.standardOffsetMin).toBe(-240);
    expect(Array.from(record?.hourIndex ?? [], (index) => localDateOfHour(index))).toEqual([
      { year: 2019, month: 6, dayOfMonth: 1, hour: 0 },
      { year: 2019, month: 6, dayOfMonth: 1, hour: 23 },
    ]);
    expect(record?.rainMm[0]).toBeCloseTo(0.4, 6);
    expect(record?.windMps[1]).toBe(7.5);
    expect(record?.gustMps[0]).toBeNaN();
  });

  it('keeps what is marked missing or left blank as missing, never as zero', () => {
    const { record, warnings } = readEpw(
      file([
        { hour: 1, rain: '999', wind: '999', temp: '99.9' },
        { hour: 2, rain: '', wind: '999.0' },
      ]),
    );
    expect(record?.rainMm[0]).toBeNaN();
    expect(record?.rainMm[1]).toBeNaN();
    expect(record?.tempC[0]).toBeNaN();
    expect(warnings).toEqual(['rain-missing', 'wind-missing']);
  });

  it('leaves out what cannot be read and says which line and why', () => {
    const text = file([
      { hour: 1 },
      { hour: 25 },
      { hour: 3, wind: 'calm' },
      { hour: 4, wind: '-3' },
      { hour: 5, day: 31 },
      { hour: 6 },
    ]);
    const { record, badLines } = readEpw(`${text}\n2019,6,1`);
    expect(record?.hourIndex).toHaveLength(2);
    expect(badLines).toEqual([
      { line: 6, reason: 'hour is not 1 to 24' },
      { line: 7, reason: 'windMps is not a number' },
      { line: 8, reason: 'windMps -3 is outside 0 to 120' },
      { line: 9, reason: 'there is no such day in the month' },
      { line: 11, reason: '3 fields where at least 22 are needed' },
    ]);
  });

  it('gives no record without a place or without hours', () => {
    expect(readEpw('nothing of the kind')).toMatchObject({ record: null, badLines: [{ line: 1 }] });
    expect(readEpw(head.join('\n'))).toMatchObject({ record: null, warnings: ['no-hours'] });
    expect(readEpw('LOCATION,A,B,C,D,1,100,0,0,0')).toMatchObject({
      record: null,
      badLines: [{ line: 1, reason: /latitude/ }],
    });
  });

  it('takes a whole year without a drop as rain not recorded', () => {
    const hours = Array.from({ length: 12 }, (_, index) =>
      Array.from({ length: 28 }, (_, day) => fullDay(day + 1).map((hour) => ({ ...hour, month: index + 1 }))),
    )
      .flat(2)
      .slice(0, 8050);
    const { record, warnings } = readEpw(file(hours));
    expect(warnings).toEqual(['rain-all-zero']);
    expect(record?.rainMm.every(Number.isNaN)).toBe(true);
  });
});

describe('the monthly table from hours', () => {
  const june = (hours: readonly Hour[]) => {
    const { record } = readEpw(file(hours));
    if (!record) throw new Error('the test file holds hours');
    return monthlyTableFromHourly(record, limits)[5];
  };

  it('counts wet, windy and bad days in working hours, and how often a wet one follows a wet one', () => {
    const month = june([
      ...fullDay(1),
      ...fullDay(2, { rain: '0.5' }),
      ...fullDay(3, { rain: '0.2' }),
      ...fullDay(4, { wind: '7.0' }), // 7.0 x 1.4 = 9.8 m/s of gust
      ...fullDay(5),
    ]);
    expect(month).toMatchObject({
      wetDayShare: 0.4,
      wetAfterWet: 0.5,
      windyDayShare: 0.2,
      badDayShare: 0.6,
      knownDays: 5,
      days: 5,
      years: 1,
    });
    expect(month?.badAfterBad).toBeCloseTo(2 / 3, 12);
    expect(month?.meanTempC).toBeCloseTo(15, 6);
  });

  it('counts no day as dry of which a working hour is missing, but a wet hour is enough for a wet one', () => {
    const month = june([
      ...fullDay(1, { rain: '999' }),
      ...fullDay(2),
      ...fullDay(3, { rain: '999', wind: '20' }),
    ]);
    expect(month).toMatchObject({
      wetDayShare: 0,
      windyDayShare: 1 / 3,
      badDayShare: 0.5,
      knownDays: 2,
      days: 3,
    });
  });

  it('does not count rain outside working hours, and says null where nothing is known', () => {
    const { record } = readEpw(
      file(fullDay(1).map((hour) => (hour.hour === 3 ? { ...hour, rain: '9.0' } : hour))),
    );
    if (!record) throw new Error('the test file holds hours');
    const table = monthlyTableFromHourly(record, limits);
    expect(table[5]?.wetDayShare).toBe(0);
    expect(table[0]).toMatchObject({
      wetDayShare: null,
      wetAfterWet: null,
      badDayShare: null,
      meanTempC: null,
      knownDays: 0,
    });
  });
});
