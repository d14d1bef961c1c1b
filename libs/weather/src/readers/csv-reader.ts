import { dewPointC } from '../dew-point.ts';
import type { HourValues, RecordHead } from '../growing-record.ts';
import { type CsvColumn, type PlannedColumn, planColumns } from './csv-columns.ts';
import { cellsOf, type Separator, separatorOf } from './csv-line.ts';
import { type DateOrder, type TableClock, timeReader } from './csv-time.ts';
import { gustFault, rangeFault } from './field-ranges.ts';
import { hourSums } from './hour-sums.ts';
import { type LineReader, readingFrame } from './reading.ts';
import { looksLike } from './wrong-kind.ts';

/** What a table of hours does not say itself. */
export interface CsvOptions {
  readonly place: RecordHead['place'];
  readonly source: string;
  /** Columns by hand, by the text of their header; then no other column is read. */
  readonly columns?: Readonly<Record<string, CsvColumn>>;
  /** The clock of times without an offset of their own; not needed where they have one or the header says UTC. */
  readonly clock?: TableClock;
  /** Whether a time names the start of its hour (default) or the end of it, as values "of the hour ending" do. */
  readonly stampIs?: 'start' | 'end';
  readonly dateOrder?: DateOrder;
  /** Lines before the header row, 0 if left out; lines that begin with # are passed over anyway. */
  readonly linesBeforeHeader?: number;
  /** The record's clock; by default that of the first time: its own offset, or the zone's standard time. */
  readonly standardOffsetMin?: number;
}

/** Usual marks for a value that is not known. */
const MISSING = new Set([
  '',
  'na',
  'n/a',
  'nan',
  'null',
  'none',
  '-',
  '--',
  '---',
  'm',
  '/',
  '//',
  '///',
  '////',
]);
/** Numbers that no measurement can be and that usually stand for one that is missing; common practice. */
const MISSING_NUMBERS = new Set([-999, -999.9, -9900, -9999, -9999.9, -99_999]);
const VALUE_FIELDS = ['windMps', 'gustMps', 'rainMm', 'tempC', 'dewPointC', 'rhPct'] as const;

/**
 * Reads a table of text with a header row: separated by comma, semicolon or tab, with a decimal comma unless the comma separates. Units come
 * from the headers or are named by hand; a unit that nobody names is a fault, never a guess. Reports of less than an hour
 * are put together to hours (`hourSums`). Humidity becomes dew point where no dew point is given. A gust below the mean wind is a bad line.
 */
export function csvReader(options: CsvOptions): LineReader {
  const frame = readingFrame();
  const sums = hourSums((hourIndex, values, line) => frame.add(hourIndex, values, line));
  const firstLines: string[] = [];
  let lineNo = 0;
  let toSkip = options.linesBeforeHeader ?? 0;
  let separator: Separator | null = null;
  let columns: readonly PlannedColumn[] | null = null;
  let cellCount = 0;
  let stopped = false;
  let times = timeReader(options.clock ?? null, options.dateOrder ?? 'ymd');
  let standardOffsetMin = options.standardOffsetMin ?? null;
  let last: { utcMin: number; line: number } | null = null;

  function readHeader(text: string): void {
    const line = text.replace(/^\uFEFF/, '');
    const told = /^sep=([,;\t])$/i.exec(line.trim());
    if (told) {
      separator = told[1] as Separator;
      return;
    }
    if (line.trim() === '' || line.startsWith('#')) return;
    const seen = looksLike([line]);
    separator ??= separatorOf(line);
    const headers = cellsOf(line, separator);
    const plan =
      headers === null
        ? 'a quoted cell of the header does not end on its line'
        : planColumns(headers, options.columns);
    if (typeof plan === 'string') {
      stopped = true;
      frame.bad(lineNo, seen && !seen.startsWith('a table') ? `no table: it looks like ${seen}` : plan, line);
      return;
    }
    if (plan.timeIsUtc) times = timeReader(options.clock ?? { offsetMin: 0 }, options.dateOrder ?? 'ymd');
    columns = plan.columns;
    cellCount = headers?.length ?? 0;
    if (plan.ignored.length > 0)
      frame.warn('columns-ignored', `Columns that were not read: ${plan.ignored.join(', ')}.`);
  }

  /** Null when the row was taken, else why not. */
  function readRow(text: string, plan: readonly PlannedColumn[]): Fault | null {
    const cells = cellsOf(text, separator as Separator);
    if (cells === null)
      return { reason: 'a quoted cell does not end on its line; take line breaks out of cells', value: text };
    if (cells.length < cellCount) {
      const reason = `${cells.length} cells where the header has ${cellCount}; the line is cut short`;
      return { reason, value: text };
    }
    const cell = (field: string): string | null => {
      const column = plan.find((planned) => planned.field === field);
      return column ? (cells[column.at] as string) : null;
    };
    const date = cell('time') ?? cell('date') ?? '';
    const timeText = cell('time') === null ? cell('timeOfDay') : null;
    const moment = times.read(date, timeText);
    const shown = timeText === null ? date : `${date} ${timeText}`;
    if (typeof moment === 'string') return { reason: moment, value: shown };
    if (last?.utcMin === moment.utcMin)
      return { reason: `this time is there already, on line ${last.line}; the first stays`, value: shown };
    const read = valuesOf(cells, plan, separator as Separator);
    if ('reason' in read) return read;
    last = { utcMin: moment.utcMin, line: lineNo };
    standardOffsetMin ??= moment.standardOffsetMin;
    const minute = moment.utcMin + standardOffsetMin - (options.stampIs === 'end' ? 1 : 0);
    sums.add(Math.floor(minute / 60), read.values, lineNo);
    return null;
  }

  return {
    line(text) {
      lineNo += 1;
      if (firstLines.length < 5) firstLines.push(text.slice(0, 200));
      if (stopped) return;
      if (toSkip > 0) toSkip -= 1;
      else if (columns === null) readHeader(text);
      else if (text.trim() !== '' && !text.startsWith('#')) {
        const fault = readRow(text, columns);
        if (fault) frame.bad(lineNo, fault.reason, fault.value);
      }
    },
    finish(policy) {
      sums.end();
      if (columns === null && !stopped)
        frame.bad(1, `no header row${firstLines.length === 0 ? ': the file is empty' : ''}`);
      if (times.singleOverlaps > 0)
        frame.warn(
          'overlap-once',
          `The hour that the clocks show twice is there once only (${times.singleOverlaps} times); it was read as the first of the two.`,
        );
      if (sums.putTogether)
        frame.warn(
          'put-together',
          'It has several reports an hour: wind and temperature are their means, the gust the highest, the rain added up as if each told what fell since the one before.',
        );
      return frame.finish(
        columns && {
          place: options.place,
          source: options.source,
          standardOffsetMin: standardOffsetMin ?? 0,
        },
        policy,
        (record) => sums.revise(record),
      );
    },
  };
}

interface Fault {
  readonly reason: string;
  readonly value: string;
}

type Row = { readonly values: HourValues } | Fault;

function valuesOf(cells: readonly string[], plan: readonly PlannedColumn[], separator: Separator): Row {
  const read: Partial<Record<(typeof VALUE_FIELDS)[number], number>> = {};
  let thunder: boolean | null = null;
  for (const { at, header, field, unit, missing } of plan) {
    const cell = cells[at] as string;
    if (MISSING.has(cell.toLowerCase()) || missing.has(cell)) continue;
    if (field === 'thunder') {
      thunder = yesOrNo(cell);
      if (thunder === null) return { reason: `"${header}" is neither yes nor no`, value: cell };
    }
    if (unit === null) continue;
    const given = numberIn(cell, separator);
    if (MISSING_NUMBERS.has(given)) continue;
    if (Number.isNaN(given)) return { reason: `"${header}" is not a number`, value: cell };
    const value = unit.toOurs(given);
    const name = field as (typeof VALUE_FIELDS)[number];
    const fault = name === 'rhPct' ? humidityFault(value) : rangeFault(name, value);
    if (fault) return { reason: `${fault} (column "${header}" in ${unit.name})`, value: cell };
    read[name] = value;
  }
  const { rhPct, ...values } = read;
  const gust = gustFault(read.windMps ?? Number.NaN, read.gustMps ?? Number.NaN);
  if (gust) return { reason: gust, value: cells.join(separator) };
  if (values.dewPointC === undefined && rhPct !== undefined && values.tempC !== undefined)
    values.dewPointC = dewPointC(values.tempC, Math.min(100, rhPct));
  return { values: { ...values, thunder } };
}

/** Sensors give up to some per cent above saturation; more is no humidity. */
function humidityFault(rhPct: number): string | null {
  return rhPct < 0 || rhPct > 105 ? `humidity ${rhPct} % is outside 0 to 100 %` : null;
}

function yesOrNo(cell: string): boolean | null {
  if (/^(1|y|yes|true)$/i.test(cell)) return true;
  return /^(0|n|no|false)$/i.test(cell) ? false : null;
}

function numberIn(cell: string, separator: Separator): number {
  const text = separator !== ',' && /^[+-]?\d*,\d+$/.test(cell) ? cell.replace(',', '.') : cell;
  return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text) ? Number(text) : Number.NaN;
}
