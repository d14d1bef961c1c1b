import { z } from 'zod';
import {
  type Instant,
  isKnownZone,
  isLocalDate,
  type LocalDate,
  parseInstant,
} from '../../kernel/src/index.ts';

// What the templates may be told. Nothing is optional: a value that may be absent is null, so that forgetting one and
// not having one are not the same.

/** A few words on one line; white space and control characters become single blanks. */
export const words = z
  .string()
  .max(500)
  .transform((text) => text.replace(/[\s\p{Cc}\u2028\u2029]+/gu, ' ').trim())
  .refine((text) => text !== '', 'must not be empty');

/** Words on several lines. */
export const lines = z
  .string()
  .max(4000)
  .transform((text) =>
    text
      .replace(/\r\n?|[\u2028\u2029]/g, '\n')
      .replace(/(?!\n)\p{Cc}/gu, ' ')
      .trim(),
  )
  .refine((text) => text !== '', 'must not be empty');

export const day = z
  .string()
  .refine(isLocalDate, 'must be a date as YYYY-MM-DD')
  .transform((text) => text as LocalDate);

/** Wall time, `HH:MM`. */
export const clockTime = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'must be a time as HH:MM');
export const zone = z.string().refine(isKnownZone, 'must be an IANA zone');
const instant = z
  .string()
  .transform((text, context) => {
    try {
      return parseInstant(text);
    } catch {
      context.addIssue({ code: 'custom', message: 'must be an instant in UTC' });
      return z.NEVER;
    }
  })
  .transform((text): Instant => text);
/** An instant and the zone in which to say it. */
export const moment = z.strictObject({ at: instant, zone });
export const link = z.url({ protocol: /^https?$/ });
const measure = z.number().finite().nonnegative().max(1e9);

/** Kinds of danger that a message may touch; each brings its own words of caution. */
export const HAZARDS = ['lifting', 'wind', 'electricity', 'height', 'driving', 'fatigue'] as const;
export type Hazard = (typeof HAZARDS)[number];
const hazards = z.array(z.enum(HAZARDS));

/** What every message knows: who writes and who reads. */
export const common = {
  firm: z.strictObject({ name: words, phone: words.nullable(), mail: words.nullable() }),
  to: z.strictObject({ name: words }),
};

/** A visit as the crew hears of it. */
export const crewVisit = z
  .strictObject({
    kind: z.enum(['survey', 'build', 'return', 'service']),
    siteName: words,
    siteAddress: words.nullable(),
    zone,
    /** In order; wall times of the site. */
    days: z
      .array(
        z.strictObject({ date: day, start: clockTime, end: clockTime, work: z.enum(['outside', 'inside']) }),
      )
      .min(1)
      .max(60),
    kits: z.array(words),
    crewName: words,
    leadName: words.nullable(),
    /** The others who come along. */
    mates: z.array(words),
    bring: z.array(words),
    note: lines.nullable(),
    /** Dangers beyond those that the kind of visit brings anyway. */
    hazards,
  })
  .transform((visit) => {
    const dates = visit.days.map((entry) => entry.date);
    return {
      ...visit,
      firstDay: dates[0] as LocalDate,
      lastDay: dates.at(-1) as LocalDate,
      severalDays: dates.length > 1,
      hazards: withUsual(visit.hazards, [
        ...(visit.kind === 'build' ? (['lifting', 'height', 'electricity'] as const) : []),
        ...(visit.days.some((entry) => entry.work === 'outside') ? (['wind'] as const) : []),
        'driving',
      ]),
    };
  });

/** A visit as the customer hears of it. */
export const arrival = z
  .strictObject({
    kind: z.enum(['survey', 'build', 'return', 'service']),
    siteName: words,
    siteAddress: words.nullable(),
    zone,
    firstDay: day,
    lastDay: day,
    arriveFrom: clockTime,
    arriveTo: clockTime,
    people: z.number().int().positive(),
    leadName: words.nullable(),
    leadPhone: words.nullable(),
    /** Whether the date hangs on the weather. */
    mayMoveForWeather: z.boolean(),
    /** What must be ready, and by when. */
    ready: z.array(z.strictObject({ what: words, by: day })),
    note: lines.nullable(),
    hazards,
  })
  .refine((visit) => visit.firstDay <= visit.lastDay, 'lastDay must not be before firstDay')
  .transform((visit) => ({
    ...visit,
    severalDays: visit.firstDay !== visit.lastDay,
    hazards: withUsual(visit.hazards, visit.kind === 'build' ? ['lifting', 'wind', 'electricity'] : []),
  }));

/** Something that the customer must show to be ready. */
export const preparation = z.strictObject({
  what: words,
  by: day,
  proof: z.enum(['none', 'photo', 'measurement', 'document']),
  overdue: z.boolean(),
});

export const lift = z.strictObject({
  kind: words,
  siteName: words,
  siteAddress: words.nullable(),
  zone,
  firstDay: day,
  lastDay: day,
  startTime: clockTime,
  heaviestKg: measure,
  /** Null: not known yet. */
  radiusM: measure.nullable(),
  hookHeightM: measure.nullable(),
  /** Gust at which we stop lifting; null: not known yet. */
  gustLimitMps: measure.nullable(),
  withOperator: z.boolean(),
  ground: words.nullable(),
  note: lines.nullable(),
});

export const delivery = z.strictObject({
  goods: z
    .array(
      z.strictObject({
        what: words,
        pieces: z.number().int().positive(),
        massKg: measure,
        longestM: measure.nullable(),
      }),
    )
    .min(1),
  collectFrom: words,
  siteName: words,
  siteAddress: words.nullable(),
  zone,
  arriveOn: day,
  arriveFrom: clockTime,
  arriveTo: clockTime,
  unloading: words,
  access: words.nullable(),
  contactName: words.nullable(),
  contactPhone: words.nullable(),
  note: lines.nullable(),
});

function withUsual(given: readonly Hazard[], usual: readonly Hazard[]): Hazard[] {
  return HAZARDS.filter((hazard) => given.includes(hazard) || usual.includes(hazard));
}
