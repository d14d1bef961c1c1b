import { DryspellError } from '../../kernel/src/index.ts';
import { dateOfYear } from './day-grid.ts';
import { type LightTable, lightTable } from './daylight.ts';
import { DEFAULT_GUST_FACTOR } from './hour-marks.ts';
import type { HourlyRecord } from './hourly-record.ts';
import { localDateOfHour } from './record-clock.ts';

/** What makes an hour workable and a day good, in its simplest form. A limit that is null is not looked at. */
export interface BlockRules {
  /** Minutes after midnight of the record's clock; an hour counts when all of it lies within. */
  readonly shiftFromMin: number;
  readonly shiftToMin: number;
  /** So many whole hours in a row make a day good. */
  readonly blockHours: number;
  /** Highest mean wind and gust at 10 m, and most rain in the hour; a value of just the limit is within it. */
  readonly maxWindMps: number | null;
  readonly maxGustMps: number | null;
  readonly maxRainMm: number | null;
  /** Gust = mean wind x this where the record has none. */
  readonly gustFactor?: number;
  /** Only hours that lie wholly between sunrise and sunset count. */
  readonly daylight: boolean;
}

/** One date of a record. */
export interface BlockDay {
  readonly year: number;
  readonly month: number;
  readonly dayOfMonth: number;
  /** Most hours of the shift in a row that are known to be workable. */
  readonly longestRunHours: number;
  /** Null where hours that are not known decide it. */
  readonly good: boolean | null;
}

const BROKEN = 0;
const WORKABLE = 1;
const UNKNOWN = 2;
/** Comparing a 32-bit reading with its limit: a reading that was written as the limit itself must not be above it. */
const ROUNDING = 1e-5;

/**
 * The days of a record on which work of `blockHours` could be done in one go. Unknown hours are never workable; a day that they could make good is
 * neither good nor bad. One entry for each date of which the record has an hour, in order of time, of a typical year from January to December.
 * Throws `invalid-input` for a shift that is none or a block that is not a number of hours from 1 to 24.
 */
export function blockDays(record: HourlyRecord, rules: BlockRules): BlockDay[] {
  const { shiftFromMin, shiftToMin, blockHours, daylight } = rules;
  if (!(shiftFromMin >= 0 && shiftFromMin < shiftToMin && shiftToMin <= 1440))
    throw new DryspellError('invalid-input', {
      field: 'shift',
      value: `${shiftFromMin}-${shiftToMin}`,
      expected: 'a start before its end within one day, in minutes',
    });
  if (!(Number.isInteger(blockHours) && blockHours >= 1 && blockHours <= 24))
    throw new DryspellError('invalid-input', {
      field: 'blockHours',
      value: blockHours,
      expected: 'a whole number from 1 to 24',
    });
  const lights = new Map<number, LightTable>();
  const { hourIndex } = record;
  const days: BlockDay[] = [];
  const hours = new Uint8Array(24);
  for (let at = 0; at < hourIndex.length; ) {
    const { year, month, dayOfMonth } = localDateOfHour(hourIndex[at] as number);
    const dayStart = Math.floor((hourIndex[at] as number) / 24) * 24;
    hours.fill(UNKNOWN);
    for (; at < hourIndex.length && (hourIndex[at] as number) < dayStart + 24; at += 1)
      hours[(hourIndex[at] as number) - dayStart] = stateOf(record, at, rules);
    let fromMin = shiftFromMin;
    let toMin = shiftToMin;
    if (daylight) {
      const light = lights.get(year) ?? lightTable(record.place, year, record.standardOffsetMin);
      lights.set(year, light);
      const date = dateOfYear(month, dayOfMonth);
      fromMin = Math.max(fromMin, light.fromMin[date] as number);
      toMin = Math.min(toMin, light.toMin[date] as number);
    }
    const first = Math.ceil(fromMin / 60);
    const end = Math.floor(toMin / 60);
    const longestRunHours = longestRun(hours, first, end, (state) => state === WORKABLE);
    const atBest = longestRun(hours, first, end, (state) => state !== BROKEN);
    const good = longestRunHours >= blockHours ? true : atBest >= blockHours ? null : false;
    days.push({ year, month, dayOfMonth, longestRunHours, good });
  }
  return record.typicalYear ? days.sort((a, b) => a.month - b.month || a.dayOfMonth - b.dayOfMonth) : days;
}

function stateOf(record: HourlyRecord, at: number, rules: BlockRules): number {
  const wind = record.windMps[at] as number;
  const measured = record.gustMps[at] as number;
  const gust = Number.isNaN(measured) ? wind * (rules.gustFactor ?? DEFAULT_GUST_FACTOR) : measured;
  const checks: [number, number | null][] = [
    [wind, rules.maxWindMps],
    [gust, rules.maxGustMps],
    [record.rainMm[at] as number, rules.maxRainMm],
  ];
  let state: number = WORKABLE;
  for (const [value, limit] of checks) {
    if (limit === null) continue;
    if (value > limit + ROUNDING) return BROKEN;
    if (Number.isNaN(value)) state = UNKNOWN;
  }
  return state;
}

function longestRun(
  hours: Uint8Array,
  first: number,
  end: number,
  counts: (state: number) => boolean,
): number {
  let longest = 0;
  let run = 0;
  for (let hour = first; hour < end; hour += 1) {
    run = counts(hours[hour] as number) ? run + 1 : 0;
    if (run > longest) longest = run;
  }
  return longest;
}
