import { type Day, type LocalDate, toDay, weekdayOf } from '../../../kernel/src/index.ts';

/** First and last day of the season, both included. */
export interface Horizon {
  readonly firstDay: Day;
  readonly lastDay: Day;
}

/** Days from a first to a last, both included; `toDay` null or absent is open. */
export interface DateSpan {
  readonly fromDay: string;
  readonly toDay?: string | null;
}

/** The day number of a checked date cell. */
export function dayOfCell(date: string): Day {
  return toDay(date as LocalDate);
}

/** One character a day of the horizon: '1' where `holds`, else '0'. */
export function dayMask(horizon: Horizon, holds: (day: number) => boolean): string {
  let mask = '';
  for (let day: number = horizon.firstDay; day <= horizon.lastDay; day += 1) mask += holds(day) ? '1' : '0';
  return mask;
}

/** Whether a day is one of the seven weekdays given as digits, Monday first. */
export function onWeekday(weekdays: string, day: number): boolean {
  return weekdays.charAt(weekdayOf(day) - 1) === '1';
}

/** A test for lying in any of the spans. */
export function inAnySpan(spans: readonly DateSpan[]): (day: number) => boolean {
  const bounds = spans.map(
    (span) =>
      [dayOfCell(span.fromDay), span.toDay ? dayOfCell(span.toDay) : Number.POSITIVE_INFINITY] as const,
  );
  return (day) => bounds.some(([from, to]) => day >= from && day <= to);
}
