import { z } from 'zod';
import { centsSchema, dateSchema, idSchema, instantSchema } from './common.ts';

const chance = z.number().min(0).max(1);
const clock = z.string().meta({ description: 'HH:MM on the clocks of the site' });

/** What a start that fails, or holding, may cost. */
export const BRIEF_COSTS = [
  'crew-day',
  'casual-hands',
  'lift-day',
  'lift-delivery',
  'truck',
  'beds',
  'driving',
  'travel-days',
  'moved-visit',
  'late',
] as const;

/** Why an advice is what it is. */
export const BRIEF_REASONS = [
  'fail-chance-above-ratio',
  'fail-chance-below-ratio',
  'fail-chance-at-ratio',
  'holding-never-pays',
  'odds-unknown',
  'failed-start-cost-unknown',
  'holding-cost-unknown',
  'fee-after-deadline-unknown',
  'forecast-stale',
  'forecast-missing',
  'odds-from-records-only',
  'records-alone-never-say-go',
  'odds-without-records',
  'deadline-past',
  'deadline-unknown',
] as const;

/** What a side of the decision costs, part by part; a part whose price is not known is null, never zero. */
const costSide = z.object({
  knownCents: centsSchema.meta({ description: 'Sum of the parts that are known' }),
  parts: z.array(
    z.object({
      key: z.enum(BRIEF_COSTS),
      cents: centsSchema.nullable(),
    }),
  ),
});

const limit = z.object({
  limit: z.enum(['gustMps', 'windMps', 'rainMm', 'tempMinC', 'tempMaxC', 'dewPointMarginC', 'thunder']),
  limitValue: z.number().nullable(),
  steps: z.array(z.string()).meta({ description: 'Keys of the steps that have this limit' }),
  members: z.int().meta({ description: 'Most runs of the forecast that break it in one hour of the shift' }),
  ofMembers: z.int(),
  medianValue: z.number().nullable().meta({
    description:
      'The worst hourly middle of the runs, in the hours in which any breaks it; at the height of the load',
  }),
  worstValue: z.number().nullable(),
  firstHour: instantSchema.meta({ description: 'The first hour in which any run breaks it' }),
  hours: z.number().meta({ description: 'Hours of the shift in which any run breaks it' }),
});

const oddsSchema = z.object({
  goodChance: chance,
  from: z.enum(['blend', 'forecast', 'records']),
  weight: chance.meta({ description: 'What the forecast counts; the records count the rest' }),
  weightBasis: z.enum(['default', 'part-fitted', 'fitted']).nullable(),
  weightCases: z.int(),
  forecastShare: chance.nullable(),
  recordShare: chance.nullable(),
  recordYears: z.int().nullable(),
  members: z.object({ good: z.int(), bad: z.int(), unknown: z.int() }).nullable(),
  notes: z.array(z.string()),
});

const reason = z.object({
  code: z.enum(BRIEF_REASONS),
  because: z.string().optional(),
  minutesPast: z.number().optional(),
  ratio: z.number().optional(),
});

/** Go or hold for the first outside day of a visit, with everything that it rests on. */
export const briefSchema = z
  .object({
    visit: z.object({
      id: idSchema,
      job: z.string(),
      title: z.string(),
      site: z.string(),
      siteName: z.string(),
      zone: z.string(),
      day: dateSchema.meta({ description: 'The first outside day' }),
      shiftFrom: clock,
      shiftTo: clock,
      crew: z.string(),
      currency: z.string(),
    }),
    madeAt: instantSchema,
    advice: z.enum(['go', 'hold', 'cannot-say']),
    basis: z.enum(['forecast', 'records-only', 'none']),
    reasons: z.array(reason),
    odds: oddsSchema.nullable().meta({ description: 'null: cannot be said' }),
    forecast: z.object({
      state: z.enum(['fresh', 'stale', 'missing']),
      source: z.string().nullable(),
      series: z.string().nullable(),
      issuedAt: instantSchema.nullable(),
      heardAt: instantSchema.nullable().meta({ description: 'When the service last gave a good answer' }),
      ageHours: z.number().nullable(),
      leadDays: z.int().nullable(),
      fault: z.string().nullable().meta({ description: 'Why the last try to fetch one failed' }),
    }),
    rule: z
      .object({
        failChance: chance,
        holdingCents: z.number(),
        failedStartCents: z.number(),
        ratio: z.number().nullable(),
      })
      .nullable(),
    failedStart: costSide,
    holding: costSide,
    deadline: z
      .object({ at: instantSchema, past: z.boolean(), what: z.string(), feeCents: centsSchema.nullable() })
      .nullable()
      .meta({
        description: 'The earliest moment until which something can be called off; null: none is known',
      }),
    deadlinesUnknown: z.array(z.string()).meta({ description: 'What has no known last moment' }),
    limits: z.array(limit),
    latestStart: z
      .object({ middle: instantSchema, earliest: instantSchema, members: z.int() })
      .nullable()
      .meta({ description: 'Latest start of the runs whose day is good' }),
    sunrise: instantSchema.nullable(),
    sunset: instantSchema.nullable(),
    unknown: z.array(z.string()).meta({ description: 'What had to be assumed or is not known, in words' }),
  })
  .meta({ id: 'MorningBrief' });

export type MorningBrief = z.output<typeof briefSchema>;
export type BriefCostPart = MorningBrief['holding']['parts'][number];
export type BriefLimit = MorningBrief['limits'][number];
