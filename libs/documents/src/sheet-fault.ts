import type { Fault, FaultCode } from '../../contracts/src/season-file/index.ts';

/** What can be wrong with a spreadsheet beside what can be wrong with the season in it. */
export type SheetFaultCode =
  | FaultCode
  /** The file cannot be read at all: protected, cut off, another format, another character encoding. */
  | 'cannot-be-read'
  | 'too-large'
  | 'unknown-sheet'
  | 'duplicate-sheet'
  | 'no-header'
  | 'missing-column'
  | 'duplicate-column'
  | 'outside-columns'
  | 'merged-cells'
  | 'error-cell'
  | 'not-calculated'
  | 'ambiguous';

/** A fault of the season file with the place where the user sees it in the spreadsheet. */
export interface SheetFault extends Omit<Fault, 'code'> {
  readonly code: SheetFaultCode;
  /** Name of the sheet or of the CSV file; "" for the file as a whole. */
  readonly sheet: string;
  /** Row as the spreadsheet program numbers it, the header being row 1; 0 when it is not about a row. */
  readonly sheetRow: number;
  /** Letter of the column in the spreadsheet; "" when it is not about a column. */
  readonly columnLetter: string;
}

/** The letters by which a spreadsheet program names a column; 1 is "A", 27 is "AA". */
export function columnLetter(column: number): string {
  let letters = '';
  for (let rest = column; rest > 0; rest = Math.floor((rest - 1) / 26)) {
    letters = String.fromCharCode(65 + ((rest - 1) % 26)) + letters;
  }
  return letters;
}

/** A fault of a file or sheet as a whole. */
export function wholeSheetFault(
  sheet: string,
  code: SheetFaultCode,
  message: string,
  expected: string,
  sheetRow = 0,
): SheetFault {
  return {
    table: '',
    row: 0,
    column: '',
    value: null,
    code,
    message,
    expected,
    sheet,
    sheetRow,
    columnLetter: '',
  };
}

/** Thrown inside the readers when a file cannot be read on; the doors of this library turn it into its fault. */
export class UnreadableSheet extends Error {
  readonly fault: SheetFault;

  constructor(
    code: 'cannot-be-read' | 'too-large',
    message: string,
    expected: string,
    sheet = '',
    sheetRow = 0,
  ) {
    super(message);
    this.name = 'UnreadableSheet';
    this.fault = wholeSheetFault(sheet, code, message, expected, sheetRow);
  }
}
