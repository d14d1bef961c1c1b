import type { HourlyRecord } from '../hourly-record.ts';
import type { StepLimits } from '../site-day-work.ts';
import { type WindProfile, windFactorAt } from '../wind-profile.ts';

/** What a limit is about, with its unit; `dewPointMarginC` is air temperature less dew point. */
export type LimitName =
  | 'gustMps'
  | 'windMps'
  | 'rainMm'
  | 'tempMinC'
  | 'tempMaxC'
  | 'dewPointMarginC'
  | 'thunder';

/** One limit of a step as it is held against an hour. */
export interface AskedLimit {
  readonly name: LimitName;
  /** As the step states it, wind at the height of the load; null for thunder, which has no number. */
  readonly limitValue: number | null;
  readonly loadHeightM: number | null;
  /** Wind at the height of the load as a multiple of that at 10 m; 1 for everything else. */
  readonly heightFactor: number;
  /** +1 where a higher value is worse, -1 where a lower one is. */
  readonly worse: 1 | -1;
}

/** What a record says of one hour; null is unknown. Wind at 10 m. */
export interface HourReadings {
  readonly tempC: number | null;
  readonly dewPointC: number | null;
  readonly rainMm: number | null;
  readonly windMps: number | null;
  readonly gustMps: number | null;
  /** Whether the gust is mean wind x a factor, because the record has none. */
  readonly gustEstimated: boolean;
  /** Thunder in the hour or the one before. */
  readonly thunder: boolean | null;
}

/** Hours of which nothing is known. */
export const NO_READINGS: HourReadings = {
  tempC: null,
  dewPointC: null,
  rainMm: null,
  windMps: null,
  gustMps: null,
  gustEstimated: false,
  thunder: null,
};

/** The limits that a step sets; thunder stops every outside step. */
export function askedLimits(limits: StepLimits, profile: WindProfile): AskedLimit[] {
  const { loadHeightM } = limits;
  const windFactor = loadHeightM === null ? 1 : windFactorAt(loadHeightM, profile);
  const still = { loadHeightM: null, heightFactor: 1 } as const;
  const wind = { loadHeightM, heightFactor: windFactor, worse: 1 } as const;
  const asked: AskedLimit[] = [
    { name: 'gustMps', limitValue: limits.gustMps, ...wind },
    { name: 'windMps', limitValue: limits.meanWindMps, ...wind },
    { name: 'rainMm', limitValue: limits.rainMmPerHour, ...still, worse: 1 },
    { name: 'tempMinC', limitValue: limits.tempMinC, ...still, worse: -1 },
    { name: 'tempMaxC', limitValue: limits.tempMaxC, ...still, worse: 1 },
    { name: 'dewPointMarginC', limitValue: limits.dewPointMarginC, ...still, worse: -1 },
  ];
  return [
    ...asked.filter(({ limitValue }) => limitValue !== null),
    { name: 'thunder', limitValue: null, ...still, worse: 1 },
  ];
}

/**
 * What a record says of the hour that holds a minute of UTC; all unknown where it has no such hour. A gust that the record lacks is
 * mean wind x `gustFactor`.
 */
export function readingsAt(record: HourlyRecord, utcMin: number, gustFactor: number): HourReadings {
  const hour = Math.floor((utcMin + record.standardOffsetMin) / 60);
  const at = placeOf(record.hourIndex, hour);
  const before = placeOf(record.hourIndex, hour - 1);
  const thunder = at < 0 ? -1 : (record.thunder[at] as number);
  const thunderBefore = before < 0 ? -1 : (record.thunder[before] as number);
  const heard = thunder === 1 || thunderBefore === 1 ? true : thunder === 0 ? false : null;
  if (at < 0) return { ...NO_READINGS, thunder: heard };
  const windMps = numberOf(record.windMps[at]);
  const gust = numberOf(record.gustMps[at]);
  return {
    tempC: numberOf(record.tempC[at]),
    dewPointC: numberOf(record.dewPointC[at]),
    rainMm: numberOf(record.rainMm[at]),
    windMps,
    gustMps: gust ?? (windMps === null ? null : windMps * gustFactor),
    gustEstimated: gust === null && windMps !== null,
    thunder: heard,
  };
}

/** The value that a limit is held against, at the limit's height; thunder is 1 or 0. Null is unknown. */
export function valueFor({ name, heightFactor }: AskedLimit, readings: HourReadings): number | null {
  const { tempC, dewPointC, gustMps, windMps, rainMm, thunder } = readings;
  switch (name) {
    case 'gustMps':
      return gustMps === null ? null : gustMps * heightFactor;
    case 'windMps':
      return windMps === null ? null : windMps * heightFactor;
    case 'rainMm':
      return rainMm;
    case 'tempMinC':
    case 'tempMaxC':
      return tempC;
    case 'dewPointMarginC':
      return tempC === null || dewPointC === null ? null : tempC - dewPointC;
    case 'thunder':
      return thunder === null ? null : Number(thunder);
  }
}

/** Records hold 32-bit numbers: a reading that was written as the limit itself must not be above it. */
const ROUNDING = 1e-5;

/** By how much a value breaks a limit, in the limit's unit; null where it does not, or where the value is unknown. */
export function brokenBy(limit: AskedLimit, value: number | null): number | null {
  if (value === null) return null;
  const by = (value - (limit.limitValue ?? 0)) * limit.worse;
  return by / limit.heightFactor > ROUNDING ? by : null;
}

function numberOf(reading: number | undefined): number | null {
  return reading === undefined || Number.isNaN(reading) ? null : reading;
}

/** The place of an hour in ascending hours; -1 where it is missing. */
function placeOf(hours: Int32Array, hour: number): number {
  let [low, high] = [0, hours.length - 1];
  while (low <= high) {
    const middle = (low + high) >> 1;
    const found = hours[middle] as number;
    if (found === hour) return middle;
    if (found < hour) low = middle + 1;
    else high = middle - 1;
  }
  return -1;
}
