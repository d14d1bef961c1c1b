import path from 'node:path';
import type { SeasonRow } from '../../../../libs/contracts/src/index.ts';
import {
  type BadLine,
  chainFromCorrelation,
  type HourlyRecord,
  hourOfDay,
  localDateOfHour,
  type MonthFromRecord,
  monthlyTableFromHourly,
  type ReadingPolicy,
  rainHours,
  readEpw,
  type WorkableLimits,
} from '../../../../libs/weather/src/index.ts';
import { PlainError } from '../program/plain-error.ts';
import { readNamedText } from './read-named-file.ts';
import { limitWords } from './weather-limits.ts';

type MonthRow = SeasonRow<'weatherMonths'>;

/** The monthly weather of an area, counted from an hourly file, and how much stands behind it. */
export interface WeatherReading {
  readonly area: string;
  readonly file: string;
  readonly place: HourlyRecord['place'] & { readonly source: string; readonly standardOffsetMin: number };
  readonly limits: WorkableLimits;
  readonly hours: number;
  /** Hours within working hours, and how many of them have no rain or no wind. */
  readonly workHours: number;
  readonly workHoursWithoutRain: number;
  readonly workHoursWithoutWind: number;
  /** The first lines that were left out, and how many there are. */
  readonly badLines: readonly BadLine[];
  readonly badLineCount: number;
  readonly rows: readonly MonthRow[];
  /** Months that cannot be counted, with why. */
  readonly notes: readonly string[];
}

const MOST_BYTES = 200_000_000;
/** Day-to-day correlation of wet days where a record shows no pair of days to count from; of a plausible size, no source. */
const ASSUMED_CORRELATION = 0.25;

/**
 * Reads an EPW file. Throws PlainError when it holds no hour, no month whose wet days can be counted, or bad lines that nobody said to
 * leave out.
 */
export function readWeatherMonths(
  file: string,
  area: string,
  limits: WorkableLimits,
  policy: ReadingPolicy,
): WeatherReading {
  const reading = readEpw(readNamedText(file, 'EPW weather file', MOST_BYTES), policy);
  const { record, badLines, badLineCount, warnings } = reading;
  if (!record) {
    const [first] = badLines;
    if (reading.goodHours > 0 && first)
      throw new PlainError(
        `${file} has ${badLineCount} bad lines beside ${reading.goodHours} good hours (${badLines.slice(0, 5).map(lineWords).join('; ')}). Mend the file, or say --keep-good to leave them out.`,
      );
    const why = first ? `line ${first.line}: ${first.reason}` : 'it holds no hour';
    throw new PlainError(
      `${file} is no EPW weather file that can be read (${why}). Name an hourly EPW file.`,
    );
  }
  requireRainByHour(file, record, limits);
  const name = path.basename(file);
  const months = monthlyTableFromHourly(record, limits);
  const rows: MonthRow[] = [];
  const notes: string[] = [];
  for (const [index, month] of months.entries()) {
    const row = rowOf(area, index + 1, month, record, `${name}: ${limitWords(limits)}`);
    if (row) rows.push(row);
    if (!row)
      notes.push(`month ${index + 1}: the rain of no day is known, so its wet days cannot be counted`);
    else if (row.windyDayShare === null)
      notes.push(`month ${index + 1}: the wind of no day is known, so its windy days cannot be counted`);
    if (row && row.wetDayShare > 0 && month.wetAfterWet === null)
      notes.push(
        `month ${index + 1}: no wet day is followed by a known one; wetAfterWet is assumed from a correlation of ${ASSUMED_CORRELATION}`,
      );
  }
  if (rows.length === 0) {
    const why = warnings.some(({ code }) => code === 'rain-all-zero')
      ? 'its rain is 0 through the whole year, which is taken as not recorded'
      : 'it has no rain';
    throw new PlainError(
      `wet days cannot be counted from ${file}: ${why}. Use a file with rain, or keep the monthly figures of the season file.`,
    );
  }
  for (const { code, words } of warnings) if (!TOLD_ANYWAY.has(code)) notes.push(words);
  notes.push(
    doubtWords(months),
    'too cold days are not counted from the record; planning takes them from the mean temperature and says so',
  );
  return {
    area,
    file,
    place: { ...record.place, source: record.source, standardOffsetMin: record.standardOffsetMin },
    limits,
    hours: record.hourIndex.length,
    ...countWorkHours(record, limits),
    badLines,
    badLineCount,
    rows,
    notes,
  };
}

/** Warnings that the months themselves tell, or why there are none. */
const TOLD_ANYWAY = new Set(['rain-missing', 'rain-all-zero', 'wind-missing']);

function lineWords({ line, reason, value }: BadLine): string {
  return `line ${line}: ${reason}${value === undefined ? '' : ` (${value})`}`;
}

/** Below this chance it is no accident that hardly any rain lies in working hours. */
const NO_ACCIDENT = 1e-4;

/** Totals noted at fixed hours outside working hours would make every day a dry one. */
function requireRainByHour(file: string, record: HourlyRecord, limits: WorkableLimits): void {
  const { wetHours, wetWorkHours, hoursOfDay, chanceOfSoFew } = rainHours(record, limits);
  if (chanceOfSoFew >= NO_ACCIDENT || wetWorkHours > wetHours / 20) return;
  throw new PlainError(
    `wet days cannot be counted from ${file}: ${wetWorkHours} of its ${wetHours} wet hours lie in working hours, its rain begins only in the hours ${hoursOfDay.join(', ')} of the day, as if totals were noted at fixed times. Use another file, or --work-hours 0-24 to count the rain and wind of the whole day.`,
  );
}

/** What was read, in lines for people. */
export function readingLines(reading: WeatherReading): string[] {
  const { place, badLines, badLineCount } = reading;
  const leftOut =
    badLineCount === 0
      ? ''
      : `, ${badLineCount} lines left out (first: line ${badLines[0]?.line}, ${badLines[0]?.reason})`;
  return [
    `weather of ${reading.area}: ${path.basename(reading.file)}, ${place.name} (${place.lat}, ${place.lon}; UTC ${offsetText(place.standardOffsetMin)})`,
    `  ${reading.hours} hours read${leftOut}; ${reading.workHours} of them in working hours, ${reading.workHoursWithoutRain} of these without rain and ${reading.workHoursWithoutWind} without wind`,
    `  ${limitWords(reading.limits)}`,
    ...reading.notes.map((note) => `  ${note}`),
  ];
}

/** How far a share counted from the poorest month may be off: 95 % of a binomial share of 0.3, days taken as independent. */
function doubtWords(months: readonly MonthFromRecord[]): string {
  const fewest = Math.min(...months.map((month) => month.knownDays).filter((days) => days > 0));
  const points = Math.round(196 * Math.sqrt((0.3 * 0.7) / fewest));
  return `the month with the fewest known days has ${fewest}; a share of 30 % counted from them is uncertain by about ${points} points either way, or more, as wet days come in spells`;
}

function offsetText(minutes: number): string {
  const [hours, rest] = [Math.floor(Math.abs(minutes) / 60), Math.abs(minutes) % 60];
  return `${minutes < 0 ? '-' : '+'}${hours}:${String(rest).padStart(2, '0')}`;
}

function rowOf(
  area: string,
  month: number,
  { wetDayShare, wetAfterWet, windyDayShare, meanTempC }: MonthFromRecord,
  record: HourlyRecord,
  source: string,
): MonthRow | null {
  if (wetDayShare === null) return null;
  // Where no day is wet the chance after a wet one is never asked for.
  const assumed = wetDayShare === 0 ? 0 : chainFromCorrelation(wetDayShare, ASSUMED_CORRELATION).badAfterBad;
  const wind = meanOf(record, month, record.windMps);
  const rain = meanOf(record, month, record.rainMm);
  return {
    area,
    month,
    wetDayShare: rounded(wetDayShare, 4),
    wetAfterWet: possibleChance(rounded(wetDayShare, 4), rounded(wetAfterWet ?? assumed, 4)),
    windyDayShare: windyDayShare === null ? null : rounded(windyDayShare, 4),
    coldDayShare: null,
    meanTempC: meanTempC === null ? null : rounded(meanTempC, 1),
    meanWindMps: wind === null ? null : rounded(wind, 1),
    rainMmPerMonth: rain === null ? null : rounded(rain * 24 * (DAYS_IN_MONTH[month - 1] as number), 1),
    source: source.slice(0, 500),
  };
}

/** Rounding may leave a chance just below what its share allows (at least 2 - 1 / share); then the next one up stands. */
function possibleChance(share: number, chance: number): number {
  return share === 0 ? chance : Math.min(1, Math.max(chance, Math.ceil((2 - 1 / share) * 10_000) / 10_000));
}

const DAYS_IN_MONTH = [31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** Mean of the known hours of a month, day and night; null when none is known. */
function meanOf(record: HourlyRecord, month: number, values: Float32Array): number | null {
  let sum = 0;
  let count = 0;
  values.forEach((value, at) => {
    if (Number.isNaN(value) || localDateOfHour(record.hourIndex[at] as number).month !== month) return;
    sum += value;
    count += 1;
  });
  return count === 0 ? null : sum / count;
}

function rounded(value: number, digits: number): number {
  return Number(value.toFixed(digits));
}

function countWorkHours(record: HourlyRecord, limits: WorkableLimits) {
  const counts = { workHours: 0, workHoursWithoutRain: 0, workHoursWithoutWind: 0 };
  record.hourIndex.forEach((index, at) => {
    const hour = hourOfDay(index);
    if (hour < limits.workFromHour || hour >= limits.workToHour) return;
    counts.workHours += 1;
    if (Number.isNaN(record.rainMm[at] as number)) counts.workHoursWithoutRain += 1;
    if (Number.isNaN(record.gustMps[at] as number) && Number.isNaN(record.windMps[at] as number))
      counts.workHoursWithoutWind += 1;
  });
  return counts;
}
