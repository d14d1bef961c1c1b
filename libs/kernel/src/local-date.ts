import type { Brand } from './brand.ts';
import { DryspellError } from './dryspell-error.ts';

/** Whole days since 1970-01-01 in the proleptic Gregorian calendar; the planner's time. */
export type Day = Brand<number, 'Day'>;
/** A calendar date as text, `YYYY-MM-DD`, years 0001 to 9999, always a date that exists. */
export type LocalDate = Brand<string, 'LocalDate'>;

const MS_PER_DAY = 86_400_000;
const DATE_SHAPE = /^(\d{4})-(\d{2})-(\d{2})$/;
const FIRST_DAY = -719_162; // 0001-01-01
const LAST_DAY = 2_932_896; // 9999-12-31

/** Whether a text is a calendar date that exists, written `YYYY-MM-DD`. */
export function isLocalDate(text: string): text is LocalDate {
  return dayOf(text) !== undefined;
}

/** Reads `YYYY-MM-DD`. Throws `invalid-date` for anything else, also for a date that does not exist. */
export function parseLocalDate(text: string): LocalDate {
  if (!isLocalDate(text)) throw new DryspellError('invalid-date', { value: text });
  return text;
}

/** The day number of a date. */
export function toDay(date: LocalDate): Day {
  const day = dayOf(date);
  if (day === undefined) throw new DryspellError('invalid-date', { value: date });
  return day;
}

/** The date of a day number. Throws `invalid-date` for a fraction or outside the years 0001 to 9999. */
export function toLocalDate(day: number): LocalDate {
  if (!Number.isInteger(day) || day < FIRST_DAY || day > LAST_DAY)
    throw new DryspellError('invalid-date', { value: day });
  return new Date(day * MS_PER_DAY).toISOString().slice(0, 10) as LocalDate;
}

/** The day number of a year, month 1..12 and day of month. Throws `invalid-date` if there is no such date. */
export function dayFromParts(year: number, month: number, dayOfMonth: number): Day {
  const pad = (value: number, width: number): string => String(value).padStart(width, '0');
  return toDay(`${pad(year, 4)}-${pad(month, 2)}-${pad(dayOfMonth, 2)}` as LocalDate);
}

/** The weekday of a day, ISO 8601: 1 is Monday, 7 is Sunday. */
export function weekdayOf(day: number): number {
  return ((((day + 3) % 7) + 7) % 7) + 1;
}

/** The month of a day, 1 to 12. */
export function monthOf(day: number): number {
  return new Date(day * MS_PER_DAY).getUTCMonth() + 1;
}

/** A date some days later, or earlier if negative. */
export function addDays(date: LocalDate, days: number): LocalDate {
  return toLocalDate(toDay(date) + days);
}

/** Whole days from the first date to the second; negative when the second is earlier. */
export function daysBetween(from: LocalDate, to: LocalDate): number {
  return toDay(to) - toDay(from);
}

function dayOf(text: string): Day | undefined {
  const parts = DATE_SHAPE.exec(text);
  if (!parts) return undefined;
  const [year, month, dayOfMonth] = [Number(parts[1]), Number(parts[2]), Number(parts[3])];
  const date = new Date(0);
  // setUTCFullYear, because Date.UTC reads the years 0 to 99 as 1900 to 1999.
  date.setUTCFullYear(year, month - 1, dayOfMonth);
  const exists =
    date.getUTCFullYear() === year && date.getUTCMonth() === month - 1 && date.getUTCDate() === dayOfMonth;
  return exists && year >= 1 ? ((date.getTime() / MS_PER_DAY) as Day) : undefined;
}
