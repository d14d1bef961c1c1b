import { DryspellError } from '../../kernel/src/index.ts';
import type { DayGrid } from './day-grid.ts';
import type { OutsideStep, VisitWork } from './site-day-work.ts';
import { OPEN_GROUND, type WindProfile, windFactorAt } from './wind-profile.ts';

/** How hours are held against limits where the record or the limits leave something open. */
export interface HourRules {
  readonly windProfile?: WindProfile;
  /**
   * Gust = mean wind x this where the record has no gust. 1.4 at 10 m over open ground, the ratio of a 3-second gust to the 10-minute mean that crane
   * practice uses (FEM 5.016: (z/10)^0.14 + 0.4); more over rough ground.
   */
  readonly gustFactor?: number;
}

export const DEFAULT_GUST_FACTOR = 1.4;

/** What a step asks of an hour, as bits of the marks of a grid. */
export interface StepNeed {
  /** Limits of the step: none of these may be broken. */
  readonly limitBits: number;
  /** Fields that the limits read: none of these may be unknown. */
  readonly fieldBits: number;
  /** The same for the hours after it that must stay dry; 0 where nothing must. */
  readonly dryBits: number;
}

/** The limits of all steps, each different one once, and which bit says that it is broken. */
export interface LimitTable {
  readonly limits: readonly { readonly field: LimitField; readonly limit: number }[];
  readonly needs: ReadonlyMap<OutsideStep, StepNeed>;
}

/** What a limit is about. Gust and mean wind are at 10 m; `dewMargin` is air temperature less dew point. */
export type LimitField = 'gust' | 'wind' | 'rain' | 'tempLow' | 'tempHigh' | 'dewMargin' | 'thunder';

/** Bits of what is unknown of an hour; thunder that a record never notes is no bit but a statement about the record. */
export const UNKNOWN = { gust: 1, wind: 2, rain: 4, temp: 8, dew: 16 } as const;
const READS: Record<LimitField, number> = {
  gust: UNKNOWN.gust,
  wind: UNKNOWN.wind,
  rain: UNKNOWN.rain,
  tempLow: UNKNOWN.temp,
  tempHigh: UNKNOWN.temp,
  dewMargin: UNKNOWN.temp | UNKNOWN.dew,
  thunder: 0,
};
const MOST_LIMITS = 31;

/**
 * Collects the limits of visits. Limits at the height of a load become limits at 10 m by the wind profile. Every outside step also stops for
 * thunder in the hour or the hour before: at the latest 30 minutes after the last thunder work may go on (30-30 rule), and an hourly record does not
 * say when in the hour it thundered. Throws `invalid-input` where visits have more than 31 different limits together; then ask for fewer at once.
 */
export function limitTable(visits: readonly VisitWork[], rules: HourRules = {}): LimitTable {
  const { windProfile = OPEN_GROUND } = rules;
  const limits: { field: LimitField; limit: number }[] = [{ field: 'thunder', limit: 0 }];
  const needs = new Map<OutsideStep, StepNeed>();
  const bitOf = (field: LimitField, limit: number): number => {
    let at = limits.findIndex((each) => each.field === field && each.limit === limit);
    if (at < 0) at = limits.push({ field, limit }) - 1;
    if (at >= MOST_LIMITS)
      throw new DryspellError('invalid-input', {
        field: 'limits',
        value: limits.length,
        expected: `at most ${MOST_LIMITS} different limits at once`,
      });
    return 1 << at;
  };
  for (const work of visits.flat()) {
    for (const step of work?.steps ?? []) {
      const { limits: own } = step;
      const atHeight = own.loadHeightM === null ? 1 : windFactorAt(own.loadHeightM, windProfile);
      const asked: [LimitField, number | null][] = [
        ['gust', own.gustMps === null ? null : own.gustMps / atHeight],
        ['wind', own.meanWindMps === null ? null : own.meanWindMps / atHeight],
        ['rain', own.rainMmPerHour],
        ['tempLow', own.tempMinC],
        ['tempHigh', own.tempMaxC],
        ['dewMargin', own.dewPointMarginC],
      ];
      let limitBits = 1;
      let fieldBits = 0;
      for (const [field, limit] of asked) {
        if (limit === null) continue;
        limitBits |= bitOf(field, limit);
        fieldBits |= READS[field];
      }
      const dryBits = step.dryAfterMin > 0 ? bitOf('rain', own.rainMmPerHour ?? 0) : 0;
      needs.set(step, { limitBits, fieldBits, dryBits });
    }
  }
  return { limits, needs };
}

/** For each hour of a grid: which limits are broken (bits of the limit table), and what is unknown (bits of UNKNOWN). */
export interface HourMarks {
  readonly broken: Int32Array;
  readonly unknown: Uint8Array;
  /** For each day whether anything of its marked hours is unknown. */
  readonly dayUnknown: Uint8Array;
  /** Of the hours from `countFromHour` on: those whose gust was estimated from the mean wind, and those of which thunder is known. */
  readonly gustEstimatedHours: number;
  readonly thunderKnownHours: number;
}

/** Hours of the day that anybody asks for; those outside stay unmarked. */
export interface HoursOfDay {
  readonly from: number;
  readonly to: number;
}

const ALL_HOURS: HoursOfDay = { from: 0, to: 24 };

/** Holds the hours of a grid against the limits. One pass, a few comparisons an hour. */
export function markHours(
  grid: DayGrid,
  table: LimitTable,
  rules: HourRules = {},
  { from, to }: HoursOfDay = ALL_HOURS,
  countFromDay = 0,
): HourMarks {
  const { gustFactor = DEFAULT_GUST_FACTOR } = rules;
  const count = grid.dayCount * 24;
  const broken = new Int32Array(count);
  const unknown = new Uint8Array(count);
  const dayUnknown = new Uint8Array(grid.dayCount);
  const [gusts, winds, rains, colds, hots, margins] = (
    ['gust', 'wind', 'rain', 'tempLow', 'tempHigh', 'dewMargin'] as const
  ).map((field) => ladderOf(table, field)) as [Ladder, Ladder, Ladder, Ladder, Ladder, Ladder];
  const [firstGust, firstWind, firstRain] = [gusts.first, winds.first, rains.first];
  const [firstCold, firstHot, firstMargin] = [colds.first, hots.first, margins.first];
  const { gustMps, windMps, rainMm, tempC, dewPointC, thunder } = grid;
  let gustEstimatedHours = 0;
  let thunderKnownHours = 0;
  for (let day = 0; day < grid.dayCount; day += 1) {
    const counted = day >= countFromDay ? 1 : 0;
    let missingOfDay = 0;
    for (let hour = day * 24 + from; hour < day * 24 + to; hour += 1) {
      let bits = 0;
      let missing = 0;
      const wind = windMps[hour] as number;
      let gust = gustMps[hour] as number;
      const rain = rainMm[hour] as number;
      const temp = tempC[hour] as number;
      const margin = (dewPointC[hour] as number) - temp;
      // NaN is missing: it is above no rung, and is unknown instead.
      if (Number.isNaN(gust)) {
        gust = wind * gustFactor;
        if (Number.isNaN(gust)) missing |= UNKNOWN.gust;
        else gustEstimatedHours += counted;
      }
      if (gust > firstGust) bits |= above(gusts, gust);
      if (wind > firstWind) bits |= above(winds, wind);
      if (rain > firstRain) bits |= above(rains, rain);
      if (-temp > firstCold) bits |= above(colds, -temp);
      if (temp > firstHot) bits |= above(hots, temp);
      if (margin > firstMargin) bits |= above(margins, margin);
      if (Number.isNaN(wind + rain + margin)) {
        if (Number.isNaN(wind)) missing |= UNKNOWN.wind;
        if (Number.isNaN(rain)) missing |= UNKNOWN.rain;
        if (Number.isNaN(temp)) missing |= UNKNOWN.temp;
        if (Number.isNaN(margin)) missing |= UNKNOWN.dew;
      }
      const heard = thunder[hour] as number;
      if (heard >= 0) {
        thunderKnownHours += counted;
        if (heard === 1 || (hour > 0 && thunder[hour - 1] === 1)) bits |= 1;
      } else if (hour > 0 && thunder[hour - 1] === 1) bits |= 1;
      missingOfDay |= missing;
      broken[hour] = bits;
      unknown[hour] = missing;
    }
    dayUnknown[day] = missingOfDay;
  }
  return { broken, unknown, dayUnknown, gustEstimatedHours, thunderKnownHours };
}

/** The limits of one field from low to high, and the bits of all limits below each rung. */
interface Ladder {
  readonly rungs: Float64Array;
  readonly bits: Int32Array;
  /** The lowest rung; infinite where the field has no limit. */
  readonly first: number;
}

/** Comparing a 32-bit reading with its limit: a reading that was written as the limit itself must not be above it. */
export const ROUNDING = 1e-5;

function ladderOf(table: LimitTable, field: LimitField): Ladder {
  // "At least" limits are turned round, so that every ladder is climbed upwards.
  const turned = field === 'tempLow' || field === 'dewMargin' ? -1 : 1;
  const sorted = table.limits
    .map(({ field: of, limit }, bit) => ({ of, limit: limit * turned, bit }))
    .filter(({ of }) => of === field)
    .sort((a, b) => a.limit - b.limit);
  const bits = new Int32Array(sorted.length + 1);
  sorted.forEach(({ bit }, at) => {
    bits[at + 1] = (bits[at] as number) | (1 << bit);
  });
  const rungs = Float64Array.from(sorted, ({ limit }) => limit + ROUNDING);
  return { rungs, bits, first: rungs[0] ?? Number.POSITIVE_INFINITY };
}

function above({ rungs, bits }: Ladder, value: number): number {
  let at = 0;
  while (at < rungs.length && value > (rungs[at] as number)) at += 1;
  return bits[at] as number;
}
