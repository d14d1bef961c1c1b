import {
  DryspellError,
  type Instant,
  instantFromMs,
  instantToLocal,
  instantToMs,
  type Verdict,
} from '../../../kernel/src/index.ts';
import { DEFAULT_GUST_FACTOR, type HourRules } from '../hour-marks.ts';
import type { Forecast, HourlyRecord } from '../hourly-record.ts';
import type { StepLimits } from '../site-day-work.ts';
import { OPEN_GROUND } from '../wind-profile.ts';
import {
  type AskedLimit,
  askedLimits,
  brokenBy,
  type HourReadings,
  type LimitName,
  NO_READINGS,
  readingsAt,
  valueFor,
} from './limit-readings.ts';

/** What a record of evidence is made of. */
export interface EvidenceInput {
  readonly steps: readonly { readonly key: string; readonly limits: StepLimits }[];
  /** The forecast as it was issued; null where there was none. */
  readonly forecast: Forecast | null;
  /** What came; null where nothing was measured. */
  readonly observed: HourlyRecord | null;
  /** The hours to tell of, from the first to before the second; usually the shift of a site day. */
  readonly from: Instant;
  readonly to: Instant;
  /** IANA zone of the site, for the local hours. */
  readonly zone: string;
  readonly rules?: HourRules;
}

/** Median and extremes of the members that are known; null where none is. */
export interface MemberSpread {
  readonly median: number;
  readonly lowest: number;
  readonly highest: number;
  readonly knownMembers: number;
}

/** A limit that broke in an hour, or that at least one member of the forecast expected to break. Values at the height of the load. */
export interface EvidenceBreach {
  readonly step: string;
  readonly limit: LimitName;
  readonly limitValue: number | null;
  readonly loadHeightM: number | null;
  readonly observedValue: number | null;
  /** By how much what came broke it; null where it did not or is unknown. */
  readonly observedBy: number | null;
  /** The middle and the worst of the members; null without a known one. */
  readonly forecastMedian: number | null;
  readonly forecastWorst: number | null;
  readonly membersBreaking: number;
  readonly membersKnown: number;
}

/** Quantities of an hour, as forecast and as observed. */
export type EvidenceQuantity = 'gustMps' | 'windMps' | 'rainMm' | 'tempC' | 'dewPointMarginC';

/** One hour of evidence; numbers are rounded to hundredths, after they were held against the limits. */
export interface EvidenceHour {
  readonly hour: Instant;
  /** Wall time at the site, `YYYY-MM-DD HH:MM`, and minutes ahead of UTC. */
  readonly localTime: string;
  readonly offsetMin: number;
  readonly forecast: Readonly<Record<EvidenceQuantity, MemberSpread | null>>;
  readonly observed: Readonly<Record<EvidenceQuantity, number | null>> & { readonly thunder: boolean | null };
  /** Whether the observed gust, or that of any member, is mean wind x the gust factor. */
  readonly gustEstimated: { readonly observed: boolean; readonly forecast: boolean };
  /** By step: `not ok` when a limit broke, `cannot say` when none did but something it needs is unknown. */
  readonly verdicts: readonly { readonly step: string; readonly verdict: Verdict }[];
  readonly breaches: readonly EvidenceBreach[];
  /** What is unknown of what came; thunder is named but keeps no step from `ok`, since most records never note it. */
  readonly unknown: readonly (EvidenceQuantity | 'thunder')[];
}

/** Hours of a step in all, and the first and last in which it could not be done. */
export interface EvidenceTotal {
  readonly step: string;
  readonly hours: number;
  readonly okHours: number;
  readonly brokenHours: number;
  readonly unknownHours: number;
  readonly firstBroken: Instant | null;
  readonly lastBroken: Instant | null;
  /** Hours in which the median, and in which the worst member, of the forecast broke a limit. */
  readonly forecastMedianBrokenHours: number;
  readonly forecastWorstBrokenHours: number;
}

/** What was forecast, what came, and which limits it broke; plain data. */
export interface Evidence {
  readonly forecastSource: string | null;
  readonly issuedAt: Instant | null;
  readonly members: number;
  readonly observedSource: string | null;
  readonly zone: string;
  readonly gustFactor: number;
  readonly hours: readonly EvidenceHour[];
  readonly totals: readonly EvidenceTotal[];
}

const QUANTITIES = ['gustMps', 'windMps', 'rainMm', 'tempC', 'dewPointMarginC'] as const;
const MOST_HOURS = 24 * 31;

/**
 * Puts side by side, hour by hour, what a forecast said when it was issued, what came, and the limits of the steps. Hours are
 * those of the observed record's clock (of the forecast's without one); a record whose clock differs by part of an hour gives
 * the hour that holds the start. Daylight and drying times are no weather that came and are left out. Throws `invalid-input`
 * for more than 31 days or `to` not after `from`.
 */
export function evidence(input: EvidenceInput): Evidence {
  const { steps, forecast, observed, zone, rules = {} } = input;
  const { gustFactor = DEFAULT_GUST_FACTOR, windProfile = OPEN_GROUND } = rules;
  const asked = steps.map(({ key, limits }) => ({ key, limits: askedLimits(limits, windProfile) }));
  const hours = startsOf(input).map((utcMin) => {
    const came = observed === null ? NO_READINGS : readingsAt(observed, utcMin, gustFactor);
    const members = (forecast?.members ?? []).map((member) => readingsAt(member, utcMin, gustFactor));
    const hour = instantFromMs(utcMin * 60_000);
    const { date, time, offsetMin } = instantToLocal(hour, zone);
    const held = asked.map(({ key, limits }) => ({
      key,
      limits: limits.map((limit) => hold(limit, came, members)),
    }));
    const missing = QUANTITIES.every((quantity) => quantityOf(quantity, came) === null);
    const row: EvidenceHour = {
      hour,
      localTime: `${date} ${time.slice(0, 5)}`,
      offsetMin,
      forecast: byQuantity((quantity) => spreadOf(members.map((member) => quantityOf(quantity, member)))),
      observed: { ...byQuantity((quantity) => rounded(quantityOf(quantity, came))), thunder: came.thunder },
      gustEstimated: {
        observed: came.gustEstimated,
        forecast: members.some((member) => member.gustEstimated),
      },
      verdicts: held.map(({ key, limits }) => ({ step: key, verdict: verdictOf(limits, missing) })),
      breaches: held.flatMap(({ key, limits }) =>
        limits
          .filter(({ observedBy, membersBreaking }) => observedBy !== null || membersBreaking > 0)
          .map((each) => breachOf(key, each)),
      ),
      unknown: [
        ...QUANTITIES.filter((quantity) => quantityOf(quantity, came) === null),
        ...(came.thunder === null ? (['thunder'] as const) : []),
      ],
    };
    return { row, held };
  });
  return {
    forecastSource: forecast?.source ?? null,
    issuedAt: forecast?.issuedAt ?? null,
    members: forecast?.members.length ?? 0,
    observedSource: observed?.source ?? null,
    zone,
    gustFactor,
    hours: hours.map(({ row }) => row),
    totals: steps.map(({ key }, nth) => totalOf(key, nth, hours)),
  };
}

/** A limit held against one hour: what came and each member. */
interface HeldLimit {
  readonly limit: AskedLimit;
  readonly observedValue: number | null;
  readonly observedBy: number | null;
  readonly median: number | null;
  readonly worst: number | null;
  readonly medianBreaks: boolean;
  readonly membersBreaking: number;
  readonly membersKnown: number;
}

function hold(limit: AskedLimit, came: HourReadings, members: readonly HourReadings[]): HeldLimit {
  const observedValue = valueFor(limit, came);
  const values = members
    .map((member) => valueFor(limit, member))
    .filter((value) => value !== null)
    .sort((a, b) => (a - b) * limit.worse);
  const median = values.length === 0 ? null : medianOf(values);
  return {
    limit,
    observedValue,
    observedBy: brokenBy(limit, observedValue),
    median,
    worst: values.at(-1) ?? null,
    medianBreaks: brokenBy(limit, median) !== null,
    membersBreaking: values.filter((value) => brokenBy(limit, value) !== null).length,
    membersKnown: values.length,
  };
}

function verdictOf(limits: readonly HeldLimit[], missing: boolean): Verdict {
  if (limits.some(({ observedBy }) => observedBy !== null)) return 'not ok';
  const needed = limits.filter(({ limit }) => limit.name !== 'thunder');
  return missing || needed.some(({ observedValue }) => observedValue === null) ? 'cannot say' : 'ok';
}

function breachOf(step: string, held: HeldLimit): EvidenceBreach {
  const { limit } = held;
  return {
    step,
    limit: limit.name,
    limitValue: limit.limitValue,
    loadHeightM: limit.loadHeightM,
    observedValue: rounded(held.observedValue),
    observedBy: rounded(held.observedBy),
    forecastMedian: rounded(held.median),
    forecastWorst: rounded(held.worst),
    membersBreaking: held.membersBreaking,
    membersKnown: held.membersKnown,
  };
}

function totalOf(
  step: string,
  nth: number,
  hours: readonly { row: EvidenceHour; held: readonly { limits: readonly HeldLimit[] }[] }[],
): EvidenceTotal {
  const withVerdict = (verdict: Verdict) => hours.filter(({ row }) => row.verdicts[nth]?.verdict === verdict);
  const forecastBreaks = (breaks: (held: HeldLimit) => boolean): number =>
    hours.filter(({ held }) => held[nth]?.limits.some(breaks)).length;
  const broken = withVerdict('not ok');
  return {
    step,
    hours: hours.length,
    okHours: withVerdict('ok').length,
    brokenHours: broken.length,
    unknownHours: withVerdict('cannot say').length,
    firstBroken: broken[0]?.row.hour ?? null,
    lastBroken: broken.at(-1)?.row.hour ?? null,
    forecastMedianBrokenHours: forecastBreaks(({ medianBreaks }) => medianBreaks),
    forecastWorstBrokenHours: forecastBreaks(({ membersBreaking }) => membersBreaking > 0),
  };
}

/** The starts of the hours, minutes of UTC, on the clock of the record that was measured. */
function startsOf({ observed, forecast, from, to }: EvidenceInput): number[] {
  const offset = (observed ?? forecast?.members[0])?.standardOffsetMin ?? 0;
  const [fromMin, toMin] = [instantToMs(from) / 60_000, instantToMs(to) / 60_000];
  const first = Math.floor((fromMin + offset) / 60) * 60 - offset;
  const count = Math.ceil((toMin - first) / 60);
  if (!(toMin > fromMin) || count > MOST_HOURS)
    throw new DryspellError('invalid-input', {
      field: 'to',
      value: to,
      expected: 'after from, within 31 days',
    });
  return Array.from({ length: count }, (_, nth) => first + nth * 60);
}

function quantityOf(quantity: EvidenceQuantity, readings: HourReadings): number | null {
  if (quantity !== 'dewPointMarginC') return readings[quantity];
  const { tempC, dewPointC } = readings;
  return tempC === null || dewPointC === null ? null : tempC - dewPointC;
}

function byQuantity<Value>(of: (quantity: EvidenceQuantity) => Value): Record<EvidenceQuantity, Value> {
  const [gustMps, windMps, rainMm, tempC, dewPointMarginC] = QUANTITIES.map(of) as [
    Value,
    Value,
    Value,
    Value,
    Value,
  ];
  return { gustMps, windMps, rainMm, tempC, dewPointMarginC };
}

function spreadOf(values: readonly (number | null)[]): MemberSpread | null {
  const sorted = values.filter((value) => value !== null).sort((a, b) => a - b);
  if (sorted.length === 0) return null;
  return {
    median: rounded(medianOf(sorted)),
    lowest: rounded(sorted[0] as number),
    highest: rounded(sorted.at(-1) as number),
    knownMembers: sorted.length,
  };
}

function medianOf(sorted: readonly number[]): number {
  const middle = (sorted.length - 1) / 2;
  return ((sorted[Math.floor(middle)] as number) + (sorted[Math.ceil(middle)] as number)) / 2;
}

function rounded<Value extends number | null>(value: Value): Value {
  return (value === null ? null : Math.round(value * 100) / 100) as Value;
}
