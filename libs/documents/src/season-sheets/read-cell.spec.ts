import type { ColumnKind } from '../../../contracts/src/season-file/index.ts';
import type { RawCell } from '../raw-table.ts';
import { readCell } from './read-cell.ts';

const text = (written: string): RawCell => ({ kind: 'text', text: written });
const number = (digits: string): RawCell => ({ kind: 'number', digits });
const serial = (days: number, epochShiftDays = 0): RawCell => ({ kind: 'serial', days, epochShiftDays });

const workbook = { from: 'workbook', decimalComma: false } as const;
const csv = { from: 'csv', decimalComma: false } as const;
const semicolonCsv = { from: 'csv', decimalComma: true } as const;

/** The value, or the code of the fault, or nothing for an empty cell. */
function read(
  cell: RawCell | undefined,
  kind: ColumnKind,
  format: Parameters<typeof readCell>[2] = workbook,
): unknown {
  const choices = kind === 'choice' ? ['build', 'return'] : null;
  const reading = readCell(cell, { name: 'x', kind, choices, expected: 'right' }, format);
  return reading.kind === 'value'
    ? reading.value
    : reading.kind === 'fault'
      ? { fault: reading.code }
      : undefined;
}

const fault = (code: string): unknown => ({ fault: code });

describe('Cells as values', () => {
  test.each<[RawCell | undefined, ColumnKind, unknown]>([
    [undefined, 'text', undefined],
    [text('   '), 'integer', undefined],
    [text('  a  b '), 'text', 'a  b'],
    [text('0042'), 'text', '0042'],
    [number('42'), 'text', '42'],
    [number('4.2'), 'text', fault('wrong-kind')],
    [number('12345678901234567890'), 'text', fault('wrong-kind')],
    [serial(46146), 'text', fault('wrong-kind')],
    [{ kind: 'boolean', value: true }, 'text', fault('wrong-kind')],
    [text('a\0b'), 'text', fault('bad-value')],
    [text('Build'), 'choice', 'build'],
    [text('bilud'), 'choice', 'bilud'],
    [{ kind: 'error', error: '#REF!' }, 'text', fault('error-cell')],
    [{ kind: 'not-calculated' }, 'number', fault('not-calculated')],
  ])('%j in a %s column', (cell, kind, expected) => {
    expect(read(cell, kind)).toEqual(expected);
  });

  test.each<[RawCell, ColumnKind, unknown]>([
    [number('3'), 'integer', 3],
    [number('3.0'), 'integer', 3],
    [number('3.5'), 'integer', fault('bad-value')],
    [number('0.1'), 'number', 0.1],
    [number('1.2345678901234567E-3'), 'number', 1.2345678901234567e-3],
    [number('-0'), 'number', 0],
    [text('12'), 'integer', 12],
    [text('1200.50'), 'number', 1200.5],
    [text('1,5'), 'number', fault('ambiguous')],
    [text('1,200'), 'integer', fault('ambiguous')],
    [text('1 200'), 'integer', fault('ambiguous')],
    [text('50 %'), 'number', '50 %'],
    [text('1e999'), 'number', fault('bad-value')],
    [serial(2), 'number', fault('wrong-kind')],
  ])('%j in a %s column', (cell, kind, expected) => {
    expect(read(cell, kind)).toEqual(expected);
  });

  test('a comma is a decimal sign only in a CSV file with semicolons, and there a point may be two things', () => {
    expect(read(text('1,5'), 'number', semicolonCsv)).toBe(1.5);
    expect(read(text('1,5'), 'integer', semicolonCsv)).toEqual(fault('bad-value'));
    expect(read(text('1.5'), 'number', semicolonCsv)).toBe(1.5);
    expect(read(text('1.500'), 'number', semicolonCsv)).toEqual(fault('ambiguous'));
    expect(read(text('1.500'), 'number', csv)).toBe(1.5);
    expect(read(text('1,5'), 'number', csv)).toEqual(fault('ambiguous'));
  });

  test.each<[RawCell, unknown]>([
    [text('Yes'), true],
    [text('NO'), false],
    [text('true'), true],
    [text('0'), false],
    [number('1'), true],
    [number('0'), false],
    [{ kind: 'boolean', value: false }, false],
    [text('perhaps'), 'perhaps'],
    [number('2'), '2'],
  ])('%j in a yes/no column', (cell, expected) => {
    expect(read(cell, 'boolean')).toEqual(expected);
  });

  // Day numbers: 25569 is 1970-01-01 and 61 is 1900-03-01 in the 1900 system of ECMA-376 part 1, 18.17.4.1, which has a
  // 29 February 1900 that never was; 0 is 1904-01-01 in the 1904 system, 1462 days later.
  test.each<[RawCell, unknown]>([
    [serial(25569), '1970-01-01'],
    [serial(61), '1900-03-01'],
    [serial(60), fault('bad-value')],
    [serial(0, 1462), '1904-01-01'],
    [serial(44684, 1462), '2026-05-04'],
    [serial(46146), '2026-05-04'],
    [serial(46146.5), fault('bad-value')],
    [number('46146'), '2026-05-04'],
    [number('5'), '5'],
    [text('2026-05-04'), '2026-05-04'],
    [text('2026-05-04 00:00:00'), '2026-05-04'],
    [text('2026-05-04T10:00:00'), fault('bad-value')],
    [{ kind: 'iso', text: '2026-05-04T00:00:00.000Z' }, '2026-05-04'],
    [text('04/05/2026'), fault('ambiguous')],
    [text('4.5.26'), fault('ambiguous')],
    [text('May 4'), 'May 4'],
  ])('%j in a date column', (cell, expected) => {
    expect(read(cell, 'date')).toEqual(expected);
  });

  test.each<[RawCell, unknown]>([
    [text('08:00'), '08:00'],
    [text('8:05:00'), '08:05'],
    [text('8'), '8'],
    [serial(0.333333333333333), '08:00'],
    [serial(0.25, 1462), '06:00'],
    [serial(0.9999999), fault('bad-value')],
    [serial(1.5), fault('bad-value')],
    [serial(0.3334), fault('bad-value')],
  ])('%j in a time column', (cell, expected) => {
    expect(read(cell, 'time')).toEqual(expected);
  });

  test('an apostrophe that guards a formula is taken off in CSV files only', () => {
    expect(read(text("'=1+1"), 'text', csv)).toBe('=1+1');
    expect(read(text("''=1"), 'text', csv)).toBe("'=1");
    expect(read(text("'tis"), 'text', csv)).toBe("'tis");
    expect(read(text("'=1+1"), 'text', workbook)).toBe("'=1+1");
    expect(read(text("'-5"), 'integer', csv)).toBe(-5);
  });
});
