import type { HourlyRecord } from './hourly-record.ts';
import type { MonthWeather } from './monthly-table.ts';
import { localDateOfHour } from './record-clock.ts';

/** When a day is bad for outside work. */
export interface WorkableLimits {
  /** Working hours on the record's clock: from the start of the first to the end before the second, 0 to 24. */
  readonly workFromHour: number;
  readonly workToHour: number;
  /** An hour with at least this much precipitation is wet. */
  readonly rainMmPerHour: number;
  /** A gust above this is too windy. */
  readonly gustMps: number;
  /**
   * Gust = mean wind x this, where the record has no gusts. Around 1.4 at 10 m over open ground: the ratio of a 3-second gust to
   * the 10-minute mean that crane practice uses (FEM 5.016: (z/10)^0.14 + 0.4, which is 1.4 at 10 m); more over rough ground.
   */
  readonly gustFactor: number;
}

/**
 * The limits by which months are usually counted: working hours by day, an hour with rain that can be felt, gusts in which panels are no longer carried.
 * Common practice; a maker's figures come first.
 */
export const USUAL_LIMITS: WorkableLimits = {
  workFromHour: 8,
  workToHour: 17,
  rainMmPerHour: 0.2,
  gustMps: 9,
  gustFactor: 1.4,
};

/** A month from a record, with how much stands behind it. */
export interface MonthFromRecord extends MonthWeather {
  /** Days of which it is known whether they were bad. */
  readonly knownDays: number;
  /** Days in the record at all. */
  readonly days: number;
  /** Different years of this month in the record. */
  readonly years: number;
}

type Tri = boolean | null;

/**
 * Counts, month by month, the days that were wet, too windy, and bad for either reason, in working hours.
 * A day counts as wet as soon as one working hour is wet, and as not wet only if every working hour is known; anything else is
 * unknown and left out. A chance of wet after wet is counted over days that follow each other within a month of one year.
 * The few pairs of a short record can contradict the share; then the nearest chance that fits it stands.
 * Shares are null where no day is known, chances where no such pair was seen. Working hours are on the record's clock: local
 * standard time, an hour behind people's clocks in summer.
 */
export function monthlyTableFromHourly(record: HourlyRecord, limits: WorkableLimits): MonthFromRecord[] {
  const days = dayReadings(record, limits);
  return Array.from({ length: 12 }, (_, index) => {
    const ofMonth = days.filter((day) => day.month === index + 1);
    const wet = shareAndPersistence(ofMonth, (day) => day.wet);
    const windy = shareAndPersistence(ofMonth, (day) => day.windy);
    const bad = shareAndPersistence(ofMonth, (day) => eitherOf(day.wet, day.windy));
    const temps = ofMonth.flatMap((day) => day.temps);
    return {
      wetDayShare: wet.share,
      wetAfterWet: wet.afterSame,
      windyDayShare: windy.share,
      coldDayShare: null,
      badDayShare: bad.share,
      badAfterBad: bad.afterSame,
      meanTempC: temps.length === 0 ? null : temps.reduce((sum, temp) => sum + temp, 0) / temps.length,
      knownDays: bad.knownDays,
      days: ofMonth.length,
      years: new Set(ofMonth.map((day) => day.year)).size,
    };
  });
}

interface DayReading {
  readonly year: number;
  readonly month: number;
  readonly dayOfMonth: number;
  wet: Tri;
  windy: Tri;
  readonly temps: number[];
}

function dayReadings(record: HourlyRecord, limits: WorkableLimits): DayReading[] {
  const hoursNeeded = limits.workToHour - limits.workFromHour;
  const found = new Map<string, { day: DayReading; wetKnown: number; windKnown: number }>();
  for (let at = 0; at < record.hourIndex.length; at += 1) {
    const { year, month, dayOfMonth, hour } = localDateOfHour(record.hourIndex[at] as number);
    const name = `${year}-${month}-${dayOfMonth}`;
    let entry = found.get(name);
    if (!entry) {
      entry = {
        day: { year, month, dayOfMonth, wet: null, windy: null, temps: [] },
        wetKnown: 0,
        windKnown: 0,
      };
      found.set(name, entry);
    }
    const temp = record.tempC[at] as number;
    if (!Number.isNaN(temp)) entry.day.temps.push(temp);
    if (hour < limits.workFromHour || hour >= limits.workToHour) continue;
    const rain = record.rainMm[at] as number;
    const gust = record.gustMps[at] as number;
    const gustOrEstimate = Number.isNaN(gust) ? (record.windMps[at] as number) * limits.gustFactor : gust;
    if (!Number.isNaN(rain)) {
      entry.wetKnown += 1;
      if (rain >= limits.rainMmPerHour) entry.day.wet = true;
    }
    if (!Number.isNaN(gustOrEstimate)) {
      entry.windKnown += 1;
      if (gustOrEstimate > limits.gustMps) entry.day.windy = true;
    }
  }
  return [...found.values()].map(({ day, wetKnown, windKnown }) => {
    if (day.wet === null && wetKnown >= hoursNeeded) day.wet = false;
    if (day.windy === null && windKnown >= hoursNeeded) day.windy = false;
    return day;
  });
}

/** Bad for one reason is bad, whatever is unknown of the other. */
function eitherOf(wet: Tri, windy: Tri): Tri {
  if (wet === true || windy === true) return true;
  return wet === null || windy === null ? null : false;
}

function shareAndPersistence(days: readonly DayReading[], state: (day: DayReading) => Tri) {
  let knownDays = 0;
  let yes = 0;
  let pairs = 0;
  let again = 0;
  days.forEach((day, index) => {
    const today = state(day);
    if (today === null) return;
    knownDays += 1;
    if (today) yes += 1;
    const yesterday = days[index - 1];
    if (
      yesterday &&
      yesterday.year === day.year &&
      yesterday.dayOfMonth === day.dayOfMonth - 1 &&
      state(yesterday) === true
    ) {
      pairs += 1;
      if (today) again += 1;
    }
  });
  if (knownDays === 0) return { knownDays, share: null, afterSame: null };
  const share = yes / knownDays;
  // Few pairs may give a chance that no chain with this share can have; the nearest possible one is taken.
  return {
    knownDays,
    share,
    afterSame: pairs === 0 ? null : Math.max(again / pairs, share > 0 ? 2 - 1 / share : 0),
  };
}
