import tzLookup from '@photostructure/tz-lookup';
import { clockOnSite } from '../../../../libs/intake/src/index.ts';
import {
  DAY,
  type DayGrid,
  layOutDays,
  monthAndDay,
  type ShiftTimes,
  SiteWindows,
  siteClock,
  type WindowBasis,
  type WindowRow,
} from '../../../../libs/weather/src/index.ts';
import { PlainError } from '../program/plain-error.ts';
import type { OpenedRecord } from './open-record.ts';
import type { SeasonWork } from './season-work.ts';
import type { Shift } from './window-options.ts';

/** Lost days are counted up to this many; that many means that many or more. */
export const MOST_LOST_DAYS = 60;
/** Dates on either side that are counted with a date, and the years with which a date weighs as much as its month. */
export const HALF_WIDTH_DAYS = 7;
export const MONTH_WEIGHT_YEARS = 3;

/** How the windows of a kit are counted. */
export interface KitRules {
  readonly shift: Shift;
  /** Null: by the place, else by the file's own clock. */
  readonly zone: string | null;
  /** The year whose clocks the shift is read by. */
  readonly year: number;
  readonly gustFactor: number;
  readonly inARow: boolean;
}

/** One date: of a file of one year a day of it, of a file of many years a date of the year. */
export interface DateRow {
  /** `YYYY-MM-DD` as in the file, or `MM-DD` of many years. */
  readonly date: string;
  /** Of one year: whether the work could be closed on that day; null where unknown hours decide it, and of many years. */
  readonly good: boolean | null;
  readonly state: 'good' | 'split' | 'bad' | 'unknown' | null;
  /** Share of known days around the date on which the work could be closed, and after shrinkage towards the month. */
  readonly goodShare: number | null;
  readonly shrunkGoodShare: number | null;
  readonly ownWeight: number;
  readonly goodLow: number;
  readonly goodHigh: number;
  readonly lostDays: {
    readonly mean: number | null;
    readonly p50: number | null;
    readonly p80: number | null;
    readonly p95: number | null;
  };
  readonly hopelessShare: number | null;
  readonly knownDays: number;
  readonly years: number;
  /** Local clock time by which work must begin; of many years, to be closed on 4 of 5 good days. */
  readonly latestStart: string | null;
}

/** The windows of a kit at the place of a file. */
export interface KitWindows {
  readonly kind: 'typical-year' | 'one-year' | 'many-years';
  readonly clock: ShiftTimes;
  readonly zoneFrom: 'asked' | 'place' | 'file';
  readonly rows: readonly DateRow[];
  /** All 366 dates of the year, for a picture. */
  readonly dates: readonly WindowRow[];
  /** Local clock time by which work must begin on a date to be closed on 4 of 5 good days. */
  readonly localStart: (row: WindowRow) => string | null;
  readonly basis: WindowBasis & {
    readonly firstDate: string;
    readonly lastDate: string;
    readonly judgedDays: number;
    readonly unknownDays: number;
    /** Most different years behind any date; a typical year is one. */
    readonly years: number;
  };
}

const STATES = {
  [DAY.GOOD]: 'good',
  [DAY.SPLIT]: 'split',
  [DAY.BAD]: 'bad',
  [DAY.UNKNOWN]: 'unknown',
} as const;

/** Counts the windows of a kit. Throws PlainError where nobody says where the record was taken. */
export function kitWindows(opened: OpenedRecord, { work }: SeasonWork, rules: KitRules): KitWindows {
  const { record, place, file } = opened;
  if (place === null)
    throw new PlainError(
      `${file} does not say where it was recorded, so daylight and clocks are not known. Say it with --place LAT,LON.`,
    );
  const { year, gustFactor, inARow } = rules;
  const zone = rules.zone ?? zoneAt(place);
  const clock = { from: rules.shift.from, to: rules.shift.to, zone };
  const windows = new SiteWindows([work], siteClock(place, clock, year, record.standardOffsetMin), {
    gustFactor,
    inARow,
    mostLostDays: MOST_LOST_DAYS,
    halfWidthDays: HALF_WIDTH_DAYS,
    monthWeightYears: MONTH_WEIGHT_YEARS,
  });
  const grid = layOutDays(record);
  windows.append(grid);
  const dates = windows.rowsOf(0);
  const states = windows.statesOf(0);
  const clockFacts = { year, zone, standardOffsetMin: record.standardOffsetMin };
  const local: LocalClock = (date, minute) => clockOnSite(clockFacts, date, minute);
  const kind = record.typicalYear ? 'typical-year' : grid.dayCount <= 366 ? 'one-year' : 'many-years';
  const rows =
    kind === 'many-years'
      ? dates.map((row) => ofDate(row, local))
      : ofDays(grid, dates, states, windows.latestStartsOf(0), local);
  const named = Array.from({ length: grid.dayCount }, (_, day) => dateText(grid, day));
  return {
    kind,
    clock,
    zoneFrom: rules.zone ? 'asked' : zone ? 'place' : 'file',
    rows,
    dates,
    localStart: (row) => (row.latestStartMin === null ? null : local(row.date, row.latestStartMin)),
    basis: {
      ...windows.basis(),
      firstDate: named[0] as string,
      lastDate: named.at(-1) as string,
      judgedDays: states.length,
      unknownDays: states.filter((state) => state === DAY.UNKNOWN).length,
      // A winter has two calendar years; no more years are told than the file has.
      years: Math.min(new Set(grid.year).size, Math.max(...dates.map(({ years }) => years))),
    },
  };
}

function zoneAt({ lat, lon }: { readonly lat: number; readonly lon: number }): string | null {
  try {
    return tzLookup(lat, lon);
  } catch {
    return null; // no zone is known there; the file's own clock stands and is named
  }
}

type LocalClock = (date: number, minute: number) => string;

function ofDate(row: WindowRow, local: LocalClock): DateRow {
  return {
    date: monthDay(row.date),
    good: null,
    state: null,
    ...oddsOf(row),
    latestStart: row.latestStartMin === null ? null : local(row.date, row.latestStartMin),
  };
}

function ofDays(
  grid: DayGrid,
  dates: readonly WindowRow[],
  states: Uint8Array,
  latestStarts: Int16Array,
  local: LocalClock,
): DateRow[] {
  return Array.from({ length: grid.dayCount }, (_, day) => {
    const date = grid.dateOfYear[day] as number;
    // The last day of a year is not judged: nobody knows the night after it.
    const state = STATES[(states[day] ?? DAY.UNKNOWN) as keyof typeof STATES];
    const latest = latestStarts[day] ?? -1;
    return {
      date: dateText(grid, day),
      good: state === 'unknown' ? null : state === 'good',
      state,
      ...oddsOf(dates[date] as WindowRow),
      latestStart: state === 'good' && latest >= 0 ? local(date, latest) : null,
    };
  });
}

function oddsOf(row: WindowRow) {
  const { goodShare, shrunkGoodShare, ownWeight, goodLow, goodHigh, hopelessShare, knownDays, years } = row;
  return {
    goodShare: rounded(goodShare),
    shrunkGoodShare: rounded(shrunkGoodShare),
    ownWeight: rounded(ownWeight) as number,
    goodLow: rounded(goodLow) as number,
    goodHigh: rounded(goodHigh) as number,
    lostDays: { mean: rounded(row.lostMean), p50: row.lostP50, p80: row.lostP80, p95: row.lostP95 },
    hopelessShare: rounded(hopelessShare),
    knownDays,
    years,
  };
}

const rounded = (value: number | null): number | null => (value === null ? null : Number(value.toFixed(6)));

function monthDay(date: number): string {
  const { month, dayOfMonth } = monthAndDay(date);
  return [month, dayOfMonth].map((part) => String(part).padStart(2, '0')).join('-');
}

function dateText(grid: DayGrid, day: number): string {
  return `${grid.year[day]}-${monthDay(grid.dateOfYear[day] as number)}`;
}
