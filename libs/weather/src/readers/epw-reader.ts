import type { HourValues, RecordHead } from '../growing-record.ts';
import { daysInMonth, hourIndexOf, hourOfDay } from '../record-clock.ts';
import { rangeFault } from './field-ranges.ts';
import { type LineReader, type Reading, type ReadingPolicy, readingFrame, readText } from './reading.ts';
import { looksLike } from './wrong-kind.ts';

/** Columns of a data line, from 0, and the value from which on a field counts as missing. */
const FIELDS = {
  tempC: { column: 6, missingFrom: 99.9 },
  dewPointC: { column: 7, missingFrom: 99.9 },
  windMps: { column: 21, missingFrom: 999 },
  rainMm: { column: 33, missingFrom: 999 },
} as const;
type Field = keyof typeof FIELDS;
const FIELD_ENTRIES = Object.entries(FIELDS) as [Field, (typeof FIELDS)[Field]][];
const FEWEST_FIELDS = 22;

/**
 * Reads an EPW file (EnergyPlus weather format: header lines LOCATION .. DATA PERIODS, then 35 fields an hour) line by line.
 * An hour numbered 1 runs from 00:00 to 01:00 local standard time, whether its minute is written 0 or 60; the header's offset is
 * kept. Lines whose date or hour cannot be read, whose value weather cannot have, or that are cut short are bad. Fields marked
 * missing stay missing. The format has no gusts. There is no record without a LOCATION line or without an hour.
 */
export function epwReader(): LineReader {
  const frame = readingFrame();
  const firstLines: string[] = [];
  let lineNo = 0;
  let head: Omit<RecordHead, 'typicalYear'> | null = null;
  let locationSeen = false;
  let inData = false;
  let usualFields = 0;
  let lastHour = 0;

  function header(text: string, first: string): void {
    if (first === 'LOCATION') {
      locationSeen = true;
      const read = readLocation(text.split(',').map((cell) => cell.trim()));
      if (typeof read === 'string') frame.bad(lineNo, read, text);
      else head = read;
    } else if (first === 'DATA PERIODS') {
      inData = true;
      const perHour = Number(text.split(',')[2]);
      if (perHour > 1)
        frame.bad(lineNo, `the file has ${perHour} lines an hour; give one with one line an hour`, text);
    }
  }

  return {
    line(text) {
      lineNo += 1;
      if (firstLines.length < 5) firstLines.push(text.slice(0, 200));
      if (text.trim() === '') return;
      if (!inData) {
        const comma = text.indexOf(',');
        header(
          text,
          text
            .slice(0, comma < 0 ? 40 : comma)
            .replace(/^\uFEFF/, '')
            .trim()
            .toUpperCase(),
        );
        return;
      }
      const cells = text.split(',');
      if (usualFields === 0) usualFields = cells.length;
      if (cells.length < Math.max(usualFields, FEWEST_FIELDS)) {
        const needed = Math.max(usualFields, FEWEST_FIELDS);
        frame.bad(lineNo, `${cells.length} fields where ${needed} are expected; the line is cut short`, text);
        return;
      }
      const read = readHour(cells);
      if ('reason' in read) frame.bad(lineNo, read.reason, read.value);
      else {
        lastHour = read.hourIndex;
        frame.add(read.hourIndex, read.values, lineNo);
      }
    },
    finish(policy) {
      if (!locationSeen) {
        const seen = looksLike(firstLines);
        frame.bad(1, `no LOCATION line, so this is no EPW file${seen ? `; it looks like ${seen}` : ''}`);
      }
      if (frame.hourCount > 0 && hourOfDay(lastHour) !== 23)
        frame.warn(
          'ends-in-a-day',
          'The last hour of the file is not the last of a day: it may have been cut short. Compare it with its source.',
        );
      return frame.finish(head, policy);
    },
  };
}

/** Reads the text of an EPW file as `epwReader` does. */
export function readEpw(text: string, policy: ReadingPolicy): Reading {
  return readText(epwReader(), text, policy);
}

function readLocation(cells: readonly string[]): Omit<RecordHead, 'typicalYear'> | string {
  const [, name, , country, source] = cells;
  const [lat, lon, offsetHours, elevationM] = [6, 7, 8, 9].map((at) => numberIn(cells[at] ?? ''));
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

type Fault = { readonly reason: string; readonly value?: string };

function readHour(
  cells: readonly string[],
): { readonly hourIndex: number; readonly values: HourValues } | Fault {
  const [year, month, dayOfMonth, hourEnding, minute] = [0, 1, 2, 3, 4].map((at) =>
    numberIn((cells[at] as string).trim()),
  ) as [number, number, number, number, number];
  const date = cells.slice(0, 5).join(',');
  if (!(Number.isInteger(year) && year >= 1800 && year <= 2200))
    return { reason: 'year is not a year', value: date };
  if (!(Number.isInteger(month) && month >= 1 && month <= 12))
    return { reason: 'month is not 1 to 12', value: date };
  if (!(Number.isInteger(dayOfMonth) && dayOfMonth >= 1 && dayOfMonth <= daysInMonth(year, month)))
    return { reason: 'there is no such day in the month', value: date };
  if (!(Number.isInteger(hourEnding) && hourEnding >= 1 && hourEnding <= 24))
    return { reason: 'hour is not 1 to 24', value: date };
  if (minute > 0 && minute < 60) return { reason: `minute ${minute} is no full hour`, value: date };
  const values: { -readonly [name in Field]?: number } = {};
  for (const [field, { column, missingFrom }] of FIELD_ENTRIES) {
    const cell = cells[column]?.trim() ?? '';
    if (cell === '') continue;
    const value = numberIn(cell);
    if (value >= missingFrom) continue;
    if (Number.isNaN(value)) return { reason: `${field} is not a number`, value: cell };
    const reason = rangeFault(field, value);
    if (reason) return { reason, value: cell };
    values[field] = value;
  }
  return { hourIndex: hourIndexOf(year, month, dayOfMonth, hourEnding - 1), values };
}

function numberIn(cell: string): number {
  return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(cell) ? Number(cell) : Number.NaN;
}
