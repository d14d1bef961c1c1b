import {
  dayFromParts,
  instantToMs,
  type LocalDate,
  localToInstant,
  toLocalDate,
} from '../../kernel/src/index.ts';
import { monthAndDay } from './day-grid.ts';
import { type LightTable, lightTable } from './daylight.ts';
import type { DayClock } from './site-day.ts';

/** Shift and daylight of every date of a year (0 to 365), in minutes after midnight of a record's clock. */
export interface SiteClock {
  readonly shiftFromMin: Int16Array;
  readonly shiftToMin: Int16Array;
  readonly light: LightTable;
}

/** What people's clocks say on site. */
export interface ShiftTimes {
  /** `HH:MM` on the clocks of the site. */
  readonly from: string;
  readonly to: string;
  /** IANA zone of the site; null: the record's own clock, without summer time. */
  readonly zone: string | null;
}

/** How long after sunrise and before sunset work that needs light may go on. */
export const DEFAULT_LIGHT_MARGIN_MIN = 0;

/**
 * The clock of a site for records whose clock stays `standardOffsetMin` ahead of UTC. The shift is read as people will read it in `year`, the year that is planned
 * for, whatever year a record is of: old rules of summer time do not matter to next season. On a day on which the clocks change, the shift is as long
 * as it really is; a start in the hour that is left out begins with the first minute after it, of an hour that comes twice the first counts.
 */
export function siteClock(
  place: { readonly lat: number; readonly lon: number },
  shift: ShiftTimes,
  year: number,
  standardOffsetMin: number,
  lightMarginMin = DEFAULT_LIGHT_MARGIN_MIN,
): SiteClock {
  const shiftFromMin = new Int16Array(366);
  const shiftToMin = new Int16Array(366);
  const leap = dayFromParts(year + 1, 1, 1) - dayFromParts(year, 1, 1) === 366;
  for (let date = 0; date < 366; date += 1) {
    const { month, dayOfMonth } = monthAndDay(date);
    const day = dayFromParts(year, month, !leap && date === 59 ? 28 : dayOfMonth);
    const recordMidnightMs = day * 86_400_000 - standardOffsetMin * 60_000;
    const minuteOf = (time: string): number =>
      shift.zone === null
        ? clockMinutes(time)
        : (instantOf(toLocalDate(day), time, shift.zone) - recordMidnightMs) / 60_000;
    shiftFromMin[date] = minuteOf(shift.from);
    shiftToMin[date] = minuteOf(shift.to);
  }
  const light = lightTable(place, year, standardOffsetMin);
  for (let date = 0; date < 366; date += 1) {
    const [from, to] = [light.fromMin[date] as number, light.toMin[date] as number];
    // The polar day has no sunrise to stay clear of.
    light.fromMin[date] = from === 0 ? 0 : Math.min(to, from + lightMarginMin);
    light.toMin[date] = to === 1440 ? 1440 : Math.max(light.fromMin[date] as number, to - lightMarginMin);
  }
  return { shiftFromMin, shiftToMin, light };
}

/** The clock of one date of the year. */
export function clockOf({ shiftFromMin, shiftToMin, light }: SiteClock, date: number): DayClock {
  return {
    shiftFromMin: shiftFromMin[date] as number,
    shiftToMin: shiftToMin[date] as number,
    lightFromMin: light.fromMin[date] as number,
    lightToMin: light.toMin[date] as number,
  };
}

function instantOf(date: LocalDate, time: string, zone: string): number {
  return instantToMs(
    localToInstant({ date, time, zone }, { inGap: 'next-valid', inOverlap: 'first' }).instant,
  );
}

function clockMinutes(time: string): number {
  const [hours, minutes] = time.split(':').map(Number) as [number, number];
  return hours * 60 + minutes;
}
