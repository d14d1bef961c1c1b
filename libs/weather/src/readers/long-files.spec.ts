import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { parseInstant } from '../../../kernel/src/index.ts';
import {
  csvReader,
  epwReader,
  type HourlyRecord,
  lineFeeder,
  localDateOfHour,
  metarReader,
  readText,
} from '../index.ts';

/** Pieces of an EPW file of many years, as a stream brings them: they end anywhere in a line, and none is kept. */
function* pieces(hours: number): Generator<string> {
  let text =
    'LOCATION,Invented Head,-,CAN,invented,000000,44.65,-63.57,-4.0,30.0\r\nDATA PERIODS,1,1,Data,Sunday,1/1,12/31\r\n';
  const rest = new Array<string>(13).fill('9999');
  const end = new Array<string>(11).fill('99');
  for (let at = 0; at < hours; at += 1) {
    const { year, month, dayOfMonth, hour } = localDateOfHour(90_000 + at);
    const wet = at % 50 === 0 ? '1.5' : '0';
    text += `${year},${month},${dayOfMonth},${hour + 1},60,?9,${at % 30},${(at % 30) - 2},${rest.join(',')},${(at % 13) / 2},${end.join(',')},${wet},1\r\n`;
    while (text.length >= 8000) {
      yield text.slice(0, 8000);
      text = text.slice(8000);
    }
  }
  yield text;
}

const bytesOf = ({ hourIndex, tempC, dewPointC, rainMm, windMps, gustMps, thunder }: HourlyRecord): number =>
  [hourIndex, tempC, dewPointC, rainMm, windMps, gustMps, thunder].reduce(
    (sum, column) => sum + column.buffer.byteLength,
    0,
  );

describe('a file of forty years', () => {
  it('is read piece by piece and ends as 25 bytes an hour', () => {
    const hours = 350_640;
    const reader = epwReader();
    const feeder = lineFeeder(reader);
    for (const piece of pieces(hours)) feeder.feed(piece);
    feeder.end();
    const { record, badLineCount, gaps } = reader.finish({ keepGood: false });
    if (!record) throw new Error('the file is good');
    expect([badLineCount, gaps.hours, record.hourIndex.length]).toEqual([0, 0, hours]);
    expect([record.hourIndex[0], record.hourIndex.at(-1)]).toEqual([90_000, 90_000 + hours - 1]);
    expect(bytesOf(record)).toBe(hours * 25);
    // A year of a site is well under a megabyte.
    expect((bytesOf(record) / hours) * 8784).toBeLessThan(250_000);
    expect(record.rainMm[50]).toBe(1.5);
    expect(record.windMps[12]).toBe(6);
  });
});

describe('any text at all', () => {
  const head = { place: { name: '', lat: 0, lon: 0, elevationM: null }, source: '' };
  it('goes through every reader without a throw', () => {
    const word = fc.constantFrom(
      ...[
        'LOCATION,a,b,c,d,e,1,1,1,1',
        'DATA PERIODS,1,1',
        '2019,6,1,1,0',
        ',',
        '\n',
        '999',
        'METAR',
        'YUDO 221630Z',
        ' ',
        '24004MPS',
        '201901010000',
        '\uFEFF',
        '-1',
        'x',
      ],
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(word).map((words) => words.join('')),
        ),
        fc.boolean(),
        (text, keepGood) => {
          for (const reader of [
            epwReader(),
            csvReader(head),
            metarReader({ ...head, reference: parseInstant('2025-01-01T00:00:00Z') }),
          ]) {
            const { record, badLines, badLineCount } = readText(reader, text, { keepGood });
            expect(badLines.length).toBeLessThanOrEqual(badLineCount);
            if (badLineCount > 0 && !keepGood) expect(record).toBeNull();
          }
        },
      ),
      { numRuns: 500 },
    );
  });
});
