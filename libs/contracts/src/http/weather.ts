import { z } from 'zod';
import { idSchema, instantSchema, keySchema, pageOf, pageQuery, writtenText, yesNo } from './common.ts';
import { defineEndpoint, json, raw, streamBody } from './endpoint.ts';
import { SEASON, seasonParams } from './seasons.ts';

/** Media types under which a weather file may be sent; a browser that does not know the type sends the second. */
export const WEATHER_FILE_TYPES = ['text/csv', 'application/octet-stream'] as const;
/** Largest weather file that is taken in: forty years of hours with room to spare. */
export const WEATHER_FILE_MAX_BYTES = 200_000_000;

const tags = ['weather'];
const managers = ['manager'] as const;
const ofImport = seasonParams.extend({ importId: idSchema });

const badLineSchema = z.object({ line: z.int(), reason: z.string(), value: z.string().optional() });

const importSchema = z
  .object({
    id: idSchema,
    target: z.enum(['station', 'site']),
    key: keySchema,
    fileName: z.string(),
    state: z.enum(['receiving', 'queued', 'running', 'done', 'failed']),
    options: z.record(z.string(), z.unknown()),
    bytesTotal: z.int().nullable().meta({ description: 'null: not known before it is all here' }),
    bytesDone: z.int().meta({ description: 'Received, and then read' }),
    linesDone: z.int(),
    badLineCount: z.int(),
    badLines: z.array(badLineSchema).meta({ description: 'The first 200 of them' }),
    warnings: z.array(z.object({ code: z.string(), words: z.string() })),
    result: z
      .object({
        hours: z.int(),
        added: z.int(),
        changed: z.int(),
        same: z.int(),
        removed: z.int(),
        from: instantSchema,
        to: instantSchema,
      })
      .nullable()
      .meta({ description: 'What was stored; null until then' }),
    fault: z.string().nullable().meta({ description: 'Why it failed, with the next step' }),
    requestedBy: z.string(),
    createdAt: instantSchema,
    startedAt: instantSchema.nullable(),
    finishedAt: instantSchema.nullable(),
    version: z.int(),
  })
  .meta({ id: 'WeatherImport' });

/** What a table of hours (CSV) may not say itself. */
const tableFacts = {
  columns: z
    .string()
    .max(2000)
    .optional()
    .meta({
      description:
        'Header=field:unit, several with a semicolon between them, such as "Wind=windMps:km/h;When=time"; then no other column is read. ' +
        'Leave it out where the headers name field and unit.',
    }),
  zone: z
    .string()
    .max(100)
    .optional()
    .meta({ description: 'IANA zone of times without an offset of their own' }),
  utcOffsetMin: z.coerce
    .number()
    .int()
    .min(-840)
    .max(840)
    .optional()
    .meta({ description: 'Instead of a zone: minutes that the clock of the file is ahead of UTC all year' }),
  stampIs: z
    .enum(['start', 'end'])
    .optional()
    .meta({ description: 'Whether a time names the start of its hour (default) or its end' }),
  dateOrder: z.enum(['ymd', 'mdy', 'dmy']).optional(),
  linesBeforeHeader: z.coerce.number().int().min(0).max(1000).optional(),
};

export const importWeather = defineEndpoint({
  id: 'importWeather',
  method: 'POST',
  path: `${SEASON}/weather-imports`,
  access: managers,
  params: seasonParams,
  query: z.strictObject({
    target: z.enum(['station', 'site']).meta({ description: 'What the record is for' }),
    key: keySchema.meta({ description: 'Key of the weather station or site in this season' }),
    fileName: writtenText(300),
    format: z.enum(['auto', 'epw', 'csv']).default('auto'),
    keepGood: yesNo.default(false).meta({
      description: 'true: lines that cannot be read are left out; else one of them stops the import',
    }),
    replace: yesNo
      .default(false)
      .meta({ description: 'true: the hours that were there are thrown away first' }),
    ...tableFacts,
  }),
  body: streamBody(WEATHER_FILE_TYPES, WEATHER_FILE_MAX_BYTES),
  responses: { 202: json(importSchema, 'The file is here and waits to be read; watch it by its events') },
  summary: 'Read a weather file in',
  description:
    'The bytes of an hourly EPW or CSV file. The same file twice changes nothing; a value that is missing in a new file never wipes a ' +
    'known one. Where the upload stops on the way, the run becomes failed and nothing is changed.',
  tags,
});

export const listWeatherImports = defineEndpoint({
  id: 'listWeatherImports',
  method: 'GET',
  path: `${SEASON}/weather-imports`,
  access: managers,
  params: seasonParams,
  query: z.strictObject(pageQuery),
  responses: { 200: json(pageOf(importSchema), 'A page of weather files, the newest first') },
  summary: 'List weather files that are or were read in',
  tags,
  paginated: true,
});

export const getWeatherImport = defineEndpoint({
  id: 'getWeatherImport',
  method: 'GET',
  path: `${SEASON}/weather-imports/:importId`,
  access: managers,
  params: ofImport,
  responses: { 200: json(importSchema, 'The run') },
  summary: 'Get the reading of a weather file',
  tags,
});

export const weatherImportEvents = defineEndpoint({
  id: 'weatherImportEvents',
  method: 'GET',
  path: `${SEASON}/weather-imports/:importId/events`,
  access: managers,
  params: ofImport,
  responses: { 200: raw('text/event-stream', 'Server-sent events') },
  summary: 'Watch the reading of a weather file',
  description:
    'As the events of a planning run: each event "run" carries the whole run, and the stream ends when the run has.',
  tags,
});

const feedSchema = z.object({
  source: z.string(),
  state: z.enum(['fresh', 'stale', 'none']),
  issuedAt: instantSchema.nullable(),
  lastGoodAt: instantSchema.nullable(),
  nextDueAt: instantSchema,
  tries: z.int().meta({ description: 'Failed tries in a row' }),
  fault: z.string().nullable().meta({ description: 'Why the last try failed; null: it did not' }),
  words: z.string(),
});

const seriesSchema = z
  .object({
    key: z.string(),
    kind: z.enum(['record', 'forecast']),
    name: z.string(),
    lat: z.number(),
    lon: z.number(),
    source: z.string(),
    typicalYear: z.boolean(),
    from: instantSchema.nullable(),
    to: instantSchema.nullable().meta({ description: 'Start of the last hour' }),
    hours: z.int(),
    missingHours: z.int().meta({ description: 'Between the first and the last hour' }),
    gaps: z.int(),
    rainHours: z.int(),
    windHours: z.int(),
    gustHours: z.int(),
    windows: z.int().meta({ description: 'Results that are kept, computed from these hours' }),
    feed: feedSchema.nullable(),
    words: z.string(),
  })
  .meta({ id: 'WeatherSeries' });

export const listWeatherSeries = defineEndpoint({
  id: 'listWeatherSeries',
  method: 'GET',
  path: `${SEASON}/weather`,
  access: managers,
  params: seasonParams,
  responses: {
    200: json(
      z.object({
        series: z.array(seriesSchema).meta({ description: 'Every record and forecast of the firm' }),
        sites: z.array(
          z.object({
            site: keySchema,
            record: z
              .string()
              .nullable()
              .meta({ description: 'Key of the record that stands for the site; null: there is none' }),
            forecasts: z.array(z.string()).meta({ description: 'Keys of the forecasts for the place' }),
            words: z.string(),
          }),
        ),
      }),
      'What is known of the weather, and how it comes in',
    ),
  },
  summary: 'Show the weather records and forecasts',
  tags,
});

const share = z.number().nullable();

const calendarSchema = z
  .object({
    site: keySchema,
    siteName: z.string(),
    what: z.string().meta({ description: 'What is built, in words' }),
    record: z.object({ key: z.string(), name: z.string(), source: z.string() }),
    years: z.int().meta({ description: 'Different years behind the middle date; 1 for a typical year' }),
    typicalYear: z.boolean(),
    shift: z.object({ from: z.string(), to: z.string(), zone: z.string() }),
    reserveConfidence: z.number(),
    gustFactor: z.number(),
    gustEstimatedShare: z
      .number()
      .meta({ description: 'Share of the hours whose gust was estimated from the mean wind' }),
    statements: z.array(z.string()).meta({ description: 'What the odds rest on and what they leave out' }),
    rows: z.array(
      z.object({
        date: z.string().meta({ description: 'MM-DD' }),
        goodShare: share.meta({
          description: 'Share of known days around the date on which the work could be closed',
        }),
        shrunkGoodShare: share.meta({
          description: 'The same, drawn towards the month as far as the years are few',
        }),
        ownWeight: z.number(),
        goodLow: z.number(),
        goodHigh: z.number(),
        lostMean: share,
        lostP50: share,
        lostP80: share,
        lostP95: share,
        reserveDays: share.meta({ description: 'Days to hold back at reserveConfidence' }),
        hopelessShare: share,
        knownDays: z.int(),
        years: z.int(),
        latestStart: z
          .string()
          .nullable()
          .meta({ description: 'HH:MM on site by which work must begin to be closed on 4 of 5 good days' }),
      }),
    ),
  })
  .meta({ id: 'OddsCalendar' });

const calendarQuery = z.strictObject({
  job: keySchema
    .optional()
    .meta({ description: 'The work of a job at the site, as the season plan packs it' }),
  template: keySchema.optional().meta({ description: 'Or that of one template' }),
  kit: keySchema
    .optional()
    .meta({ description: 'The kit that is built by it; alone: by its template for a build' }),
});
const ofSite = seasonParams.extend({ site: keySchema });

export const getOddsCalendar = defineEndpoint({
  id: 'getOddsCalendar',
  method: 'GET',
  path: `${SEASON}/sites/:site/odds-calendar`,
  access: managers,
  params: ofSite,
  query: calendarQuery,
  responses: { 200: json(calendarSchema, 'The odds of the 366 dates of a year') },
  summary: 'Show the odds of good days at a site',
  description:
    'Counted from the hourly record that stands for the site; not found where there is none. Without job, template and kit the first job at ' +
    'the site is taken. What was counted is kept until the hours or the limits change.',
  tags,
});

export const getOddsCalendarPicture = defineEndpoint({
  id: 'getOddsCalendarPicture',
  method: 'GET',
  path: `${SEASON}/sites/:site/odds-calendar.svg`,
  access: managers,
  params: ofSite,
  query: calendarQuery,
  responses: { 200: raw('image/svg+xml', 'The same as a picture') },
  summary: 'Show the odds of good days at a site as a picture',
  tags,
});
