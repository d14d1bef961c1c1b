/** A date and hour on a record's clock. */
export interface LocalHour {
  readonly year: number;
  /** 1 to 12. */
  readonly month: number;
  readonly dayOfMonth: number;
  /** Hour of the day in which the hour begins, 0 to 23. */
  readonly hour: number;
}

/** Days from 0000-03-01 to 1970-01-01, and of 400 and 100 and 4 Gregorian years. */
const DAYS_TO_1970 = 719_468;
const DAYS_400_YEARS = 146_097;
const DAYS_100_YEARS = 36_524;
const DAYS_4_YEARS = 1461;

/**
 * Year, month, day and hour of an hour index. Counted in years that begin in March, so that a leap day is the last of its year;
 * no Date is made, since this runs for every hour of a long record.
 */
export function localDateOfHour(hourIndex: number): LocalHour {
  const day = Math.floor(hourIndex / 24);
  const shifted = day + DAYS_TO_1970;
  const cycle = Math.floor(shifted / DAYS_400_YEARS);
  const dayOfCycle = shifted - cycle * DAYS_400_YEARS;
  // The last day of a cycle, of a leap year and of a cycle of 100 years would start one more year; each is taken back.
  const yearOfCycle = Math.floor(
    (dayOfCycle -
      Math.floor(dayOfCycle / (DAYS_4_YEARS - 1)) +
      Math.floor(dayOfCycle / DAYS_100_YEARS) -
      Math.floor(dayOfCycle / (DAYS_400_YEARS - 1))) /
      365,
  );
  const dayOfYear =
    dayOfCycle - 365 * yearOfCycle - Math.floor(yearOfCycle / 4) + Math.floor(yearOfCycle / 100);
  // Five months from March on hold 153 days, twice over.
  const monthFromMarch = Math.floor((5 * dayOfYear + 2) / 153);
  const month = monthFromMarch < 10 ? monthFromMarch + 3 : monthFromMarch - 9;
  return {
    year: cycle * 400 + yearOfCycle + (month <= 2 ? 1 : 0),
    month,
    dayOfMonth: dayOfYear - Math.floor((153 * monthFromMarch + 2) / 5) + 1,
    hour: hourIndex - day * 24,
  };
}

/** The hour index of a date that exists and an hour of 0 to 23 (24 is the first of the next day). */
export function hourIndexOf(year: number, month: number, dayOfMonth: number, hour: number): number {
  const marchYear = month <= 2 ? year - 1 : year;
  const cycle = Math.floor(marchYear / 400);
  const yearOfCycle = marchYear - cycle * 400;
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + dayOfMonth - 1;
  const dayOfCycle =
    yearOfCycle * 365 + Math.floor(yearOfCycle / 4) - Math.floor(yearOfCycle / 100) + dayOfYear;
  return (cycle * DAYS_400_YEARS + dayOfCycle - DAYS_TO_1970) * 24 + hour;
}

/** Hour of the day, 0 to 23, of an hour index, also before 1970. */
export function hourOfDay(hourIndex: number): number {
  return hourIndex - Math.floor(hourIndex / 24) * 24;
}

const DAYS_IN_MONTH = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** Days of a month of 1 to 12. */
export function daysInMonth(year: number, month: number): number {
  const leap = month === 2 && year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  return leap ? 29 : (DAYS_IN_MONTH[month - 1] as number);
}

/** An hour index as text, `2019-06-01 05:00`. */
export function hourText(hourIndex: number): string {
  const { year, month, dayOfMonth, hour } = localDateOfHour(hourIndex);
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${year}-${two(month)}-${two(dayOfMonth)} ${two(hour)}:00`;
}
