import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import {
  type CsvOptions,
  csvReader,
  hourlyCsv,
  hourText,
  lineFeeder,
  type Reading,
  readText,
  recordOf,
} from '../index.ts';

const place = { name: 'Invented Head', lat: 44.6, lon: -63.5, elevationM: 30 };
const read = (text: string, options: Partial<CsvOptions> = {}, keepGood = true): Reading =>
  readText(csvReader({ place, source: 'invented', ...options }), text, { keepGood });
const rows = (...lines: string[]): string => lines.join('\n');
const values = (column: ArrayLike<number> | undefined): number[] =>
  Array.from(column ?? [], (value) => Number(value.toFixed(4)));
const hours = ({ record }: Reading): string[] => Array.from(record?.hourIndex ?? [], hourText);
const codes = ({ warnings }: Reading): string[] => warnings.map(({ code }) => code);

describe('the reader of tables', () => {
  it('knows units from headers and converts them', () => {
    // Exact: 1 kn = 1852 m/h, 1 mile = 1609.344 m, 1 in = 25.4 mm, F = 32 + 9/5 C, K = C + 273.15.
    for (const [header, cells, expected] of [
      ['wind_speed (m/s),gust_kmh,temp [F],precip (in)', '5,36,50,0.1', [5, 10, 10, 2.54]],
      [
        'Wind Speed [kn];Wind gusts [kt];Air temperature (K);Rain (cm)',
        '10;20;283,15;0,1',
        [5.1444, 10.2889, 10, 1],
      ],
      ['windMps\tgustMps\ttempC\trainMm', '1\t2\t3\t4', [1, 2, 3, 4]],
      [
        '"wind mph","gust (ft/s)","temperature_2m (°C)","rainfall mm"',
        '"10","20","-5","0"',
        [4.4704, 6.096, -5, 0],
      ],
    ] as const) {
      const separator = /[;\t]/.exec(header)?.[0] ?? ',';
      const { record, badLines } = read(
        rows(`time${separator}${header}`, `2025-01-01T00:00Z${separator}${cells}`),
      );
      expect([header, badLines]).toEqual([header, []]);
      expect(
        [record?.windMps, record?.gustMps, record?.tempC, record?.rainMm].map((column) => values(column)[0]),
      ).toEqual([...expected]);
    }
  });

  it('makes a dew point of humidity, and passes over columns that it does not read', () => {
    const reading = read(
      rows('\uFEFFtime (UTC);temp (C);RH (%);wind direction', '2025-06-01 12:00;20,0;50;270'),
    );
    expect(values(reading.record?.dewPointC)[0]).toBeCloseTo(9.255, 3);
    expect(reading.warnings[0]).toEqual({
      code: 'columns-ignored',
      words: 'Columns that were not read: wind direction.',
    });
  });

  it('does not guess: no unit, no time, no offset, two of a kind', () => {
    for (const [header, row, words, options] of [
      ['time,wind', '', 'does not say its unit'],
      ['time,wind (beaufort)', '', '"beaufort" of the column "wind (beaufort)" is no unit'],
      ['time,wind (C)', '', 'no unit of windMps'],
      ['wind (m/s)', '', 'no column holds the time'],
      ['time,clouds', '', 'no column holds weather'],
      ['time,wind (m/s),ff (kn)', '', 'both look like windMps'],
      ['time,wind (m/s)', '2025-01-01 00:00,1', 'the time has no offset'],
      ['time,wind (m/s)', '01/02/2025 00:00,1', 'the date is not YYYY-MM-DD'],
      ['time,x', '', 'there is no column "y"', { columns: { y: { field: 'windMps' } } }],
      ['{"a":1}', '', 'it looks like a JSON document'],
      ['', '', 'no header row'],
    ] as const) {
      const reading = read(rows(header, row), (options ?? {}) as Partial<CsvOptions>);
      expect([header, reading.record, reading.badLines[0]?.reason]).toEqual([
        header,
        null,
        expect.stringContaining(words),
      ]);
    }
  });

  it('takes columns, missing marks and lines before the header by hand', () => {
    const reading = read(
      rows(
        'station 12',
        'when,what,blow',
        '2025-01-01T00:00Z,7,18',
        '2025-01-01T01:00Z,x,36',
        '2025-01-01T02:00Z,-9999,36',
      ),
      {
        linesBeforeHeader: 1,
        columns: {
          when: { field: 'time' },
          what: { field: 'tempC', unit: 'C', missing: ['x'] },
          blow: { field: 'windMps', unit: 'km/h' },
        },
      },
    );
    expect(values(reading.record?.tempC)).toEqual([7, Number.NaN, Number.NaN]);
    expect(values(reading.record?.windMps)).toEqual([5, 10, 10]);
  });

  it('says line, reason and value of what it cannot read', () => {
    const text = rows(
      'time,wind (m/s),gust (m/s),rain (mm),note',
      '2025-01-01T00:00Z,5,4,0,',
      '2025-01-01T01:00Z,5,8,-0.1,',
      '2025-01-01T02:00Z,five,8,0,',
      '2025-01-01T03:00Z,5,8,0,"two',
      '2025-01-01T04:00Z,5,8',
      '2025-02-30T05:00Z,5,8,0,',
      '2025-01-01T25:00Z,5,8,0,',
      '2025-01-01T06:00Z,5,8,0,',
      '2025-01-01T06:00Z,6,8,0,',
      '2025-01-01T07:00Z,200,8,0,',
    );
    const reading = read(text);
    expect(reading.badLines.map(({ line, reason }) => `${line} ${reason}`)).toEqual([
      '2 the gust of 4 m/s is below the mean wind of 5 m/s',
      '3 rain is negative: -0.1 mm (column "rain (mm)" in mm)',
      '4 "wind (m/s)" is not a number',
      '5 a quoted cell does not end on its line; take line breaks out of cells',
      '6 3 cells where the header has 5; the line is cut short',
      '7 there is no such date',
      '8 the time is not HH:MM on a 24-hour clock',
      '10 this time is there already, on line 9; the first stays',
      '11 mean wind 200 m/s is outside 0 to 115 m/s (column "wind (m/s)" in m/s)',
    ]);
    expect(reading.badLines[2]?.value).toBe('five');
    expect(hours(reading)).toEqual(['2025-01-01 06:00']);
    expect(read(text, {}, false)).toMatchObject({ record: null, badLineCount: 9, goodHours: 1 });
  });

  it('reads dates of other orders, hours of 1 to 24 that name their end, and 24:00', () => {
    const reading = read(
      rows(
        'Date (MM/DD/YYYY),Time (HH:MM),Wspd (m/s)',
        '01/31/1997,23:00,1',
        '01/31/1997,24:00,2',
        '02/01/1997,01:00,3',
      ),
      { dateOrder: 'mdy', stampIs: 'end', clock: { offsetMin: -540 } },
    );
    expect(hours(reading)).toEqual(['1997-01-31 22:00', '1997-01-31 23:00', '1997-02-01 00:00']);
    expect(reading.record?.standardOffsetMin).toBe(-540);
  });
});

describe('civil time in tables', () => {
  const table = (...times: string[]): string =>
    rows('time,wind (m/s)', ...times.map((time, at) => `${time},${at}`));
  const halifax = { clock: { zone: 'America/Halifax' } };

  // Halifax 2025: clocks forward on 9 March at 02:00 AST, back on 2 November at 02:00 ADT (IANA time zone data).
  it('puts summer time back onto the standard clock', () => {
    const spring = read(table('2025-03-09 01:00', '2025-03-09 03:00', '2025-07-01 12:00'), halifax);
    expect(hours(spring)).toEqual(['2025-03-09 01:00', '2025-03-09 02:00', '2025-07-01 11:00']);
    expect(spring.record?.standardOffsetMin).toBe(-240);
  });

  it('has no hour for a time that the clocks skip', () => {
    const reading = read(table('2025-03-09 01:00', '2025-03-09 02:30', '2025-03-09 03:00'), halifax);
    expect(reading.badLines).toEqual([
      { line: 3, reason: 'the clocks of America/Halifax skip this time', value: '2025-03-09 02:30' },
    ]);
  });

  it('keeps both hours of an overlap in order, and says when there is only one', () => {
    const both = read(
      table('2025-11-02 00:00', '2025-11-02 01:00', '2025-11-02 01:00', '2025-11-02 02:00'),
      halifax,
    );
    expect(hours(both)).toEqual([
      '2025-11-01 23:00',
      '2025-11-02 00:00',
      '2025-11-02 01:00',
      '2025-11-02 02:00',
    ]);
    expect([both.badLineCount, codes(both)]).toEqual([0, expect.not.arrayContaining(['overlap-once'])]);
    const one = read(table('2025-11-02 00:00', '2025-11-02 01:00', '2025-11-02 02:00'), halifax);
    expect(one.gaps.hours).toBe(1);
    expect(codes(one)).toContain('overlap-once');
  });

  it('reads half-hour zones and changes of half an hour', () => {
    const india = read(table('2025-05-01 00:00'), { clock: { zone: 'Asia/Kolkata' } });
    expect([hours(india), india.record?.standardOffsetMin]).toEqual([['2025-05-01 00:00'], 330]);
    const lordHowe = read(table('2025-04-06 00:30', '2025-04-06 01:30', '2025-04-06 02:30'), {
      clock: { zone: 'Australia/Lord_Howe' },
    });
    expect([lordHowe.badLineCount, lordHowe.record?.standardOffsetMin]).toEqual([0, 630]);
  });

  it('warns of a file in civil time that is said to be in standard time', () => {
    const autumn = [
      '2025-11-02 00:00',
      '2025-11-02 01:00',
      '2025-11-02 02:00',
      '2025-11-02 01:00',
      '2025-11-02 03:00',
    ];
    const reading = read(table('2025-03-09 01:00', '2025-03-09 03:00', ...autumn), {
      clock: { offsetMin: -240 },
    });
    expect(codes(reading)).toContain('clock-change');
    expect(reading.badLines[0]).toMatchObject({
      line: 7,
      reason: expect.stringContaining('2025-11-02 01:00 is there already, on line 5'),
    });
  });
});

describe('reports of less than an hour', () => {
  it('become hours: means, highest gust, rain added up, nothing from hours with parts missing', () => {
    const lines = [0, 1, 2, 3].flatMap((hour) =>
      ['00', '20', '40'].map(
        (minute, at) => `2025-01-01T0${hour}:${minute}Z,${hour + at},${10 + at},0.${at},${at * 3},0`,
      ),
    );
    lines.splice(5, 1); // 01:40
    lines.splice(7, 2); // 02:40 and 03:00
    const reading = read(rows('time,windMps,gustMps,rainMm,tempC,thunder', ...lines));
    expect(codes(reading)).toContain('put-together');
    const { record } = reading;
    expect(hours(reading)).toHaveLength(4);
    expect(values(record?.windMps)).toEqual([1, 1.5, 2.5, 4.5]);
    expect(values(record?.gustMps)).toEqual([12, 11, 11, 12]);
    expect(values(record?.tempC)).toEqual([3, 1.5, 1.5, 4.5]);
    // Most hours of the month have two reports, so none of them lacks one.
    expect(values(record?.rainMm)).toEqual([0.3, 0.1, 0.1, 0.3]);
  });

  it('an hour with a report missing has no rain, and thunder in one report is thunder', () => {
    const lines = Array.from(
      { length: 30 },
      (_, at) =>
        `2025-01-01T${String(Math.floor(at / 3)).padStart(2, '0')}:${['00', '20', '40'][at % 3]}Z,1,0.1,${at === 4 ? 1 : 0}`,
    );
    lines.splice(9, 2);
    const { record } = read(rows('time,windMps,rainMm,thunder', ...lines));
    expect(values(record?.rainMm).slice(0, 5)).toEqual([0.3, 0.3, 0.3, Number.NaN, 0.3]);
    expect(values(record?.windMps)[3]).toBeNaN();
    expect([...(record?.thunder ?? [])].slice(0, 5)).toEqual([0, 1, 0, -1, 0]);
  });
});

describe('any text at all', () => {
  it('is read or refused, and nothing is thrown', () => {
    const piece = fc.constantFrom(
      'time',
      'wind (m/s)',
      ',',
      ';',
      '\n',
      '"',
      '2025-01-01T00:00Z',
      '1',
      '#',
      'rain mm',
      '\r',
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(piece).map((parts) => parts.join('')),
        ),
        fc.boolean(),
        (text, keepGood) => {
          const reading = read(text, { clock: { zone: 'Europe/Dublin' } }, keepGood);
          expect(reading.record === null || reading.record.hourIndex.length > 0).toBe(true);
        },
      ),
      { numRuns: 400 },
    );
  });

  it('that the writer wrote gives the same record', () => {
    const figure = (min: number, max: number) =>
      fc.option(
        fc.integer({ min: min * 1000, max: max * 1000 }).map((value) => value / 1000),
        { nil: null },
      );
    const hour = fc.record({
      tempC: figure(-40, 40),
      dewPointC: figure(-60, 30),
      rainMm: figure(0, 100),
      windMps: figure(0, 30),
      gustMps: figure(31, 60),
      thunder: fc.option(fc.boolean(), { nil: null }),
    });
    fc.assert(
      fc.property(
        fc.array(fc.option(hour, { nil: null }), { minLength: 1, maxLength: 60 }),
        fc.constantFrom(-570, -240, 0, 330, 345, 780),
        (given, standardOffsetMin) => {
          const record = recordOf({
            ...{ place, source: 'invented', standardOffsetMin, typicalYear: false },
            start: '2024-02-28T20',
            hours: given,
          });
          const text = [...hourlyCsv(record)].join('\n');
          const again = read(text, {}, false);
          if (record.hourIndex.length === 0) expect(again.record).toBeNull();
          else expect(again.record).toEqual(record);
        },
      ),
    );
  });

  it('comes in pieces of any size', () => {
    const text = 'time,windMps\r\n2025-01-01T00:00Z,1\r2025-01-01T01:00Z,2\n2025-01-01T02:00Z,3';
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: text.length }), { maxLength: 12 }), (cuts) => {
        const reader = csvReader({ place, source: 'invented' });
        const feeder = lineFeeder(reader);
        const at = [0, ...[...cuts].sort((a, b) => a - b), text.length];
        for (let index = 1; index < at.length; index += 1) feeder.feed(text.slice(at[index - 1], at[index]));
        feeder.end();
        expect([...(reader.finish({ keepGood: false }).record?.windMps ?? [])]).toEqual([1, 2, 3]);
      }),
    );
  });
});
