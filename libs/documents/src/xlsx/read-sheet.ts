import type { RawCell, RawRow } from '../raw-table.ts';
import { UnreadableSheet } from '../sheet-fault.ts';
import { StringItem } from './read-strings.ts';
import { readXml } from './read-xml.ts';
import { decodeXlsxText } from './xlsx-text.ts';

export interface SheetContext {
  readonly sheet: string;
  readonly part: string;
  readonly sharedStrings: readonly string[];
  readonly dateStyles: readonly boolean[];
  readonly epochShiftDays: number;
  /** Called for each cell that holds something; throws when there are too many. */
  countCell(): void;
}

interface OpenCell {
  readonly column: number;
  readonly type: string;
  readonly style: number;
  value: string | null;
  hasFormula: boolean;
  inline: StringItem | null;
}

/** The cells of one worksheet part. Cells that hold nothing take no room, whatever their address. */
export function readSheet(bytes: Uint8Array, context: SheetContext): { rows: RawRow[]; merged: string[] } {
  const rows = new Map<number, Map<number, RawCell>>();
  const merged: string[] = [];
  let inData = false;
  let rowNumber = 0;
  let column = 0;
  let cell: OpenCell | null = null;
  let inValue = false;

  readXml(bytes, context.part, {
    open: (name, attribute) => {
      if (name === 'sheetData') inData = true;
      else if (name === 'mergeCell') merged.push(attribute('ref') ?? '');
      else if (!inData) return;
      else if (name === 'row') {
        // Without a number a row follows the one before it, and so does a cell.
        rowNumber = positive(attribute('r')) ?? rowNumber + 1;
        column = 0;
      } else if (name === 'c') {
        const address = /^([A-Za-z]{1,3})([0-9]{1,7})$/.exec(attribute('r') ?? '');
        if (address) rowNumber = Number(address[2]);
        column = address ? columnNumber(address[1] as string) : column + 1;
        const type = attribute('t') ?? 'n';
        const style = Number(attribute('s') ?? 0);
        cell = { column, type, style, value: null, hasFormula: false, inline: null };
      } else if (!cell) return;
      else if (name === 'v') {
        inValue = true;
        cell.value ??= '';
      } else if (name === 'f') cell.hasFormula = true;
      else if (name === 'is') cell.inline = new StringItem();
      else cell.inline?.open(name);
    },
    close: (name) => {
      if (name === 'sheetData') inData = false;
      else if (name === 'v') inValue = false;
      else if (name === 'c' && cell) {
        const value = cellValue(cell, rowNumber, context);
        if (value) {
          context.countCell();
          const cells = rows.get(rowNumber) ?? new Map<number, RawCell>();
          cells.set(cell.column, value);
          rows.set(rowNumber, cells);
        }
        cell = null;
      } else cell?.inline?.close(name);
    },
    text: (text) => {
      if (!cell) return;
      if (inValue) cell.value += text;
      else cell.inline?.add(text);
    },
  });
  const inOrder = [...rows].sort(([a], [b]) => a - b).map(([number, cells]) => ({ number, cells }));
  return { rows: inOrder, merged };
}

function cellValue(cell: OpenCell, row: number, context: SheetContext): RawCell | null {
  const { type, value } = cell;
  if (type === 'inlineStr') return textCell(cell.inline?.value() ?? '');
  if (value === null || (value === '' && type !== 'str'))
    return cell.hasFormula ? { kind: 'not-calculated' } : null;
  switch (type) {
    case 's': {
      const text = context.sharedStrings[Number(value)];
      if (text === undefined) throw broken(row, context, `names a shared text ${value} that is not there`);
      return textCell(text);
    }
    case 'str':
      return textCell(decodeXlsxText(value));
    case 'b':
      return { kind: 'boolean', value: value === '1' || value === 'true' };
    case 'e':
      return { kind: 'error', error: value };
    case 'd':
      return { kind: 'iso', text: value.trim() };
    case 'n': {
      const digits = value.trim();
      const number = Number(digits);
      if (digits === '' || !Number.isFinite(number))
        throw broken(row, context, `holds the number "${value}"`);
      if (context.dateStyles[cell.style]) {
        return { kind: 'serial', days: number, epochShiftDays: context.epochShiftDays };
      }
      return { kind: 'number', digits };
    }
    default:
      throw broken(row, context, `is of the unknown type "${type}"`);
  }
}

function textCell(text: string): RawCell | null {
  return text === '' ? null : { kind: 'text', text };
}

function broken(row: number, context: SheetContext, what: string): UnreadableSheet {
  const message = `The workbook is damaged: a cell in row ${row} of sheet ${context.sheet} ${what}.`;
  return new UnreadableSheet('cannot-be-read', message, 'a whole .xlsx workbook', context.sheet, row);
}

function positive(text: string | undefined): number | null {
  const number = Number(text);
  return Number.isSafeInteger(number) && number > 0 ? number : null;
}

function columnNumber(letters: string): number {
  let number = 0;
  for (const letter of letters.toUpperCase()) number = number * 26 + letter.charCodeAt(0) - 64;
  return number;
}
