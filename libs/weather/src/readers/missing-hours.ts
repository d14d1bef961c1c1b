import type { HourlyRecord } from '../hourly-record.ts';
import { daysInMonth, hourIndexOf, localDateOfHour } from '../record-clock.ts';

/** Hours that are not there, by hour index, the last one included. */
export interface HourSpan {
  readonly fromHour: number;
  readonly toHour: number;
}

/** Whether each month comes from one year only and yet they spread over more than a year: a made-up year. */
export function isTypicalYear(hourIndex: Int32Array): boolean {
  const span = (hourIndex.at(-1) as number) - (hourIndex[0] as number);
  if (span <= 366 * 24) return false;
  const yearOfMonth = new Map<number, number>();
  for (const index of hourIndex) {
    const { year, month } = localDateOfHour(index);
    if ((yearOfMonth.get(month) ?? year) !== year) return false;
    yearOfMonth.set(month, year);
  }
  return true;
}

/**
 * Spans of hours that are missing between the first and the last hour. In a typical year the time between its months is no gap;
 * a month of it that begins late or ends early is one, save that 29 February may be left out.
 */
export function missingSpans({
  hourIndex,
  typicalYear,
}: Pick<HourlyRecord, 'hourIndex' | 'typicalYear'>): HourSpan[] {
  const spans: HourSpan[] = [];
  const note = (fromHour: number, toHour: number): void => {
    if (fromHour <= toHour) spans.push({ fromHour, toHour });
  };
  for (let at = 1; at < hourIndex.length; at += 1) {
    const before = hourIndex[at - 1] as number;
    const after = hourIndex[at] as number;
    if (after === before + 1) continue;
    const [from, to] = [localDateOfHour(before), localDateOfHour(after)];
    if (!typicalYear || (from.year === to.year && from.month === to.month)) {
      note(before + 1, after - 1);
      continue;
    }
    const lastDay = from.month === 2 ? 28 : daysInMonth(from.year, from.month);
    note(before + 1, hourIndexOf(from.year, from.month, lastDay, 23));
    note(hourIndexOf(to.year, to.month, 1, 0), after - 1);
  }
  return spans;
}

/** Hours in spans. */
export function hoursIn(spans: readonly HourSpan[]): number {
  return spans.reduce((sum, { fromHour, toHour }) => sum + toHour - fromHour + 1, 0);
}
