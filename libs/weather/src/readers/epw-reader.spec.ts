import { describe, expect, it } from '@jest/globals';
import {
  daysInMonth,
  hourIndexOf,
  localDateOfHour,
  monthlyTableFromHourly,
  type ReadingWarning,
  readEpw as readEpwWith,
} from '../index.ts';

const readEpw = (text: string) => readEpwWith(text, { keepGood: true });
const codes = (warnings: readonly ReadingWarning[]): string[] => warnings.map(({ code }) => code);

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
    expect(codes(warnings)).toEqual([]);
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
    expect(codes(warnings)).toEqual(['ends-in-a-day', 'rain-missing', 'wind-missing']);
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
      { line: 6, reason: 'hour is not 1 to 24', value: '2019,6,1,25,0' },
      { line: 7, reason: 'windMps is not a number', value: 'calm' },
      { line: 8, reason: 'mean wind -3 m/s is outside 0 to 115 m/s', value: '-3' },
      { line: 9, reason: 'there is no such day in the month', value: '2019,6,31,5,0' },
      { line: 11, reason: '3 fields where 35 are expected; the line is cut short', value: '2019,6,1' },
    ]);
    expect(readEpwWith(text, { keepGood: false })).toMatchObject({
      record: null,
      badLineCount: 4,
      goodHours: 2,
    });
  });

  it('gives no record without a place or without hours', () => {
    expect(readEpw('nothing of the kind')).toMatchObject({ record: null, badLines: [{ line: 1 }] });
    expect(readEpw(head.join('\n'))).toMatchObject({ record: null, warnings: [{ code: 'no-hours' }] });
    expect(readEpw('LOCATION,A,B,C,D,1,100,0,0,0')).toMatchObject({
      record: null,
      badLines: [{ line: 1, reason: expect.stringMatching('latitude') }],
    });
  });

  it('takes a whole year without a drop as rain not recorded', () => {
    const hours = Array.from({ length: 12 }, (_, index) =>
      Array.from({ length: 28 }, (_, day) => fullDay(day + 1).map((hour) => ({ ...hour, month: index + 1 }))),
    )
      .flat(2)
      .slice(0, 8050);
    const { record, warnings } = readEpw(file(hours));
    expect(codes(warnings)).toContain('rain-all-zero');
    expect(record?.rainMm.every(Number.isNaN)).toBe(true);
  });
});

describe('the EPW reader and odd files', () => {
  it('names other kinds of files', () => {
    for (const [text, words] of [
      ['{"type":"Feature"}', 'a JSON document'],
      ['<!DOCTYPE html><html>', 'a web page'],
      ['METAR YUDO 221630Z 24004MPS', 'METAR or TAF'],
      ['time;wind (m/s)\n', 'a table of text'],
      ['PK\u0003\u0004', 'a workbook'],
      ['', 'an empty file'],
    ] as const)
      expect([text, readEpw(text).badLines[0]?.reason]).toEqual([text, expect.stringContaining(words)]);
  });

  it('keeps the first of two equal hours and names both lines', () => {
    const { record, badLines } = readEpw(file([{ hour: 1, wind: '1' }, { hour: 2 }, { hour: 1, wind: '9' }]));
    expect(record?.windMps[0]).toBe(1);
    expect(badLines).toEqual([
      { line: 7, reason: 'the hour 2019-06-01 00:00 is there already, on line 5; the first stays' },
    ]);
  });

  it('counts the hours between that are missing', () => {
    const { gaps } = readEpw(file([{ hour: 1 }, { hour: 2 }, { hour: 5 }, { hour: 5, day: 2 }]));
    const [june1, june2] = [hourIndexOf(2019, 6, 1, 0), hourIndexOf(2019, 6, 2, 0)];
    expect(gaps).toEqual({
      hours: 2 + 23,
      spanCount: 2,
      spans: [
        { fromHour: june1 + 2, toHour: june1 + 3 },
        { fromHour: june1 + 5, toHour: june2 + 3 },
      ],
    });
  });

  it('takes a leap day in a leap year only, and rain is never negative', () => {
    const leap = (year: string, rain = '0'): string =>
      `${head.join('\n')}\n${line({ month: 2, day: 29, hour: 1, rain })}`.replace('\n2019,', `\n${year},`);
    expect(readEpw(leap('2020')).goodHours).toBe(1);
    expect(readEpw(leap('2019')).badLines[0]?.reason).toBe('there is no such day in the month');
    expect(readEpw(leap('2020', '-0.3')).badLines).toEqual([
      { line: 5, reason: 'rain is negative: -0.3 mm', value: '-0.3' },
    ]);
  });

  it('takes minute 60 and minute 0 alike and refuses several lines an hour', () => {
    const text = file([{ hour: 1 }]);
    const minute = (value: string): string => text.replace('2019,6,1,1,0,', `2019,6,1,1,${value},`);
    expect(readEpw(minute('60')).record?.hourIndex).toEqual(readEpw(minute('0')).record?.hourIndex);
    expect(readEpw(minute('30')).badLines[0]?.reason).toBe('minute 30 is no full hour');
    expect(readEpw(text.replace('PERIODS,1,1,', 'PERIODS,1,4,')).badLines[0]?.reason).toContain(
      '4 lines an hour',
    );
  });

  it('says that a file ends within a day', () => {
    expect(codes(readEpw(file(fullDay(1))).warnings)).not.toContain('ends-in-a-day');
    expect(codes(readEpw(file(fullDay(1).slice(0, 20))).warnings)).toContain('ends-in-a-day');
  });

  it('knows a year put together from months of different years, in which the time between is no gap', () => {
    const month = (year: number, at: number): string[] =>
      Array.from({ length: daysInMonth(2019, at) }, (_, day) => fullDay(day + 1))
        .flat()
        .map((hour) => line({ ...hour, month: at }).replace('2019,', `${year},`));
    const made = [2015, 2008, 2017].flatMap((year, at) => month(year, at + 1));
    const reading = readEpw([...head, ...made].join('\n'));
    expect(reading.record?.typicalYear).toBe(true);
    expect(reading.gaps.hours).toBe(0);
    expect(codes(reading.warnings)).toContain('years-mixed');
    const short = [2015, 2008, 2017].flatMap((year, at) =>
      month(year, at + 1).slice(0, at === 1 ? -24 : undefined),
    );
    expect(readEpw([...head, ...short].join('\n')).gaps.hours).toBe(24);
    const running = [2015, 2015, 2015].flatMap((year, at) => month(year, at + 1));
    expect(readEpw([...head, ...running].join('\n')).record?.typicalYear).toBe(false);
  });

  it('lists the first 200 bad lines and counts all', () => {
    const many = readEpw([...head, ...Array.from({ length: 500 }, () => line({ hour: 99 }))].join('\n'));
    expect([many.badLines.length, many.badLineCount]).toEqual([200, 500]);
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
