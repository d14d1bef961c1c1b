/** What a sheet holds before anything is known about its meaning: the same for workbooks and CSV files. */

export type RawCell =
  | { readonly kind: 'text'; readonly text: string }
  /** `digits` is the number as it is written in the file, so that nothing is lost on the way. */
  | { readonly kind: 'number'; readonly digits: string }
  | { readonly kind: 'boolean'; readonly value: boolean }
  /**
   * A number that is shown as a date, time or both. `days + epochShiftDays` is the day number of the 1900 system; a
   * time of day is a fraction of one day without a shift.
   */
  | { readonly kind: 'serial'; readonly days: number; readonly epochShiftDays: number }
  /** A date cell that is written as ISO 8601 text. */
  | { readonly kind: 'iso'; readonly text: string }
  /** `#REF!` and its like. */
  | { readonly kind: 'error'; readonly error: string }
  /** A formula that no program has worked out. */
  | { readonly kind: 'not-calculated' };

export interface RawRow {
  /** Row number as a spreadsheet program shows it, from 1. */
  readonly number: number;
  /** Cells by column number, from 1; empty ones are left out. */
  readonly cells: ReadonlyMap<number, RawCell>;
}

export interface RawTable {
  /** Name of the sheet, or of the file. */
  readonly name: string;
  readonly from: 'workbook' | 'csv';
  /** Rows that hold something, in order. */
  readonly rows: readonly RawRow[];
  /** Ranges of merged cells, such as "B2:B4". */
  readonly merged: readonly string[];
  /** Whether a comma in a number is its decimal sign. */
  readonly decimalComma: boolean;
}

/** A cell as a person would write it, for messages. */
export function rawText(cell: RawCell | undefined): string {
  if (!cell) return '';
  switch (cell.kind) {
    case 'text':
    case 'iso':
      return cell.text;
    case 'number':
      return cell.digits;
    case 'boolean':
      return String(cell.value);
    case 'serial':
      return String(cell.days);
    case 'error':
      return cell.error;
    case 'not-calculated':
      return '';
  }
}
