import { describe, expect, it } from '@jest/globals';
import { growingRecord, recordOf } from './index.ts';

const head = {
  place: { name: 'invented', lat: 0, lon: 0, elevationM: null },
  source: 'invented',
  standardOffsetMin: 0,
  typicalYear: false,
};

describe('a growing record', () => {
  it('keeps what is left out as missing, and thunder unknown', () => {
    const record = recordOf({
      ...head,
      start: '1970-01-02T03',
      hours: [{ tempC: 1, thunder: false }, null, { rainMm: 2, gustMps: null, thunder: true }],
    });
    expect([...record.hourIndex]).toEqual([27, 29]);
    expect([...record.tempC]).toEqual([1, Number.NaN]);
    expect([...record.rainMm]).toEqual([Number.NaN, 2]);
    expect([...record.gustMps]).toEqual([Number.NaN, Number.NaN]);
    expect([...record.thunder]).toEqual([0, 1]);
  });

  it('puts hours in order and keeps the first of two', () => {
    const growing = growingRecord();
    for (const [at, hour] of [5, 3, 5, 4, 3].entries()) growing.add(hour, { tempC: at }, at + 10);
    const { record, doubled } = growing.finish(head);
    expect([...record.hourIndex]).toEqual([3, 4, 5]);
    expect([...record.tempC]).toEqual([1, 3, 0]);
    expect(doubled).toEqual([
      { hourIndex: 3, line: 14, firstLine: 11 },
      { hourIndex: 5, line: 12, firstLine: 10 },
    ]);
  });

  it('holds forty years in 25 bytes an hour, with no spare room left', () => {
    const growing = growingRecord();
    for (let hour = 0; hour < 350_000; hour += 1) growing.add(hour, { windMps: hour % 7 });
    const { record } = growing.finish(head);
    const { hourIndex, tempC, dewPointC, rainMm, windMps, gustMps, thunder } = record;
    const bytes = [hourIndex, tempC, dewPointC, rainMm, windMps, gustMps, thunder].reduce(
      (sum, column) => sum + column.buffer.byteLength,
      0,
    );
    expect(bytes).toBe(350_000 * 25);
    expect(windMps[349_999]).toBe(349_999 % 7);
  });
});
