import { z } from 'zod';
import { briefSchema } from './brief-schema.ts';
import { dateSchema, idSchema, instantSchema, keySchema } from './common.ts';
import { defineEndpoint, json, raw } from './endpoint.ts';
import { SEASON, seasonParams } from './seasons.ts';

const tags = ['weather'];
const managers = ['manager'] as const;
const VISIT = `${SEASON}/visits/:visit`;
const ofVisit = seasonParams.extend({
  visit: keySchema.meta({ description: 'The id of the visit, or the key of its job' }),
});
const adviceSchema = z.enum(['go', 'hold', 'cannot-say']);
const figure = z.number().nullable();
const share = z.number().min(0).max(1);

export const getBrief = defineEndpoint({
  id: 'getBrief',
  method: 'GET',
  path: `${VISIT}/brief`,
  access: ['manager', 'crew'],
  params: ofVisit,
  responses: { 200: json(briefSchema, 'Go or hold, as things stand now') },
  summary: 'Show the brief of a visit as it stands now',
  description:
    'Made anew from the newest forecast each time; nothing is kept or sent. A crew member sees it as the lead of the visit. A conflict for a ' +
    'visit that is called off, over, or has no outside day.',
  tags,
});

export const listBriefs = defineEndpoint({
  id: 'listBriefs',
  method: 'GET',
  path: `${VISIT}/briefs`,
  access: managers,
  params: ofVisit,
  responses: {
    200: json(
      z.object({
        items: z.array(
          z.object({
            id: idSchema,
            kind: z.enum(['day-before', 'on-the-day', 'newer-forecast']),
            day: dateSchema,
            turnedFrom: adviceSchema.nullable(),
            madeAt: instantSchema,
            brief: briefSchema,
          }),
        ),
      }),
      'The briefs as they were made, the newest first; a visit has a few',
    ),
  },
  summary: 'List the briefs of a visit as they were sent',
  tags,
});

const verdictSchema = z.object({ step: z.string(), verdict: z.enum(['ok', 'not ok', 'cannot say']) });
const spread = z
  .object({ median: z.number(), lowest: z.number(), highest: z.number(), knownMembers: z.int() })
  .nullable();
const quantities = <T extends z.ZodType>(of: T) => ({
  gustMps: of,
  windMps: of,
  rainMm: of,
  tempC: of,
  dewPointMarginC: of,
});

const evidenceSchema = z.object({
  forecastSource: z.string().nullable(),
  issuedAt: instantSchema.nullable(),
  members: z.int(),
  observedSource: z.string().nullable(),
  zone: z.string(),
  gustFactor: z.number(),
  hours: z.array(
    z.object({
      hour: instantSchema,
      localTime: z.string(),
      offsetMin: z.int(),
      forecast: z.object(quantities(spread)),
      observed: z.object({ ...quantities(figure), thunder: z.boolean().nullable() }),
      gustEstimated: z.object({ observed: z.boolean(), forecast: z.boolean() }),
      verdicts: z.array(verdictSchema),
      breaches: z.array(
        z.object({
          step: z.string(),
          limit: z.string(),
          limitValue: figure,
          loadHeightM: figure,
          observedValue: figure,
          observedBy: figure,
          forecastMedian: figure,
          forecastWorst: figure,
          membersBreaking: z.int(),
          membersKnown: z.int(),
        }),
      ),
      unknown: z.array(z.string()),
    }),
  ),
  totals: z.array(
    z.object({
      step: z.string(),
      hours: z.int(),
      okHours: z.int(),
      brokenHours: z.int(),
      unknownHours: z.int(),
      firstBroken: instantSchema.nullable(),
      lastBroken: instantSchema.nullable(),
      forecastMedianBrokenHours: z.int(),
      forecastWorstBrokenHours: z.int(),
    }),
  ),
});

const evidenceDaySchema = z
  .object({
    day: dateSchema,
    shiftFrom: z.string(),
    shiftTo: z.string(),
    site: z.string(),
    kept: z.boolean().meta({
      description: 'Whether it is kept with the visit; false: the day is not over, or nobody asked yet',
    }),
    madeAt: instantSchema,
    observedHours: z.int().meta({ description: 'Hours of the shift of which it is known what came' }),
    record: z.string().nullable().meta({ description: 'Key of the record that says what came' }),
    briefs: z.array(
      z.object({
        kind: z.string(),
        madeAt: instantSchema,
        advice: adviceSchema,
        turnedFrom: adviceSchema.nullable(),
        forecastIssuedAt: instantSchema.nullable(),
      }),
    ),
    evidence: evidenceSchema,
  })
  .meta({ id: 'WeatherEvidence' });

export type WeatherEvidenceDay = z.output<typeof evidenceDaySchema>;

export const getWeatherEvidence = defineEndpoint({
  id: 'getWeatherEvidence',
  method: 'GET',
  path: `${VISIT}/weather-evidence`,
  access: managers,
  params: ofVisit,
  responses: { 200: json(z.object({ days: z.array(evidenceDaySchema) }), 'Day by day, the first day first') },
  summary: 'Show what was forecast, what came, and which limits were broken in which hours',
  description:
    'What is kept with the visit; for a day of which nothing is kept yet, as it stands now. Hours that nobody measured are unknown, not fair.',
  tags,
});

export const getWeatherEvidenceCsv = defineEndpoint({
  id: 'getWeatherEvidenceCsv',
  method: 'GET',
  path: `${VISIT}/weather-evidence.csv`,
  access: managers,
  params: ofVisit,
  responses: { 200: raw('text/csv', 'A row for each hour') },
  summary: 'The same as a table',
  tags,
});

const leadSchema = z.object({
  leadDays: z.int(),
  weight: share,
  basis: z.enum(['default', 'part-fitted', 'fitted']),
  cases: z.int(),
  bestOfCases: figure,
  defaultWeight: share,
});

const binSchema = z.object({
  fromChance: share,
  toChance: share,
  count: z.int(),
  happened: z.int(),
  meanChance: figure,
  observedShare: figure,
  interval: z.object({ low: z.number(), high: z.number() }),
});

export const getForecastVerification = defineEndpoint({
  id: 'getForecastVerification',
  method: 'GET',
  path: `${SEASON}/weather/verification`,
  access: managers,
  params: seasonParams,
  responses: {
    200: json(
      z.object({
        cases: z.int(),
        weights: z.object({ single: z.array(leadSchema), ensemble: z.array(leadSchema) }),
        score: z
          .object({
            cases: z.int(),
            brier: z.number(),
            baseShare: z.number(),
            reliability: z.number(),
            resolution: z.number(),
            uncertainty: z.number(),
            withinBinVariance: z.number(),
            withinBinCovariance: z.number(),
            skill: figure,
          })
          .nullable()
          .meta({ description: 'Brier score of the odds in its parts; null without a case' }),
        reliability: z.array(binSchema),
        words: z.string(),
      }),
      'How the odds of this firm turned out',
    ),
  },
  summary: 'Show how good the odds were',
  description:
    'Cases are site days of visits that have passed, of all seasons: the share of runs with a good day, the share in past years, and whether the ' +
    'day was good in the record. Weights are fitted from them by lead, else stated defaults.',
  tags,
});

export const getReliabilityPicture = defineEndpoint({
  id: 'getReliabilityPicture',
  method: 'GET',
  path: `${SEASON}/weather/verification.svg`,
  access: managers,
  params: seasonParams,
  responses: { 200: raw('image/svg+xml', 'The reliability table as a picture') },
  summary: 'Show how good the odds were as a picture',
  tags,
});
