import { dayFromParts } from '../../../kernel/src/index.ts';

/** Where the middle of a day lies between the middles of two months. */
export interface BetweenMonths {
  /** Months 0 to 11. */
  readonly before: number;
  readonly after: number;
  /** Share of the way from the first to the second, 0 to 1. */
  readonly way: number;
}

/** For each day of a year where it lies between the middles of months. */
export function daysBetweenMonths(year: number): BetweenMonths[] {
  const starts = Array.from({ length: 14 }, (_, nth) =>
    dayFromParts(year + Math.floor((nth + 11) / 12) - 1, ((nth + 11) % 12) + 1, 1),
  );
  starts.push(dayFromParts(year + 1, 2, 1));
  const middles = starts.slice(0, -1).map((start, nth) => (start + (starts[nth + 1] as number)) / 2);
  const days: BetweenMonths[] = [];
  for (let day: number = starts[1] as number; day < (starts[13] as number); day += 1) {
    const nth = middles.findIndex((middle) => middle > day + 0.5) - 1;
    const [from, to] = [middles[nth] as number, middles[nth + 1] as number];
    days.push({ before: (nth + 11) % 12, after: nth % 12, way: (day + 0.5 - from) / (to - from) });
  }
  return days;
}

/**
 * Values at the middles of the twelve months such that straight lines between them have the given means of months in a year
 * without a leap day. (Lines through the means themselves would cut off summer and winter.) Found by adding what is missing
 * until it fits; the idea is that of Rymes and Myers 2001, Solar Energy 71, 225-231.
 */
export function midMonthValues(means: readonly number[]): number[] {
  const year = 2001;
  const days = daysBetweenMonths(year);
  const first = dayFromParts(year, 1, 1);
  const starts = Array.from({ length: 13 }, (_, month) =>
    month === 12 ? days.length : dayFromParts(year, month + 1, 1) - first,
  );
  const values = [...means];
  for (let round = 0; round < 200; round += 1) {
    const found = means.map((_, month) => {
      let sum = 0;
      for (let day = starts[month] as number; day < (starts[month + 1] as number); day += 1)
        sum += valueBetween(values, days[day] as BetweenMonths);
      return sum / ((starts[month + 1] as number) - (starts[month] as number));
    });
    means.forEach((mean, month) => {
      values[month] = (values[month] as number) + mean - (found[month] as number);
    });
  }
  return values;
}

/** The value on the straight line between two months. */
export function valueBetween(values: readonly number[], { before, after, way }: BetweenMonths): number {
  return (1 - way) * (values[before] as number) + way * (values[after] as number);
}
