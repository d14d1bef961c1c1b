import { type LocalDate, toDay, weekdayOf } from '../../../../libs/kernel/src/index.ts';

const WEEKDAYS = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'];
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
];

/** A date as people say it: Monday 4 May 2026. */
export function spokenDate(date: LocalDate): string {
  const [year, month, day] = date.split('-').map(Number);
  return `${WEEKDAYS[weekdayOf(toDay(date)) - 1]} ${day} ${MONTHS[(month as number) - 1]} ${year}`;
}

/** From one date to another, both included. */
export const spokenSpan = (from: LocalDate, to: LocalDate): string =>
  from === to ? spokenDate(from) : `${spokenDate(from)} to ${spokenDate(to)}`;
