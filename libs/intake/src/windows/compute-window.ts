import {
  type HourlyRecord,
  layOutDays,
  quantileDays,
  rainHours,
  SiteWindows,
  siteClock,
  USUAL_LIMITS,
  type WindowBasis,
  type WindowRow,
} from '../../../weather/src/index.ts';
import type { WindowContent } from './window-need.ts';

/** The odds of the 366 dates of a year for one visit at one site; plain JSON, so that it can be kept. */
export interface WindowResult {
  readonly rows: readonly WindowRow[];
  /** Days to hold back for each date at the wanted confidence; null where nothing is known. */
  readonly reserveDays: readonly (number | null)[];
  readonly basis: WindowBasis;
  /** Minutes that the record's clock is ahead of UTC all year: `latestStartMin` of the rows is on it. */
  readonly standardOffsetMin: number;
  /** The work minds rain, and the record notes rain only as totals at fixed hours outside work: rain by day is not seen, so the odds are too good. */
  readonly rainAtFixedHours: boolean;
  /** Different years behind the middle one of the dates; 1 for a typical year. */
  readonly years: number;
}

/** Computes the odds of a visit from a record. Throws `invalid-input` for a record without hours. */
export function computeWindow(content: WindowContent, record: HourlyRecord): WindowResult {
  const { lat, lon, shift, year, work, inARow, gustFactor, reserveConfidence } = content;
  const clock = siteClock({ lat, lon }, shift, year, record.standardOffsetMin);
  const windows = new SiteWindows([work], clock, { inARow, gustFactor });
  windows.append(layOutDays(record));
  const rows = windows.rowsOf(0).map(rounded);
  const reserveDays = rows.map((_, date) => reserveOf(windows.lostChancesOf(0, date), reserveConfidence));
  const { standardOffsetMin } = record;
  const rainAtFixedHours = mindsRain(content) && notesRainAsTotals(record);
  return {
    rows,
    reserveDays,
    basis: windows.basis(),
    rainAtFixedHours,
    standardOffsetMin,
    years: middle(rows.map((row) => row.years)),
  };
}

function mindsRain({ work }: WindowContent): boolean {
  return work.some((day) =>
    day?.steps.some(({ limits, dryAfterMin }) => limits.rainMmPerHour !== null || dryAfterMin > 0),
  );
}

/** Below this chance it is no accident that hardly any rain lies in working hours. */
const NO_ACCIDENT = 1e-4;

/** By the usual working hours whatever the shift: a long shift reaches into the hours of such totals. */
function notesRainAsTotals(record: HourlyRecord): boolean {
  const { wetHours, wetWorkHours, chanceOfSoFew } = rainHours(record, USUAL_LIMITS);
  return chanceOfSoFew < NO_ACCIDENT && wetWorkHours <= wetHours / 20;
}

/** The fewest days that cover this share of visits; null where nothing is known. */
function reserveOf(chances: Float64Array | null, share: number): number | null {
  return chances === null ? null : quantileDays(chances, share);
}

function middle(numbers: readonly number[]): number {
  return [...numbers].sort((a, b) => a - b)[Math.floor(numbers.length / 2)] ?? 0;
}

/** Six places are plenty for odds, and make what is kept a third as long. */
function rounded(row: WindowRow): WindowRow {
  const entries = Object.entries(row).map(([name, value]) => [
    name,
    typeof value === 'number' ? Math.round(value * 1e6) / 1e6 : value,
  ]);
  return Object.fromEntries(entries) as unknown as WindowRow;
}
