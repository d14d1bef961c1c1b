import writeExcelFile, { type Cell, type Sheet } from 'write-excel-file/node';
import {
  columnsOf,
  type NamedColumn,
  type SeasonFile,
  type SeasonTable,
  seasonHeadTable,
  seasonTable,
  seasonTableNames,
} from '../../../contracts/src/season-file/index.ts';
import { isLocalDate, toDay } from '../../../kernel/src/index.ts';
import { encodeXlsxText } from '../xlsx/xlsx-text.ts';
import { READ_ME_SHEET, readMeRows } from './read-me-sheet.ts';

const MS_PER_DAY = 86_400_000;
/** Dates before it have a wrong day number in the 1900 system; they are written as text. */
const FIRST_DATE_CELL = '1900-03-01';
const HEADER = { fontWeight: 'bold', backgroundColor: '#E8EEF4' } as const;

type Row = Readonly<Record<string, unknown>>;
type WorkbookSheet = Sheet<Buffer>;

/**
 * The season as an .xlsx workbook: a sheet "Read me", then one sheet a table. Texts are typed as texts, so none of them
 * is ever run as a formula. `readSeasonWorkbook` gives the same season back.
 */
export async function writeSeasonWorkbook(seasonFile: SeasonFile): Promise<Buffer> {
  return workbook(
    seasonFile.season.isDemo,
    [seasonFile.season as Row],
    (name) => seasonFile[name] as readonly Row[],
  );
}

/** A workbook with all sheets and column names and no rows, to be filled in. */
export async function emptySeasonWorkbook(): Promise<Buffer> {
  return workbook(false, [], () => []);
}

function workbook(
  isDemo: boolean,
  head: readonly Row[],
  rowsOf: (name: (typeof seasonTableNames)[number]) => readonly Row[],
): Promise<Buffer> {
  const sheets = [
    readMe(isDemo),
    tableSheet(seasonHeadTable as unknown as SeasonTable, head),
    ...seasonTableNames.map((name) => tableSheet(seasonTable(name), rowsOf(name))),
  ];
  return writeExcelFile(sheets).toBuffer();
}

function tableSheet(table: SeasonTable, rows: readonly Row[]): WorkbookSheet {
  const columns = columnsOf(table);
  return {
    sheet: table.sheet,
    stickyRowsCount: 1,
    columns: columns.map((column) => ({ width: widthOf(column) })),
    data: [
      columns.map((column) => ({ ...HEADER, value: column.name, type: String })),
      ...rows.map((row) => columns.map((column) => cellOf(row[column.name], column))),
    ],
  };
}

function readMe(isDemo: boolean): WorkbookSheet {
  return {
    sheet: READ_ME_SHEET,
    columns: [26, 24, 9, 70, 70].map((width) => ({ width })),
    data: readMeRows(isDemo).map(({ cells, isHeading }) =>
      cells.map((text) =>
        text === '' ? null : { value: encodeXlsxText(text), type: String, ...(isHeading ? HEADER : {}) },
      ),
    ),
  };
}

function cellOf(value: unknown, column: NamedColumn): Cell {
  if (value === null || value === undefined) return null;
  if (typeof value === 'number') return { value, type: Number };
  if (typeof value === 'boolean') return { value, type: Boolean };
  const text = String(value);
  if (column.kind === 'date' && isLocalDate(text) && text >= FIRST_DATE_CELL) {
    return { value: new Date(toDay(text) * MS_PER_DAY), type: Date, format: 'yyyy-mm-dd' };
  }
  // The format "text" keeps a spreadsheet program from turning 0042 into 42 when the cell is edited.
  return { value: encodeXlsxText(text), type: String, format: '@' };
}

function widthOf(column: NamedColumn): number {
  const usual = { text: 18, integer: 10, number: 10, boolean: 8, date: 12, time: 8, instant: 22, choice: 14 }[
    column.kind
  ];
  const long = column.kind === 'text' && (column.maxLength ?? 0) > 100 ? 32 : usual;
  return Math.max(long, column.name.length + 2);
}
