/** How much a spreadsheet may hold. A season of 500 jobs is far below all of these. */
export interface SheetLimits {
  /** Bytes of the workbook, or of all CSV files together. */
  readonly fileBytes: number;
  /** Bytes of all parts of a workbook that are read, unpacked; checked before they are unpacked. */
  readonly unpackedBytes: number;
  readonly sheets: number;
  /** Rows of one sheet that hold something. */
  readonly rows: number;
  /** Cells of all sheets that hold something. */
  readonly cells: number;
}

export const SHEET_LIMITS: SheetLimits = {
  fileBytes: 20_000_000,
  unpackedBytes: 100_000_000,
  sheets: 200,
  rows: 50_000,
  cells: 1_000_000,
};
