import type { WorkableLimits } from '../monthly-from-hourly.ts';
import type { MonthWeather } from '../monthly-table.ts';

/** What a site may know of a month beside its shares of wet and windy days. Absent and null mean unknown. */
export interface GeneratorMonth extends MonthWeather {
  /** Rain of the whole month, mm. */
  readonly rainMmPerMonth?: number | null;
  /** Mean wind at 10 m over all hours. */
  readonly meanWindMps?: number | null;
  /** Mean difference of the day's highest and lowest temperature, C. */
  readonly dailyTempRangeC?: number | null;
  /** How far the dew point lies below the day's mean temperature on wet and on dry days, C, 0 or more. */
  readonly dewPointOffsetWetC?: number | null;
  readonly dewPointOffsetDryC?: number | null;
  /** Mean hours of rain of a wet day, 1 to 24. */
  readonly meanWetHours?: number | null;
}

/** What stands in where a month does not say, and the structure that monthly figures never tell. */
export interface GeneratorAssumptions {
  /** Day-to-day correlation of wet days, 0 to 1. */
  readonly wetDayCorrelation: number;
  readonly rainMmPerWetDay: number;
  /** Shape of the gamma distribution of a wet day's rain. */
  readonly rainShape: number;
  readonly meanWetHours: number;
  /** Weibull shape of hourly mean wind, where no share of windy days tells it. */
  readonly windShape: number;
  /** Correlation of one hour's wind with the next, in normal scores, 0 to below 1. */
  readonly windAutocorrelation: number;
  /** Swing of mean wind over the day as a share of its mean, 0 to below 1, and the hour of its peak. */
  readonly windDailySwing: number;
  readonly peakHour: number;
  /** Standard deviation of temperature about its cycles, C, and its correlation from hour to hour. */
  readonly tempSdC: number;
  readonly tempAutocorrelation: number;
  readonly dailyTempRangeC: number;
  readonly dewPointOffsetWetC: number;
  readonly dewPointOffsetDryC: number;
}

/**
 * The stated assumptions: round figures of common practice for temperate climates, not measured at any site. Wet days:
 * correlations from 0.2 to 0.4 are usual (0.41 in Tel Aviv, Gabriel and Neumann 1962); rain amounts: gamma shapes from 0.5 to
 * 1; hourly wind: Weibull shapes about 2 and correlations about 0.95; the rest by experience.
 */
export const GENERATOR_ASSUMPTIONS: GeneratorAssumptions = {
  wetDayCorrelation: 0.3,
  rainMmPerWetDay: 5,
  rainShape: 0.75,
  meanWetHours: 5,
  windShape: 2,
  windAutocorrelation: 0.95,
  windDailySwing: 0.25,
  peakHour: 15,
  tempSdC: 3,
  tempAutocorrelation: 0.97,
  dailyTempRangeC: 8,
  dewPointOffsetWetC: 1.5,
  dewPointOffsetDryC: 6,
};

/** How the monthly figures are to be read. */
export interface CalibrateOptions {
  /** The limits behind the shares of wet and windy days: working hours, wet hour, gust limit, gust factor. */
  readonly limits: WorkableLimits;
  /**
   * Whether a wet day is one with a wet working hour (as in a monthly table) or with a wet hour at any time, as in climate
   * tables.
   */
  readonly wetShareOf: 'working-hours' | 'whole-day';
  readonly assumptions?: Partial<GeneratorAssumptions>;
}

/** Rain of a month: a two-state chain of days and a gamma distribution. */
export interface RainParameters {
  readonly wetShare: number;
  /** Correlation of a day with the next. */
  readonly correlation: number;
  /** Mean of the geometric number of wet hours before it is cut at 24. */
  readonly meanWetHours: number;
  /** A wet day's rain is wetHourMm for each wet hour plus a gamma number of this shape and scale. */
  readonly gammaShape: number;
  readonly gammaScaleMm: number;
}

/** Hourly mean wind of a month: Weibull with this shape, and this scale times the swing of the day. */
export interface WindParameters {
  readonly shape: number;
  readonly scaleMps: number;
  /** Swing of mean wind over the day as a share of its mean, 0 to below 1. */
  readonly dailySwing: number;
}

/** Temperature and dew point of a month. */
export interface TemperatureParameters {
  readonly sdC: number;
  readonly dailyRangeC: number;
  readonly dewPointOffsetWetC: number;
  readonly dewPointOffsetDryC: number;
}

/** One month of a generator; null where the month is unknown, which stays missing in the hours. */
export interface MonthParameters {
  readonly rain: RainParameters | null;
  readonly wind: WindParameters | null;
  readonly temperature: TemperatureParameters | null;
}

/** All that a generator needs; plain data. */
export interface GeneratorParameters {
  readonly limits: WorkableLimits;
  readonly wetShareOf: 'working-hours' | 'whole-day';
  /** Twelve, January first. */
  readonly months: readonly MonthParameters[];
  /**
   * Temperature at the middle of each month; days between lie on straight lines. Of unknown months only a bridge between
   * known ones.
   */
  readonly midMonthC: readonly number[];
  readonly windAutocorrelation: number;
  readonly peakHour: number;
  readonly tempAutocorrelation: number;
}

/** The daily swing at an hour of the day, 0 to 23: a cosine about 0, +1 at the peak hour; it adds up to 0 over a day. */
export function dailySwing(hourOfDay: number, peakHour: number): number {
  return Math.cos((2 * Math.PI * (hourOfDay + 0.5 - peakHour)) / 24);
}
