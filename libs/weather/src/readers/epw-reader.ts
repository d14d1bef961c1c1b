import { growingRecord, type RecordHead } from '../growing-record.ts';
import type { BadLine, HourlyRecord } from '../hourly-record.ts';
import { daysInMonth, hourIndexOf, localDateOfHour } from '../record-clock.ts';

/** What came out of a file: the record where there was one, the lines that were left out, and named oddities. */
export interface EpwResult {
  readonly record: HourlyRecord | null;
  readonly badLines: readonly BadLine[];
  readonly warnings: readonly (
    | 'rain-missing'
    | 'rain-all-zero'
    | 'wind-missing'
    | 'years-mixed'
    | 'no-hours'
  )[];
}

/** Columns of a data line, from 0, and the value from which on a field counts as missing. */
const FIELDS = {
  tempC: { column: 6, missingFrom: 99.9, low: -90, high: 70 },
  dewPointC: { column: 7, missingFrom: 99.9, low: -90, high: 70 },
  windMps: { column: 21, missingFrom: 999, low: 0, high: 120 },
  rainMm: { column: 33, missingFrom: 999, low: 0, high: 500 },
} as const;
type Field = keyof typeof FIELDS;

/**
 * Reads the text of an EPW file (EnergyPlus weather format: header lines LOCATION .. DATA PERIODS, then 35 fields an hour).
 * An hour numbered 1 runs from 00:00 to 01:00 local standard time; the header's offset is kept. Lines whose date or
 * hour cannot be read, or whose value lies outside what weather can be, are left out and reported. Fields marked missing stay
 * missing. Precipitation that is zero through a whole record is taken as not recorded, with a warning, since a dry year is far
 * rarer than a station without a gauge. The format has no gusts. The record is null when there is no LOCATION line or no hour.
 */
export function readEpw(text: string): EpwResult {
  const badLines: BadLine[] = [];
  const growing = growingRecord();
  let header: Omit<RecordHead, 'typicalYear'> | null = null;
  let inData = false;
  text.split(/\r\n|\n|\r/).forEach((content, index) => {
    const line = index + 1;
    if (content.trim() === '') return;
    const cells = content.split(',').map((cell) => cell.trim());
    const first = (cells[0] as string).replace(/^\uFEFF/, '').toUpperCase();
    if (first === 'LOCATION') {
      const read = readLocation(cells);
      if (typeof read === 'string') badLines.push({ line, reason: read });
      else header = read;
      return;
    }
    if (first === 'DATA PERIODS') inData = true;
    if (!inData || !/^\d/.test(first)) return;
    const read = readHour(cells);
    if (typeof read === 'string') badLines.push({ line, reason: read });
    else growing.add(read.hourIndex, read.values);
  });

  const place = header as Omit<RecordHead, 'typicalYear'> | null;
  if (place === null) {
    if (badLines.length === 0) badLines.push({ line: 1, reason: 'no LOCATION line' });
    return { record: null, badLines, warnings: [] };
  }
  if (growing.length === 0) return { record: null, badLines, warnings: ['no-hours'] };

  const rainMm = growing.column('rainMm');
  const warnings: EpwResult['warnings'][number][] = [];
  if (rainMm.every(Number.isNaN)) warnings.push('rain-missing');
  else if (rainMm.every((rain) => Number.isNaN(rain) || rain === 0) && rainMm.length >= 8000) {
    warnings.push('rain-all-zero');
    rainMm.fill(Number.NaN);
  }
  if (growing.column('windMps').every(Number.isNaN)) warnings.push('wind-missing');
  const { record } = growing.finish({ ...place, typicalYear: false });
  const typicalYear = isTypicalYear(record.hourIndex);
  if (typicalYear) warnings.push('years-mixed');
  return { record: { ...record, typicalYear }, badLines, warnings };
}

/** Each month from one year only, and yet spread over more than a year. */
function isTypicalYear(hourIndex: Int32Array): boolean {
  const span = (hourIndex.at(-1) as number) - (hourIndex[0] as number);
  if (span <= 366 * 24) return false;
  const yearOfMonth = new Map<number, number>();
  for (const index of hourIndex) {
    const { year, month } = localDateOfHour(index);
    if ((yearOfMonth.get(month) ?? year) !== year) return false;
    yearOfMonth.set(month, year);
  }
  return true;
}

function readLocation(cells: readonly string[]): Omit<RecordHead, 'typicalYear'> | string {
  const [, name, , country, source] = cells;
  const [lat, lon, offsetHours, elevationM] = [6, 7, 8, 9].map((at) => numberIn(cells[at]));
  if (!(Math.abs(lat as number) <= 90)) return 'latitude is not a number from -90 to 90';
  if (!(Math.abs(lon as number) <= 180)) return 'longitude is not a number from -180 to 180';
  if (!(Math.abs(offsetHours as number) <= 14)) return 'time zone is not a number of hours from -14 to 14';
  return {
    place: {
      name: [name, country].filter((part) => part && part !== '-').join(', '),
      lat: lat as number,
      lon: lon as number,
      elevationM: Number.isNaN(elevationM) ? null : (elevationM as number),
    },
    source: source ?? '',
    standardOffsetMin: Math.round((offsetHours as number) * 60),
  };
}

function readHour(cells: readonly string[]) {
  if (cells.length < 22) return `${cells.length} fields where at least 22 are needed`;
  const [year, month, dayOfMonth, hourEnding] = [0, 1, 2, 3].map((at) => numberIn(cells[at])) as [
    number,
    number,
    number,
    number,
  ];
  if (!(Number.isInteger(year) && year >= 1800 && year <= 2200)) return 'year is not a year';
  if (!(Number.isInteger(month) && month >= 1 && month <= 12)) return 'month is not 1 to 12';
  if (!(Number.isInteger(dayOfMonth) && dayOfMonth >= 1 && dayOfMonth <= daysInMonth(year, month))) {
    return 'there is no such day in the month';
  }
  if (!(Number.isInteger(hourEnding) && hourEnding >= 1 && hourEnding <= 24)) return 'hour is not 1 to 24';
  const values = {} as Record<Field, number>;
  for (const [field, { column, missingFrom, low, high }] of Object.entries(FIELDS)) {
    const cell = cells[column];
    const value = numberIn(cell);
    if (cell === undefined || cell === '' || value >= missingFrom) values[field as Field] = Number.NaN;
    else if (Number.isNaN(value)) return `${field} is not a number`;
    else if (value < low || value > high) return `${field} ${value} is outside ${low} to ${high}`;
    else values[field as Field] = value;
  }
  return { hourIndex: hourIndexOf(year, month, dayOfMonth, hourEnding - 1), values };
}

function numberIn(cell: string | undefined): number {
  return cell !== undefined && /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(cell) ? Number(cell) : Number.NaN;
}
