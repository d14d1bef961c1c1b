/** The rows of one sheet as rows of one table of the season file. */
import { columnsOf, type NamedColumn, type SeasonTable } from '../../../contracts/src/season-file/index.ts';
import { type RawCell, type RawRow, type RawTable, rawText } from '../raw-table.ts';
import { columnLetter, type SheetFault, type SheetFaultCode } from '../sheet-fault.ts';
import { didYouMean } from './did-you-mean.ts';
import { readCell } from './read-cell.ts';

export interface TableReading {
  readonly table: SeasonTable;
  readonly sheet: string;
  readonly rows: readonly Record<string, unknown>[];
  /** Number in the sheet of each of the rows. */
  readonly sheetRows: readonly number[];
  /** Letter of each column that the sheet has. */
  readonly letters: ReadonlyMap<string, string>;
  readonly faults: readonly SheetFault[];
  /** Columns that are missing from the sheet though rows need them, once named and not to be named for each row again. */
  readonly missingColumns: ReadonlySet<string>;
}

interface HeadColumn {
  readonly number: number;
  readonly column: NamedColumn;
}

const HEADER_ROW = 1;

/** Reads a sheet by its header row; everything that is wrong is among the faults, all of it at once. */
export function readTable(raw: RawTable, table: SeasonTable): TableReading {
  const columns = columnsOf(table);
  const faults: SheetFault[] = [];
  const say = (
    code: SheetFaultCode,
    at: { row?: number; dataRow?: number; column?: number; name?: string; value?: unknown },
    message: string,
    expected: string,
  ): void => {
    faults.push({
      table: table.name,
      row: at.dataRow ?? 0,
      column: at.name ?? '',
      value: at.value ?? null,
      code,
      message,
      expected,
      sheet: raw.name,
      sheetRow: at.row ?? 0,
      columnLetter: at.column ? columnLetter(at.column) : '',
    });
  };
  const blank: Omit<TableReading, 'faults' | 'missingColumns'> = {
    table,
    sheet: raw.name,
    rows: [],
    sheetRows: [],
    letters: new Map(),
  };
  if (raw.rows.length === 0) return { ...blank, faults, missingColumns: new Set() };

  const header = raw.rows.find((row) => row.number === HEADER_ROW);
  if (!header || !hasKnownName(header, columns)) {
    const found = raw.rows.slice(0, 30).find((row) => hasKnownName(row, columns));
    const hint = found ? `; they seem to be in row ${found.number}, so delete the rows above it` : '';
    const message = `Row 1 of ${raw.name} does not hold the names of the columns of "${table.name}".`;
    say('no-header', { row: HEADER_ROW }, message, `in row 1 the names ${names(columns)}${hint}`);
    // Rows are not read without their names, and so their absence is no fault of its own.
    return { ...blank, faults, missingColumns: new Set(columns.map((column) => column.name)) };
  }
  const head = readHeader(header, columns, say);
  const dataRows = raw.rows.filter((row) => row.number !== HEADER_ROW);
  sayStrayCells(dataRows, header, say);
  for (const range of raw.merged) sayMerged(range, say);

  const missingColumns = new Set<string>();
  const present = new Set(head.map(({ column }) => column.name));
  if (dataRows.length > 0) {
    for (const column of columns.filter((candidate) => candidate.required && !present.has(candidate.name))) {
      missingColumns.add(column.name);
      const message = `The column "${column.name}" is missing.`;
      say(
        'missing-column',
        { row: HEADER_ROW, name: column.name },
        message,
        `a column "${column.name}": ${column.expected}`,
      );
    }
  }
  const rows: Record<string, unknown>[] = [];
  const sheetRows: number[] = [];
  for (const dataRow of dataRows) {
    if (!holdsAnything(dataRow, head)) continue;
    const row: Record<string, unknown> = {};
    for (const { number, column } of head) {
      const reading = readCell(dataRow.cells.get(number), column, raw);
      if (reading.kind === 'value') row[column.name] = reading.value;
      if (reading.kind !== 'fault') continue;
      const at = { row: dataRow.number, dataRow: rows.length + 1, column: number, name: column.name };
      say(
        reading.code,
        { ...at, value: rawText(dataRow.cells.get(number)) },
        reading.message,
        reading.expected,
      );
    }
    rows.push(row);
    sheetRows.push(dataRow.number);
  }
  const letters = new Map(head.map(({ number, column }) => [column.name, columnLetter(number)]));
  return { table, sheet: raw.name, rows, sheetRows, letters, faults, missingColumns };
}

type Say = (
  code: SheetFaultCode,
  at: { row?: number; dataRow?: number; column?: number; name?: string; value?: unknown },
  message: string,
  expected: string,
) => void;

function readHeader(header: RawRow, columns: readonly NamedColumn[], say: Say): HeadColumn[] {
  const head: HeadColumn[] = [];
  for (const [number, cell] of [...header.cells].sort(([a], [b]) => a - b)) {
    const written = rawText(cell).trim();
    if (written === '') continue;
    const at = { row: header.number, column: number, name: written, value: written };
    const column = columnNamed(written, columns);
    if (!column) {
      const near = didYouMean(
        written,
        columns.map((candidate) => candidate.name),
      );
      const hint = near ? `Did you mean "${near}"?` : 'It is not read.';
      say(
        'unknown-column',
        at,
        `There is no column "${written}" here. ${hint}`,
        near ? `"${near}"` : `one of ${names(columns)}`,
      );
    } else if (head.some((other) => other.column === column)) {
      say(
        'duplicate-column',
        at,
        `The column "${column.name}" is there more than once.`,
        `one column "${column.name}"`,
      );
    } else head.push({ number, column });
  }
  return head;
}

/** Cells right of the header, or below an empty name: they would be lost. */
function sayStrayCells(rows: readonly RawRow[], header: RawRow, say: Say): void {
  const said = new Set<number>();
  for (const row of rows) {
    for (const [number, cell] of row.cells) {
      if (said.has(number) || !isFilled(cell) || isFilled(header.cells.get(number))) continue;
      said.add(number);
      const message = `Column ${columnLetter(number)} holds "${rawText(cell)}" in row ${row.number} but has no name in row 1.`;
      say(
        'outside-columns',
        { row: row.number, column: number, value: rawText(cell) },
        message,
        'a name in row 1, or an empty column',
      );
    }
  }
}

/** A merged cell shows one value over many, but only its first cell holds it. */
function sayMerged(range: string, say: Say): void {
  const message = `The cells ${range} are merged, so only the first of them holds the value.`;
  say(
    'merged-cells',
    { row: Number(/\d+/.exec(range)?.[0] ?? 0) },
    message,
    'cells that are not merged, each with its own value',
  );
}

function hasKnownName(row: RawRow, columns: readonly NamedColumn[]): boolean {
  return [...row.cells.values()].some((cell) => columnNamed(rawText(cell), columns) !== undefined);
}

function columnNamed(written: string, columns: readonly NamedColumn[]): NamedColumn | undefined {
  const wanted = written.trim().toLowerCase();
  return columns.find((column) => column.name.toLowerCase() === wanted);
}

function holdsAnything(row: RawRow, head: readonly HeadColumn[]): boolean {
  return head.some(({ number }) => isFilled(row.cells.get(number)));
}

function isFilled(cell: RawCell | undefined): boolean {
  return cell !== undefined && (cell.kind !== 'text' || cell.text.trim() !== '');
}

function names(columns: readonly NamedColumn[]): string {
  return columns.map((column) => column.name).join(', ');
}
