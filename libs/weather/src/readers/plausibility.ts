import type { HourlyRecord } from '../hourly-record.ts';
import { hourOfDay, hourText, localDateOfHour } from '../record-clock.ts';
import type { HourSpan } from './missing-hours.ts';
import type { ReadingWarning } from './reading.ts';
import { windUnitWarning } from './wind-units.ts';

/** What the file itself showed beside its hours. */
export interface FileSigns {
  readonly spans: readonly HourSpan[];
  /** Hours that were there twice. */
  readonly doubled: readonly number[];
}

/** So many hours make a record long enough that it must have had some rain: 11 of 12 months. */
const LONG_RECORD_HOURS = 8000;
/** Most rain in twelve months, 26,470 mm at Cherrapunji 1860-61 (WMO archive of weather and climate extremes), rounded up. */
const MOST_RAIN_MM_A_YEAR = 27_000;
/**
 * Common practice in checks of station data, not a standard: a sensor that gives the same value to the last digit for so long is stuck.
 * Calm can last, so still air is given two weeks.
 */
const STUCK_WIND_HOURS = 24;
const STUCK_CALM_HOURS = 14 * 24;
const STUCK_TEMP_HOURS = 48;
/** Saturated air may be noted a little above its temperature by rounding, or over ice. */
const DEW_ABOVE_AIR_C = 0.5;

/**
 * What a record's own figures say against it: units, a gauge that never caught a drop, stuck sensors, dew point above air temperature, hours
 * lost in spring and doubled in autumn. A record whose rain is zero throughout is changed: its rain becomes missing, since a year
 * without a drop is far rarer than a station without a gauge. Thresholds are common practice where no source is named.
 */
export function plausibility(record: HourlyRecord, signs: FileSigns): ReadingWarning[] {
  const warnings: ReadingWarning[] = [];
  const warn = (code: string, words: string): void => {
    warnings.push({ code, words });
  };
  if (record.typicalYear)
    warn(
      'years-mixed',
      'Its months come from different years: a typical year put together, not one that was.',
    );
  rainSigns(record, warn);
  if (record.windMps.every(Number.isNaN) && record.gustMps.every(Number.isNaN))
    warn('wind-missing', 'It has no wind, so nothing can be said of windy days.');
  const units = windUnitWarning(record);
  if (units) warnings.push(units);
  temperatureSigns(record, warn);
  stuckSigns(record, warn);
  if (looksLikeCivilTime(signs))
    warn(
      'clock-change',
      'An hour is missing in one season and another is there twice in the other, as if the file were in civil time with summer time. Read it with its time zone, or get it in standard time.',
    );
  return warnings;
}

type Warn = (code: string, words: string) => void;

function rainSigns({ rainMm, hourIndex }: HourlyRecord, warn: Warn): void {
  let known = 0;
  let wet = 0;
  let sum = 0;
  let most = 0;
  for (const rain of rainMm) {
    if (Number.isNaN(rain)) continue;
    known += 1;
    if (rain > 0) wet += 1;
    sum += rain;
    if (rain > most) most = rain;
  }
  if (known === 0) warn('rain-missing', 'It has no rain, so nothing can be said of wet days.');
  else if (wet === 0 && hourIndex.length >= LONG_RECORD_HOURS) {
    rainMm.fill(Number.NaN);
    warn('rain-all-zero', 'Its rain is 0 from beginning to end, which is taken as not recorded.');
  } else if (known >= 24 * 28 && (sum / known) * 8766 > MOST_RAIN_MM_A_YEAR)
    warn(
      'rain-too-much',
      `Its rain adds up to ${Math.round((sum / known) * 8766)} mm a year, more than has ever been measured: is it a running total, or in another unit?`,
    );
  else if (most > 150)
    warn(
      'rain-burst',
      `Its wettest hour has ${most.toFixed(0)} mm, which hardly ever falls in an hour: is it a total of many hours?`,
    );
}

function temperatureSigns({ tempC, dewPointC, hourIndex }: HourlyRecord, warn: Warn): void {
  let known = 0;
  let sum = 0;
  let pairs = 0;
  let above = 0;
  let firstAbove: number | undefined;
  tempC.forEach((temp, at) => {
    if (Number.isNaN(temp)) return;
    known += 1;
    sum += temp;
    const dew = dewPointC[at] as number;
    if (Number.isNaN(dew)) return;
    pairs += 1;
    if (dew <= temp + DEW_ABOVE_AIR_C) return;
    above += 1;
    firstAbove ??= hourIndex[at] as number;
  });
  // The hottest place with a long record has a mean of 34.4 C over the year (Dallol, from memory); 40 C leaves room.
  if (known >= 24 * 28 && sum / known > 40)
    warn('temperature-unit', `Its mean temperature is ${(sum / known).toFixed(0)} C: is it in Fahrenheit?`);
  if (firstAbove !== undefined && above > pairs / 1000)
    warn(
      'dew-point-above-air',
      `The dew point is above the air temperature in ${above} hours, first at ${hourText(firstAbove)}, which cannot be: one of the two is wrong.`,
    );
}

function stuckSigns(record: HourlyRecord, warn: Warn): void {
  const wind = longestRun(record, record.windMps, (value) => value > 0);
  const calm = longestRun(record, record.windMps, (value) => value === 0);
  const temp = longestRun(record, record.tempC, () => true);
  const say = (code: string, what: string, run: { hours: number; from: number }): void =>
    warn(code, `${what} for ${run.hours} hours from ${hourText(run.from)}: was the sensor stuck?`);
  if (wind.hours > STUCK_WIND_HOURS) say('wind-stuck', 'The wind stays the same to the last digit', wind);
  if (calm.hours > STUCK_CALM_HOURS) say('wind-stuck', 'There is no breath of wind', calm);
  if (temp.hours > STUCK_TEMP_HOURS)
    say('temperature-stuck', 'The temperature stays the same to the last digit', temp);
}

/** The longest run of hours without a gap that hold the same value. */
function longestRun(
  { hourIndex }: HourlyRecord,
  values: Float32Array,
  counts: (value: number) => boolean,
): { hours: number; from: number } {
  let longest = { hours: 0, from: 0 };
  let start = 0;
  for (let at = 0; at <= values.length; at += 1) {
    const goesOn =
      at > start &&
      at < values.length &&
      values[at] === values[start] &&
      hourIndex[at] === (hourIndex[at - 1] as number) + 1;
    if (goesOn) continue;
    if (at > start && at - start > longest.hours && counts(values[start] as number))
      longest = { hours: at - start, from: hourIndex[start] as number };
    start = at;
  }
  return longest;
}

/** Clocks change at night, in these months, in the zones of either hemisphere that change them. */
const CHANGE_MONTHS = new Set([3, 4, 5, 9, 10, 11]);

function looksLikeCivilTime({ spans, doubled }: FileSigns): boolean {
  const atChange = (hourIndex: number): number | null => {
    const { month } = localDateOfHour(hourIndex);
    return hourOfDay(hourIndex) <= 3 && CHANGE_MONTHS.has(month) ? month : null;
  };
  const lost = spans
    .filter(({ fromHour, toHour }) => fromHour === toHour)
    .map(({ fromHour }) => atChange(fromHour));
  const twice = doubled.map(atChange);
  return lost.some(
    (spring) => spring !== null && twice.some((autumn) => autumn !== null && autumn <= 6 !== spring <= 6),
  );
}
