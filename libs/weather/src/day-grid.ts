import { type Day, DryspellError, dayFromParts, toLocalDate } from '../../kernel/src/index.ts';
import type { HourlyRecord } from './hourly-record.ts';

/** A record laid out by whole days of its own clock: hour h of day d stands at `d * 24 + h`; what the record lacks is NaN. */
export interface DayGrid {
  /** The first day, days since 1970-01-01 on the record's clock; of a typical year 1 January 2001. */
  readonly firstDay: Day;
  readonly dayCount: number;
  readonly tempC: Float32Array;
  readonly dewPointC: Float32Array;
  readonly rainMm: Float32Array;
  readonly windMps: Float32Array;
  readonly gustMps: Float32Array;
  readonly thunder: Int8Array;
  /** For each day its date of the year, 0 to 365; 29 February is 59 and left out in other years. */
  readonly dateOfYear: Int16Array;
  /** For each day the year it belongs to; of a typical year the year that the file names. */
  readonly year: Int16Array;
  readonly typicalYear: boolean;
}

/** More days than this are no record of a place but a mistake in a date. */
const MOST_DAYS = 366 * 150;
const TYPICAL_YEAR_START = dayFromParts(2001, 1, 1);

/** The date of the year of a month and day, 0 to 365, counted as in a leap year. */
export function dateOfYear(month: number, dayOfMonth: number): number {
  return (CUMULATIVE[month - 1] as number) + dayOfMonth - 1;
}

const CUMULATIVE = [0, 31, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335];

/** Month and day of a date of the year. */
export function monthAndDay(date: number): { readonly month: number; readonly dayOfMonth: number } {
  const month = CUMULATIVE.findLastIndex((first) => first <= date) + 1;
  return { month, dayOfMonth: date - (CUMULATIVE[month - 1] as number) + 1 };
}

/**
 * Lays a record out by days. Where the record has every hour, its arrays are used as they are, without a copy. A typical year is put into calendar
 * order, 28 days in February. Throws `invalid-input` for a record without hours or one that spans more than 150 years.
 */
export function layOutDays(record: HourlyRecord): DayGrid {
  const { hourIndex } = record;
  if (hourIndex.length === 0)
    throw new DryspellError('invalid-input', {
      field: 'record',
      value: 'no hour',
      expected: 'at least one hour',
    });
  return record.typicalYear ? layOutTypicalYear(record) : layOutSpan(record);
}

const FIELDS = ['tempC', 'dewPointC', 'rainMm', 'windMps', 'gustMps'] as const;
type Columns = { -readonly [F in (typeof FIELDS)[number]]: Float32Array } & { thunder: Int8Array };

function layOutSpan(record: HourlyRecord): DayGrid {
  const { hourIndex } = record;
  const first = hourIndex[0] as number;
  const last = hourIndex[hourIndex.length - 1] as number;
  const firstDay = Math.floor(first / 24) as Day;
  const dayCount = Math.floor(last / 24) - firstDay + 1;
  if (dayCount > MOST_DAYS)
    throw new DryspellError('invalid-input', {
      field: 'record',
      value: `${dayCount} days`,
      expected: `at most ${MOST_DAYS} days between the first and the last hour`,
    });
  const dates = new Int16Array(dayCount);
  const year = new Int16Array(dayCount);
  // Stepping from date to date is much cheaper than asking the calendar for each of many thousand days.
  let [y, m, d] = partsOf(firstDay);
  for (let at = 0; at < dayCount; at += 1) {
    dates[at] = dateOfYear(m, d);
    year[at] = y;
    [y, m, d] = nextDate(y, m, d);
  }
  const whole = hourIndex.length === dayCount * 24 && first === firstDay * 24;
  const columns = whole ? record : scatter(record, dayCount, (hour) => hour - firstDay * 24);
  return { firstDay, dayCount, ...pick(columns), dateOfYear: dates, year, typicalYear: false };
}

function layOutTypicalYear(record: HourlyRecord): DayGrid {
  const dates = new Int16Array(365);
  const year = new Int16Array(365);
  for (let at = 0; at < 365; at += 1) dates[at] = at < 59 ? at : at + 1;
  const columns = scatter(record, 365, (hour) => {
    const day = Math.floor(hour / 24);
    const [y, m, d] = partsOf(day as Day);
    if (m === 2 && d === 29) return -1;
    const date = dateOfYear(m, d);
    const at = date < 59 ? date : date - 1;
    year[at] = y;
    return at * 24 + (hour - day * 24);
  });
  return {
    firstDay: TYPICAL_YEAR_START,
    dayCount: 365,
    ...pick(columns),
    dateOfYear: dates,
    year,
    typicalYear: true,
  };
}

function scatter(record: HourlyRecord, dayCount: number, place: (hour: number) => number): Columns {
  const hours = dayCount * 24;
  const columns: Columns = {
    tempC: new Float32Array(hours).fill(Number.NaN),
    dewPointC: new Float32Array(hours).fill(Number.NaN),
    rainMm: new Float32Array(hours).fill(Number.NaN),
    windMps: new Float32Array(hours).fill(Number.NaN),
    gustMps: new Float32Array(hours).fill(Number.NaN),
    thunder: new Int8Array(hours).fill(-1),
  };
  record.hourIndex.forEach((hour, from) => {
    const to = place(hour);
    if (to < 0) return;
    for (const field of FIELDS) columns[field][to] = record[field][from] as number;
    columns.thunder[to] = record.thunder[from] as number;
  });
  return columns;
}

function pick({ tempC, dewPointC, rainMm, windMps, gustMps, thunder }: Columns | HourlyRecord) {
  return { tempC, dewPointC, rainMm, windMps, gustMps, thunder };
}

function nextDate(y: number, m: number, d: number): [number, number, number] {
  const leap = (y % 4 === 0 && y % 100 !== 0) || y % 400 === 0;
  const length = m === 2 ? (leap ? 29 : 28) : (CUMULATIVE[m] ?? 366) - (CUMULATIVE[m - 1] as number);
  if (d < length) return [y, m, d + 1];
  return m < 12 ? [y, m + 1, 1] : [y + 1, 1, 1];
}

function partsOf(day: Day): [number, number, number] {
  const [y, m, d] = toLocalDate(day).split('-').map(Number) as [number, number, number];
  return [y, m, d];
}

/** The days of one grid after those of another; the first may be absent. */
export function joinDays(before: DayGrid | null, after: DayGrid): DayGrid {
  if (before === null || before.dayCount === 0) return after;
  const joined = (a: Float32Array, b: Float32Array): Float32Array => {
    const all = new Float32Array(a.length + b.length);
    all.set(a);
    all.set(b, a.length);
    return all;
  };
  const thunder = new Int8Array(before.thunder.length + after.thunder.length);
  thunder.set(before.thunder);
  thunder.set(after.thunder, before.thunder.length);
  return {
    firstDay: before.firstDay,
    dayCount: before.dayCount + after.dayCount,
    tempC: joined(before.tempC, after.tempC),
    dewPointC: joined(before.dewPointC, after.dewPointC),
    rainMm: joined(before.rainMm, after.rainMm),
    windMps: joined(before.windMps, after.windMps),
    gustMps: joined(before.gustMps, after.gustMps),
    thunder,
    dateOfYear: Int16Array.from([...before.dateOfYear, ...after.dateOfYear]),
    year: Int16Array.from([...before.year, ...after.year]),
    typicalYear: before.typicalYear,
  };
}

/** Some days of a grid, copied, from day `from` to before day `to`. */
export function someDays(grid: DayGrid, from: number, to: number): DayGrid {
  const [first, end] = [from * 24, to * 24];
  return {
    firstDay: (grid.firstDay + from) as Day,
    dayCount: to - from,
    tempC: grid.tempC.slice(first, end),
    dewPointC: grid.dewPointC.slice(first, end),
    rainMm: grid.rainMm.slice(first, end),
    windMps: grid.windMps.slice(first, end),
    gustMps: grid.gustMps.slice(first, end),
    thunder: grid.thunder.slice(first, end),
    dateOfYear: grid.dateOfYear.slice(from, to),
    year: grid.year.slice(from, to),
    typicalYear: grid.typicalYear,
  };
}
