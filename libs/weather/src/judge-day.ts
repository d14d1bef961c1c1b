import type { Instant, LocalDate } from '../../kernel/src/index.ts';
import { instantFromMs, instantToMs, localToInstant, toDay, toLocalDate } from '../../kernel/src/index.ts';
import { layOutDays } from './day-grid.ts';
import { lightSpans } from './daylight.ts';
import { DEFAULT_GUST_FACTOR, type HourRules, limitTable, markHours } from './hour-marks.ts';
import type { HourlyRecord } from './hourly-record.ts';
import type { ShiftTimes } from './site-clock.ts';
import { DAY, type DayClock, SiteDayTimer } from './site-day.ts';
import type { SiteDayWork } from './site-day-work.ts';

/** One site day at a place, as people's clocks will show it. */
export interface SiteDay {
  readonly date: LocalDate;
  readonly place: { readonly lat: number; readonly lon: number };
  readonly shift: ShiftTimes & { readonly zone: string };
  /** Minutes after sunrise and before sunset that do not count as light; default 0. */
  readonly lightMarginMin?: number;
}

/** What a record or one member of a forecast says of a site day. */
export interface JudgedDay {
  /** `split`: the work can stop for the night in a safe state and be closed on the next day. */
  readonly state: 'good' | 'split' | 'bad' | 'unknown';
  /** The latest moment at which the work may begin and still be closed that day; null unless good. */
  readonly latestStart: Instant | null;
  /** The steps as early as they can be done, as far as the day carries them. */
  readonly steps: readonly { readonly key: string; readonly from: Instant; readonly to: Instant }[];
}

const STATES = {
  [DAY.GOOD]: 'good',
  [DAY.SPLIT]: 'split',
  [DAY.BAD]: 'bad',
  [DAY.UNKNOWN]: 'unknown',
} as const;

/**
 * Holds the outside work of one date against a record or a forecast, of whatever clock. A day of 23 or 25 hours is as long as it is; a shift that
 * begins in the hour that is left out begins right after it. Hours that the record does not have are unknown, and unknown never makes a day good.
 */
export function judgeDay(
  record: HourlyRecord,
  work: SiteDayWork,
  day: SiteDay,
  rules: HourRules = {},
): JudgedDay {
  if (record.hourIndex.length === 0 || record.typicalYear)
    return { state: 'unknown', latestStart: null, steps: [] };
  const grid = layOutDays(record);
  const table = limitTable([[work]], rules);
  const marks = markHours(grid, table, rules);
  const timer = new SiteDayTimer(work, grid, table, marks, rules.gustFactor ?? DEFAULT_GUST_FACTOR);
  const today = shiftOn(day.date, day);
  const tomorrow = shiftOn(toLocalDate(toDay(day.date) + 1), day);
  // Minutes of the record's clock are counted from midnight of the grid's day on which the shift begins.
  const recordMin = (utcMin: number): number => utcMin + record.standardOffsetMin;
  const dayMin = Math.floor(recordMin(today.shiftFromMin) / 1440) * 1440;
  const at = dayMin / 1440 - (grid.firstDay as number);
  const relative = (clock: DayClock, midnight: number): DayClock => ({
    shiftFromMin: recordMin(clock.shiftFromMin) - midnight,
    shiftToMin: recordMin(clock.shiftToMin) - midnight,
    lightFromMin: recordMin(clock.lightFromMin) - midnight,
    lightToMin: recordMin(clock.lightToMin) - midnight,
  });
  if (at < 0 || at >= grid.dayCount) return { state: 'unknown', latestStart: null, steps: [] };
  const clock = relative(today, dayMin);
  const state = STATES[timer.stateOf(at, clock, relative(tomorrow, dayMin + 1440)) as keyof typeof STATES];
  const instantAt = (minute: number): Instant =>
    instantFromMs((dayMin + minute - record.standardOffsetMin) * 60_000);
  const latest = state === 'good' ? timer.latestStart(at, clock) : null;
  return {
    state,
    latestStart: latest === null ? null : instantAt(latest),
    steps: timer
      .place(at, clock)
      .map(({ key, startMin, endMin }) => ({ key, from: instantAt(startMin), to: instantAt(endMin) })),
  };
}

/** The hours of work and light of a date, in minutes of UTC since 1970. */
export function shiftOn(
  date: LocalDate,
  { place, shift, lightMarginMin = 0 }: Omit<SiteDay, 'date'>,
): DayClock {
  const minuteOf = (day: LocalDate, time: string): number =>
    instantToMs(
      localToInstant({ date: day, time, zone: shift.zone }, { inGap: 'next-valid', inOverlap: 'first' })
        .instant,
    ) / 60_000;
  const shiftFromMin = minuteOf(date, shift.from);
  const shiftToMin = minuteOf(date, shift.to);
  const noon = minuteOf(date, '12:00');
  const spans = lightSpans(place, noon - 720, noon + 720);
  let light = { fromMin: noon, toMin: noon };
  for (const span of spans) if (span.toMin - span.fromMin > light.toMin - light.fromMin) light = span;
  const allDay = light.toMin - light.fromMin >= 1439;
  return {
    shiftFromMin,
    shiftToMin,
    lightFromMin: allDay ? light.fromMin : Math.ceil(light.fromMin + lightMarginMin),
    lightToMin: allDay ? light.toMin : Math.floor(light.toMin - lightMarginMin),
  };
}
