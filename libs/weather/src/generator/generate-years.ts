import { dayFromParts, monthOf, type Rng, rngFromSeed } from '../../../kernel/src/index.ts';
import type { HourlyRecord } from '../hourly-record.ts';
import { dailySwing, type GeneratorParameters, type MonthParameters } from './generator-parameters.ts';
import { type BetweenMonths, daysBetweenMonths, valueBetween } from './mid-month.ts';
import { drawNormal } from './normal-distribution.ts';
import { drawRainOfDay } from './rain-of-day.ts';
import { weibullFromNormal } from './weibull-distribution.ts';
import { drawWetDays } from './wet-days.ts';

/** Which years to make, and for where. */
export interface GenerateRequest {
  /** A safe whole number; the same seed gives the same hours on every machine. */
  readonly seed: number;
  /** Calendar years `firstYear` to `firstYear + years - 1`, with their leap days; 1 to 9998. The years are made up. */
  readonly firstYear: number;
  readonly years: number;
  readonly place: HourlyRecord['place'];
  /** The clock on which peak hour and working hours are told, minutes ahead of UTC. */
  readonly standardOffsetMin: number;
}

/**
 * Hours of made-up years with the calibrated figures. Each calendar year is drawn from a stream of its own, so years can be
 * made in any order, alone or together, with the same result; the price is that nothing carries over from one New Year's Eve
 * to New Year's Day. Rain, wind and temperature have streams of their own in it and are independent of each other, but for
 * the dew point, which knows wet days.
 *
 * Wind: a first-order autoregressive series of normal scores, turned into Weibull numbers with the month's shape and scale,
 * times the daily swing. Gusts are mean wind x the gust factor. Temperature: straight lines between months, a cosine over the
 * day, an autoregressive rest. Dew point: the temperature without the daily cosine less the offset of wet or dry days, never
 * above the temperature; unknown where rain is unknown. Unknown parts of months are NaN; thunder is unknown throughout.
 */
export function generateYears(parameters: GeneratorParameters, request: GenerateRequest): HourlyRecord {
  const { firstYear, years, place, standardOffsetMin, seed } = request;
  const firstDay = dayFromParts(firstYear, 1, 1);
  const hours = 24 * (dayFromParts(firstYear + years, 1, 1) - firstDay);
  const record = {
    place,
    source: `generated from monthly figures, seed ${seed}; gust = mean wind x ${parameters.limits.gustFactor}`,
    standardOffsetMin,
    typicalYear: false,
    hourIndex: Int32Array.from({ length: hours }, (_, at) => firstDay * 24 + at),
    tempC: new Float32Array(hours),
    dewPointC: new Float32Array(hours),
    rainMm: new Float32Array(hours),
    windMps: new Float32Array(hours),
    gustMps: new Float32Array(hours),
    thunder: new Int8Array(hours).fill(-1),
  };
  for (let year = firstYear; year < firstYear + years; year += 1) {
    const from = dayFromParts(year, 1, 1);
    const days = dayFromParts(year + 1, 1, 1) - from;
    const monthly = Array.from(
      { length: days },
      (_, nth) => parameters.months[monthOf(from + nth) - 1] as MonthParameters,
    );
    const at = 24 * (from - firstDay);
    const rng = rngFromSeed(seed).derive(year);
    const wet = fillRain(record, at, monthly, parameters, rng.derive('rain'));
    fillWind(record, at, monthly, parameters, rng.derive('wind'));
    fillTemperature(
      record,
      at,
      { monthly, wet, line: daysBetweenMonths(year) },
      parameters,
      rng.derive('temperature'),
    );
  }
  return record;
}

function fillRain(
  record: HourlyRecord,
  at: number,
  monthly: readonly MonthParameters[],
  parameters: GeneratorParameters,
  rng: Rng,
): Int8Array {
  const ofDays = rng.derive('days');
  const wet = drawWetDays(ofDays, monthly.length, (nth) => monthly[nth]?.rain ?? null);
  const ofHours = rng.derive('hours');
  monthly.forEach(({ rain }, nth) => {
    const start = at + 24 * nth;
    if (rain === null) record.rainMm.fill(Number.NaN, start, start + 24);
    else if (wet[nth] === 1) drawRainOfDay(ofHours, rain, parameters, record.rainMm, start);
  });
  return wet;
}

function fillWind(
  record: HourlyRecord,
  at: number,
  monthly: readonly MonthParameters[],
  parameters: GeneratorParameters,
  rng: Rng,
): void {
  const { windAutocorrelation, peakHour, limits } = parameters;
  const next = autoregressive(rng, windAutocorrelation);
  monthly.forEach(({ wind }, nth) => {
    for (let hour = 0; hour < 24; hour += 1) {
      const score = next();
      let mps = Number.NaN;
      if (wind !== null) {
        const swing = 1 + wind.dailySwing * dailySwing(hour, peakHour);
        mps = wind.scaleMps * swing * weibullFromNormal(score, wind.shape);
      }
      record.windMps[at + 24 * nth + hour] = mps;
      record.gustMps[at + 24 * nth + hour] = mps * limits.gustFactor;
    }
  });
}

function fillTemperature(
  record: HourlyRecord,
  at: number,
  days: {
    readonly monthly: readonly MonthParameters[];
    readonly wet: Int8Array;
    readonly line: readonly BetweenMonths[];
  },
  parameters: GeneratorParameters,
  rng: Rng,
): void {
  const { tempAutocorrelation, peakHour, midMonthC } = parameters;
  const next = autoregressive(rng, tempAutocorrelation);
  days.monthly.forEach(({ temperature }, nth) => {
    const cycleC = valueBetween(midMonthC, days.line[nth] as BetweenMonths);
    for (let hour = 0; hour < 24; hour += 1) {
      const index = at + 24 * nth + hour;
      const score = next();
      if (temperature === null) {
        record.tempC[index] = Number.NaN;
        record.dewPointC[index] = Number.NaN;
        continue;
      }
      const restC = cycleC + temperature.sdC * score;
      const tempC = restC + (temperature.dailyRangeC / 2) * dailySwing(hour, peakHour);
      const wet = days.wet[nth];
      const offsetC = wet === 1 ? temperature.dewPointOffsetWetC : temperature.dewPointOffsetDryC;
      record.tempC[index] = tempC;
      record.dewPointC[index] = wet === -1 ? Number.NaN : Math.min(tempC, restC - offsetC);
    }
  });
}

/** A first-order autoregressive series of standard normal numbers, started in its long-run state. */
function autoregressive(rng: Rng, correlation: number): () => number {
  const noise = Math.sqrt(1 - correlation ** 2);
  let score = drawNormal(rng);
  return () => {
    const now = score;
    score = correlation * score + noise * drawNormal(rng);
    return now;
  };
}
