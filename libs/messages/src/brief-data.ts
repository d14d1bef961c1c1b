import { z } from 'zod';
import { BRIEF_COSTS, BRIEF_REASONS, type MorningBrief } from '../../contracts/src/http/brief-schema.ts';
import { formatCents, type Instant, instantToLocal } from '../../kernel/src/index.ts';
import { clockTime, day, lines, moment, words, zone } from './message-data.ts';

const adviceSchema = z.enum(['go', 'hold', 'cannot-say']);
const count = z.number().int().nonnegative();

/** The sum of the known parts, and the parts that nobody knows the price of. */
const side = z
  .strictObject({ sum: words, missing: z.array(z.enum(BRIEF_COSTS)) })
  .transform(({ sum, missing }) => ({ sum, missing, short: missing.length === 0 ? sum : `${sum} + ?` }));

const limitLine = z.strictObject({
  limit: z.enum(['gustMps', 'windMps', 'rainMm', 'tempMinC', 'tempMaxC', 'dewPointMarginC']),
  allowed: words,
  middle: words,
  worst: words,
  from: clockTime,
  hours: words,
  members: count,
  ofMembers: count,
});

/** What the morning brief is told, with figures already in words where they need a unit. */
export const morningBrief = z
  .strictObject({
    advice: adviceSchema,
    /** What the brief before advised, where that was something else. */
    turnedFrom: adviceSchema.nullable(),
    siteName: words,
    title: words,
    date: day,
    zone,
    crew: words,
    shiftFrom: clockTime,
    shiftTo: clockTime,
    /** Chance of a good day, such as `83 %`; null: it cannot be said. */
    odds: z.strictObject({ chance: words, from: z.enum(['blend', 'forecast', 'records']) }).nullable(),
    runs: z.strictObject({ good: count, known: count, unknown: count }).nullable(),
    weight: z.strictObject({ share: words, basis: z.enum(['default', 'part-fitted', 'fitted']) }).nullable(),
    records: z.strictObject({ share: words, years: count }).nullable(),
    failedStart: side,
    holding: side,
    rule: z.strictObject({ failChance: words, ratio: words }).nullable(),
    reasons: z.array(z.enum(BRIEF_REASONS)),
    deadline: z.strictObject({ by: moment, what: words, past: z.boolean() }).nullable(),
    deadlinesUnknown: z.array(words),
    limits: z.array(limitLine),
    /** First hour in which any run of the forecast has thunder; null: none that we know of. */
    thunderFrom: clockTime.nullable(),
    latestStart: clockTime.nullable(),
    sunrise: clockTime.nullable(),
    sunset: clockTime.nullable(),
    forecast: z.strictObject({ source: words, issued: moment, old: z.boolean() }).nullable(),
    /** When the last forecast was heard, where there is none or it is stale. */
    noForecastSince: moment.nullable(),
    neverForecast: z.boolean(),
    forecastFault: lines.nullable(),
    unknown: z.array(words),
  })
  .transform((brief) => ({
    ...brief,
    hazards: ['lifting', 'wind', 'height', 'driving'] as const,
    firstLimit: brief.limits[0] ?? null,
    siteShort: shortened(brief.siteName),
  }));

export type MorningBriefData = z.input<typeof morningBrief>;

/** Letters of a name that a short text has room for. */
const SHORT_NAME = 30;

function shortened(name: string): string {
  const letters = [...name];
  return letters.length <= SHORT_NAME ? name : `${letters.slice(0, SHORT_NAME - 1).join('')}…`;
}

const percent = (share: number): string => `${Math.round(share * 100)} %`;
/** A longer list is cut and says so; the record that is kept has all of it. */
const MOST_LINES = 12;

function shortList(list: readonly string[]): string[] {
  if (list.length <= MOST_LINES) return [...list];
  return [
    ...list.slice(0, MOST_LINES - 1),
    `and ${list.length - MOST_LINES + 1} more; see the brief on screen`,
  ];
}

/** A brief as its message is told it. */
export function morningBriefData(
  brief: MorningBrief,
  turnedFrom: MorningBrief['advice'] | null,
): MorningBriefData {
  const { visit, odds, forecast, rule, deadline } = brief;
  const local = (at: string): string => instantToLocal(at as Instant, visit.zone).time.slice(0, 5);
  const spoken = (at: string) => ({ at, zone: visit.zone });
  const old = forecast.state !== 'fresh';
  const thunder = brief.limits.find(({ limit }) => limit === 'thunder');
  return {
    advice: brief.advice,
    turnedFrom,
    siteName: visit.siteName,
    title: visit.title,
    date: visit.day,
    zone: visit.zone,
    crew: visit.crew,
    shiftFrom: visit.shiftFrom,
    shiftTo: visit.shiftTo,
    odds: odds && { chance: percent(odds.goodChance), from: odds.from },
    runs: odds?.members
      ? {
          good: odds.members.good,
          known: odds.members.good + odds.members.bad,
          unknown: odds.members.unknown,
        }
      : null,
    weight:
      odds?.from === 'blend' && odds.weightBasis !== null
        ? { share: percent(odds.weight), basis: odds.weightBasis }
        : null,
    records:
      odds && odds.recordShare !== null
        ? { share: percent(odds.recordShare), years: odds.recordYears ?? 0 }
        : null,
    failedStart: sideOf(brief.failedStart, visit.currency),
    holding: sideOf(brief.holding, visit.currency),
    rule:
      rule && rule.ratio !== null
        ? { failChance: percent(rule.failChance), ratio: percent(rule.ratio) }
        : null,
    reasons: brief.reasons.map(({ code }) => code),
    deadline: deadline && { by: spoken(deadline.at), what: deadline.what, past: deadline.past },
    deadlinesUnknown: shortList(brief.deadlinesUnknown),
    limits: brief.limits.flatMap(({ limit, limitValue, firstHour, members, ofMembers, ...limits }) =>
      limit === 'thunder'
        ? []
        : [
            {
              limit,
              allowed: figure(limitValue),
              middle: figure(limits.medianValue),
              worst: figure(limits.worstValue),
              from: local(firstHour),
              hours: figure(limits.hours),
              members,
              ofMembers,
            },
          ],
    ),
    thunderFrom: thunder ? local(thunder.firstHour) : null,
    latestStart: brief.latestStart && local(brief.latestStart.middle),
    sunrise: brief.sunrise && local(brief.sunrise),
    sunset: brief.sunset && local(brief.sunset),
    forecast:
      forecast.issuedAt === null
        ? null
        : { source: forecast.source ?? '?', issued: spoken(forecast.issuedAt), old },
    noForecastSince: old && forecast.issuedAt !== null ? spoken(forecast.heardAt ?? forecast.issuedAt) : null,
    neverForecast: forecast.issuedAt === null,
    forecastFault: forecast.fault,
    unknown: shortList(brief.unknown),
  };
}

const figure = (value: number | null): string => (value === null ? '?' : String(Math.round(value * 10) / 10));

function sideOf({ knownCents, parts }: MorningBrief['holding'], currency: string): z.input<typeof side> {
  return {
    sum: formatCents(Math.round(knownCents), currency),
    missing: parts.filter(({ cents }) => cents === null).map(({ key }) => key),
  };
}
