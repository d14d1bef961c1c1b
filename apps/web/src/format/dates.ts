import { type LocalDate, monthOf, toDay, toLocalDate, weekdayOf } from '../../../../libs/kernel/src/index.ts';

const WEEKDAYS = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'] as const;
const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const;

const asDay = (date: string): number => toDay(date as LocalDate);
const dayOfMonth = (date: string): number => Number(date.slice(8, 10));
const yearOf = (date: string): number => Number(date.slice(0, 4));
const monthName = (date: string): string => MONTHS[Number(date.slice(5, 7)) - 1] as string;

/** `Tue 1 June 2027`. A date stays the date that it is: no zone of the browser touches it. */
export function longDate(date: string): string {
  return `${weekdayName(date)} ${dayOfMonth(date)} ${monthName(date)} ${yearOf(date)}`;
}

/** `Tue 1 Jun`. */
export function shortDate(date: string): string {
  return `${weekdayName(date)} ${dayOfMonth(date)} ${monthName(date).slice(0, 3)}`;
}

/** `Tue`. */
export function weekdayName(date: string): string {
  return WEEKDAYS[weekdayOf(asDay(date)) - 1] as string;
}

/** `Tue 1 June 2027`, or `Tue 1 to Wed 2 June 2027` for more than one day. */
export function spanWords(from: string, to: string): string {
  if (from === to) return longDate(from);
  const sameYear = yearOf(from) === yearOf(to);
  const sameMonth = sameYear && monthName(from) === monthName(to);
  const head = `${weekdayName(from)} ${dayOfMonth(from)}`;
  if (sameMonth) return `${head} to ${longDate(to)}`;
  return `${head} ${monthName(from)}${sameYear ? '' : ` ${yearOf(from)}`} to ${longDate(to)}`;
}

/** Week of the year by ISO 8601: the week with the first Thursday is week 1. */
export function isoWeek(date: string): number {
  const thursday = asDay(date) - weekdayOf(asDay(date)) + 4;
  const firstOfYear = asDay(`${toLocalDate(thursday).slice(0, 4)}-01-01`);
  return Math.floor((thursday - firstOfYear) / 7) + 1;
}

/** Days from the first date to the second; negative when the second is earlier. */
export function daysFromTo(from: string, to: string): number {
  return asDay(to) - asDay(from);
}

/** The earlier of two dates. */
export const earlierOf = (a: string, b: string): string => [a, b].sort()[0] as string;

/** The later of two dates. */
export const laterOf = (a: string, b: string): string => [a, b].sort()[1] as string;

/** All dates from the first to the last, both included. */
export function datesFromTo(from: string, to: string): string[] {
  const dates: string[] = [];
  for (let day = asDay(from); day <= asDay(to); day += 1) dates.push(toLocalDate(day));
  return dates;
}

/** The date of a number of days since 1970-01-01, as a plan counts them. */
export function dateOfDay(day: number): string {
  return toLocalDate(day);
}

/** Whether a date is a Saturday or a Sunday. */
export function isWeekend(date: string): boolean {
  return weekdayOf(asDay(date)) >= 6;
}

export interface Head {
  readonly label: string;
  readonly first: string;
  readonly days: number;
}

/** The months of a run of dates, each with the number of its days in it. */
export function monthHeads(from: string, to: string): Head[] {
  return headsBy(from, to, (date) => `${MONTHS[monthOf(asDay(date)) - 1]} ${yearOf(date)}`);
}

/** The ISO weeks of a run of dates. */
export function weekHeads(from: string, to: string): Head[] {
  return headsBy(from, to, (date) => `Week ${isoWeek(date)}`);
}

function headsBy(from: string, to: string, labelOf: (date: string) => string): Head[] {
  const heads: { label: string; first: string; days: number }[] = [];
  for (const date of datesFromTo(from, to)) {
    const label = labelOf(date);
    const last = heads.at(-1);
    if (last?.label === label) last.days += 1;
    else heads.push({ label, first: date, days: 1 });
  }
  return heads;
}

/** `1 June`, of a date without a year such as `06-01`. */
export function dateOfAnyYear(monthAndDay: string): string {
  return `${Number(monthAndDay.slice(3, 5))} ${monthOfAnyYear(monthAndDay)}`;
}

/** `June`, of a date without a year such as `06-01`. */
export function monthOfAnyYear(monthAndDay: string): string {
  return MONTHS[Number(monthAndDay.slice(0, 2)) - 1] as string;
}
