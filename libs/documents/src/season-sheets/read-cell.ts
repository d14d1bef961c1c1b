/** What a cell of a spreadsheet means in a column of a season file. */
import type { NamedColumn } from '../../../contracts/src/season-file/index.ts';
import { toLocalDate } from '../../../kernel/src/index.ts';
import { unguardFormula } from '../csv/formula-guard.ts';
import { type RawCell, type RawTable, rawText } from '../raw-table.ts';
import type { SheetFaultCode } from '../sheet-fault.ts';

export type CellReading =
  | { readonly kind: 'empty' }
  | { readonly kind: 'value'; readonly value: string | number | boolean }
  | {
      readonly kind: 'fault';
      readonly code: SheetFaultCode;
      readonly message: string;
      readonly expected: string;
    };

type Format = Pick<RawTable, 'from' | 'decimalComma'>;
type Column = Pick<NamedColumn, 'name' | 'kind' | 'choices' | 'expected'>;

/** Day number of the 1900 system of 1970-01-01. */
const SERIAL_OF_1970 = 25_569;
/** The 1900 system has a 29 February 1900 that never was, so its day numbers are right from 61 on. */
const FIRST_SOUND_SERIAL = 61;
const LAST_SERIAL = 2_958_465;
/** A bare number in a date column is taken for a day number from 1954 to 2119 only. */
const PLAUSIBLE_SERIALS = [20_000, 80_000] as const;

const empty: CellReading = { kind: 'empty' };
const value = (found: string | number | boolean): CellReading => ({ kind: 'value', value: found });

/**
 * The value of a cell for its column; a text that does not fit the column's kind is handed on as it is, for the season
 * file's own check to say so. What only a spreadsheet can get wrong is a fault here.
 */
export function readCell(cell: RawCell | undefined, column: Column, format: Format): CellReading {
  if (!cell) return empty;
  const fault = (code: SheetFaultCode, what: string, expected = column.expected): CellReading => ({
    kind: 'fault',
    code,
    message: `"${column.name}" ${what}`,
    expected,
  });
  if (cell.kind === 'error') return fault('error-cell', `is the error ${cell.error}.`);
  if (cell.kind === 'not-calculated') {
    const expected = `${column.expected}; open the workbook in a spreadsheet program and save it, or write the value`;
    return fault('not-calculated', 'is a formula that no program has worked out.', expected);
  }
  const text = cell.kind === 'text' ? trimmed(cell.text, format) : '';
  if (cell.kind === 'text' && text === '') return empty;
  if (text.includes('\0')) return fault('bad-value', 'holds a NUL character.');
  switch (column.kind) {
    case 'integer':
    case 'number':
      return readNumber(cell, text, column, format, fault);
    case 'boolean':
      return readBoolean(cell, text);
    case 'date':
      return readDate(cell, text, fault);
    case 'time':
      return readTime(cell, text, fault);
    case 'text':
    case 'choice':
    case 'instant':
      return readText(cell, text, column, fault);
  }
}

type MakeFault = (code: SheetFaultCode, what: string, expected?: string) => CellReading;

function trimmed(text: string, format: Format): string {
  return format.from === 'csv' ? unguardFormula(text.trim()) : text.trim();
}

function readText(cell: RawCell, text: string, column: Column, fault: MakeFault): CellReading {
  if (cell.kind === 'text') {
    const choice = column.choices?.find((known) => known.toLowerCase() === text.toLowerCase());
    return value(choice ?? text);
  }
  if (cell.kind === 'number') {
    const number = Number(cell.digits);
    if (Number.isSafeInteger(number)) return value(String(number));
    return fault('wrong-kind', `is the number ${cell.digits}, which may have lost digits.`, asText(column));
  }
  const kind = cell.kind === 'boolean' ? 'a true/false cell' : 'a date cell';
  return fault('wrong-kind', `is ${kind} (${rawText(cell)}), a text is needed.`, asText(column));
}

function asText(column: Column): string {
  return `${column.expected}, in a cell that is formatted as text`;
}

function readNumber(
  cell: RawCell,
  text: string,
  column: Column,
  format: Format,
  fault: MakeFault,
): CellReading {
  if (cell.kind === 'number') return numberValue(Number(cell.digits), cell.digits, column, fault);
  if (cell.kind === 'serial' || cell.kind === 'iso')
    return fault('wrong-kind', 'is a date cell, a number is needed.');
  if (cell.kind !== 'text') return value(rawText(cell));
  if (format.decimalComma && /^[+-]?\d{1,3}(?:\.\d{3})+$/.test(text)) {
    const expected = `${column.expected}, without separators of thousands`;
    return fault(
      'ambiguous',
      `is "${text}"; the point may be a decimal sign or separate thousands.`,
      expected,
    );
  }
  const plain = format.decimalComma ? text.replace(',', '.') : text;
  if (/^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?$/.test(plain)) {
    return numberValue(Number(plain), text, column, fault);
  }
  if (/^[+-]?\d{1,3}(?:[ ,.'\u00a0\u202f]\d{3})+(?:[.,]\d+)?$/.test(text) || /^[+-]?\d+,\d+$/.test(text)) {
    const expected = `${column.expected}, with a point as decimal sign and without separators of thousands`;
    return fault(
      'ambiguous',
      `is "${text}"; its comma, point or space may mean more than one thing.`,
      expected,
    );
  }
  return value(text);
}

function numberValue(number: number, shown: string, column: Column, fault: MakeFault): CellReading {
  if (column.kind === 'integer' && !Number.isInteger(number))
    return fault('bad-value', `is ${shown}, not a whole number.`);
  // Plus 0 turns -0 into 0.
  return Number.isFinite(number) ? value(number + 0) : fault('bad-value', `is ${shown}, which is too large.`);
}

function readBoolean(cell: RawCell, text: string): CellReading {
  if (cell.kind === 'boolean') return value(cell.value);
  const word = cell.kind === 'text' ? text.toLowerCase() : rawText(cell);
  if (['yes', 'true', '1'].includes(word)) return value(true);
  if (['no', 'false', '0'].includes(word)) return value(false);
  return value(cell.kind === 'text' ? text : rawText(cell));
}

function readDate(cell: RawCell, text: string, fault: MakeFault): CellReading {
  if (cell.kind === 'serial') return dateOfSerial(cell.days + cell.epochShiftDays, cell.days, fault);
  if (cell.kind === 'number') {
    const days = Number(cell.digits);
    const [first, last] = PLAUSIBLE_SERIALS;
    // Without a date format nothing tells which system it counts in, save that almost all count from 1900.
    return days >= first && days <= last ? dateOfSerial(days, days, fault) : value(cell.digits);
  }
  if (cell.kind === 'boolean') return value(String(cell.value));
  const written = cell.kind === 'iso' ? cell.text : text;
  const iso = /^(\d{4}-\d{2}-\d{2})(?:[T ](\d{2}:\d{2}(?::\d{2}(?:\.0+)?)?)(?:Z|[+-]\d{2}:\d{2})?)?$/.exec(
    written,
  );
  if (iso) {
    if (iso[2] === undefined || /^00:00(?::00(?:\.0+)?)?$/.test(iso[2])) return value(iso[1] as string);
    return fault('bad-value', `is "${written}", a date with a time of day.`);
  }
  if (/^\d{1,4}[./-]\d{1,2}[./-]\d{1,4}$/.test(written)) {
    const expected = 'year-month-day such as 2026-05-04, or a date cell of a workbook';
    return fault(
      'ambiguous',
      `is "${written}"; which part is the day, month and year cannot be told.`,
      expected,
    );
  }
  return value(written);
}

function dateOfSerial(serial: number, shown: number, fault: MakeFault): CellReading {
  if (!Number.isInteger(serial)) return fault('bad-value', `is a date with a time of day (${shown}).`);
  if (serial < FIRST_SOUND_SERIAL || serial > LAST_SERIAL)
    return fault('bad-value', `is the day number ${shown}.`);
  return value(toLocalDate(serial - SERIAL_OF_1970));
}

function readTime(cell: RawCell, text: string, fault: MakeFault): CellReading {
  if (cell.kind === 'text') {
    const time = /^(\d{1,2}):(\d{2})(?::00)?$/.exec(text);
    return value(time ? `${(time[1] as string).padStart(2, '0')}:${time[2]}` : text);
  }
  const days = cell.kind === 'serial' ? cell.days : cell.kind === 'number' ? Number(cell.digits) : Number.NaN;
  const minutes = Math.round(days * 1440);
  // A fraction of a day in binary is never exact: a thousandth of a minute is taken for one.
  if (!(days >= 0 && minutes < 1440 && Math.abs(days * 1440 - minutes) < 0.001)) {
    return fault('bad-value', `is ${rawText(cell)}, not a time of day in whole minutes.`);
  }
  const two = (part: number): string => String(part).padStart(2, '0');
  return value(`${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`);
}
