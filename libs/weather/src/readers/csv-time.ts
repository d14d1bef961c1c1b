import {
  instantToMs,
  isKnownZone,
  localToInstant,
  offsetMinAt,
  toLocalDate,
} from '../../../kernel/src/index.ts';
import { daysInMonth, hourIndexOf } from '../record-clock.ts';

/** On which clock times are that carry no offset of their own. */
export type TableClock = { readonly offsetMin: number } | { readonly zone: string };
export type DateOrder = 'ymd' | 'mdy' | 'dmy';

/** A moment as a table names it. */
export interface TableMoment {
  /** Minutes since 1970-01-01T00:00Z. */
  readonly utcMin: number;
  /** Minutes that the clock it was written by is ahead of UTC, outside summer time. */
  readonly standardOffsetMin: number;
}

export interface TimeReader {
  /** The moment, or why the text is none. */
  read(date: string, timeOfDay: string | null): TableMoment | string;
  /** Times at which the clocks were put back and the file holds the doubled hour once only. */
  readonly singleOverlaps: number;
}

const DAY_MIN = 1440;
const MIN_MS = 60_000;
const TIME = /^(\d{1,2})(?::(\d{2})(?::\d{2}(?:\.\d+)?)?)?\s*(z|utc|[+-]\d{2}(?::?\d{2})?)?$/i;

/**
 * Reads times that come one after the other. ISO dates, or day and month in a stated order; 24:00 is the start of the next day. A time
 * with its own offset is read by it, any other by the clock. In a zone: a time that the clocks skip is no time; of one they show twice
 * the first is meant, or the second when the first has been passed already.
 */
export function timeReader(clock: TableClock | null, order: DateOrder): TimeReader {
  let singleOverlaps = 0;
  let inOverlap = false;
  let lastUtcMin = Number.NEGATIVE_INFINITY;
  let standardOffsetMin: number | null = null;
  let plainDay = { day: Number.NaN, offsetMin: 0 };

  function inZone(zone: string, wallMin: number, year: number): TableMoment | string {
    if (!isKnownZone(zone)) return `"${zone}" is no time zone; use a name such as America/Halifax`;
    standardOffsetMin ??= Math.min(
      ...[1, 7].map((month) => offsetMinAt(zone, hourIndexOf(year, month, 1, 0) * 60 * MIN_MS)),
    );
    const day = Math.floor(wallMin / DAY_MIN);
    if (plainDay.day !== day) {
      const [before, after] = [-26 * 60, 50 * 60].map((away) =>
        offsetMinAt(zone, (day * DAY_MIN + away) * MIN_MS),
      );
      plainDay = { day, offsetMin: before === after ? (before as number) : Number.NaN };
    }
    const moment = (utcMin: number): TableMoment => ({
      utcMin,
      standardOffsetMin: standardOffsetMin as number,
    });
    if (!Number.isNaN(plainDay.offsetMin)) {
      if (inOverlap) singleOverlaps += 1;
      inOverlap = false;
      return moment(wallMin - plainDay.offsetMin);
    }
    const minute = wallMin - day * DAY_MIN;
    const two = (value: number): string => String(value).padStart(2, '0');
    const local = {
      date: toLocalDate(day),
      time: `${two(Math.floor(minute / 60))}:${two(minute % 60)}`,
      zone,
    };
    const first = localToInstant(local);
    if (first.found === 'gap') return `the clocks of ${zone} skip this time`;
    const firstMin = instantToMs(first.instant) / MIN_MS;
    if (first.found === 'exact') {
      if (inOverlap) singleOverlaps += 1;
      inOverlap = false;
      return moment(firstMin);
    }
    const secondMin = instantToMs(localToInstant(local, { inOverlap: 'second' }).instant) / MIN_MS;
    if (firstMin > lastUtcMin || secondMin <= lastUtcMin) {
      inOverlap = true;
      return moment(firstMin);
    }
    inOverlap = false;
    return moment(secondMin);
  }

  return {
    get singleOverlaps() {
      return singleOverlaps + (inOverlap ? 1 : 0);
    },
    read(date, timeOfDay) {
      const split = /^(\S+?)(?:[T\s]+(\S.*))?$/.exec(date);
      const day = readDate(split?.[1] ?? '', order);
      if (typeof day === 'string') return day;
      const parts = TIME.exec(timeOfDay ?? split?.[2] ?? '0:00');
      const [hour, minute] = [Number(parts?.[1]), Number(parts?.[2] ?? 0)];
      if (!parts || minute > 59 || hour > 24 || (hour === 24 && minute > 0))
        return 'the time is not HH:MM on a 24-hour clock';
      const wallMin = day.dayMin + hour * 60 + minute;
      const own = parts[3] === undefined ? null : offsetIn(parts[3]);
      let moment: TableMoment | string;
      if (own !== null) moment = { utcMin: wallMin - own, standardOffsetMin: own };
      else if (clock === null)
        return 'the time has no offset; say in which time zone or at which offset the times are';
      else if ('zone' in clock) moment = inZone(clock.zone, wallMin, day.year);
      else moment = { utcMin: wallMin - clock.offsetMin, standardOffsetMin: clock.offsetMin };
      if (typeof moment !== 'string') lastUtcMin = moment.utcMin;
      return moment;
    },
  };
}

function readDate(text: string, order: DateOrder): { dayMin: number; year: number } | string {
  const parts = /^(\d{1,4})([-/.])(\d{1,2})\2(\d{1,4})$/.exec(text);
  const numbers = [parts?.[1], parts?.[3], parts?.[4]];
  const at = { ymd: [0, 1, 2], mdy: [2, 0, 1], dmy: [2, 1, 0] }[order] as [number, number, number];
  if (!parts || numbers[at[0]]?.length !== 4)
    return order === 'ymd'
      ? 'the date is not YYYY-MM-DD; name the order of day and month where it is another'
      : `the date is not in the order ${order} with four figures for the year`;
  const [year, month, dayOfMonth] = at.map((index) => Number(numbers[index])) as [number, number, number];
  if (year < 1800 || year > 2200) return 'year is not a year';
  if (month < 1 || month > 12 || dayOfMonth < 1 || dayOfMonth > daysInMonth(year, month))
    return 'there is no such date';
  return { dayMin: hourIndexOf(year, month, dayOfMonth, 0) * 60, year };
}

function offsetIn(text: string): number {
  const parts = /^([+-])(\d{2}):?(\d{2})?$/.exec(text);
  return parts ? (parts[1] === '-' ? -1 : 1) * (Number(parts[2]) * 60 + Number(parts[3] ?? 0)) : 0;
}
