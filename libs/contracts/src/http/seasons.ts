import { z } from 'zod';
import { season as seasonTable } from '../season-file/season.ts';
import { API, idSchema, keySchema, versionSchema, yesNo } from './common.ts';
import { defineEndpoint, fileBody, json, jsonBody, raw } from './endpoint.ts';
import { changesOf, rowSchemaOf } from './row-schemas.ts';

export const WORKBOOK = 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet';
/** Largest season file or workbook that is read. */
export const UPLOAD_MAX_BYTES = 20_000_000;

const tags = ['seasons'];
const managers = ['manager'] as const;

/** Path of one season. */
export const SEASON = `${API}/seasons/:season`;
export const seasonParams = z.object({ season: keySchema });

const seasonSchema = z
  .object({
    id: idSchema,
    version: versionSchema,
    row: rowSchemaOf(seasonTable as never).meta({ id: 'SeasonRow' }),
  })
  .meta({ id: 'Season' });

export const listSeasons = defineEndpoint({
  id: 'listSeasons',
  method: 'GET',
  path: `${API}/seasons`,
  access: managers,
  responses: {
    200: json(z.object({ items: z.array(seasonSchema) }), 'All seasons of the firm, the latest first'),
  },
  summary: 'List seasons',
  tags,
});

export const getSeason = defineEndpoint({
  id: 'getSeason',
  method: 'GET',
  path: SEASON,
  access: managers,
  params: seasonParams,
  responses: { 200: json(seasonSchema, 'The season') },
  summary: 'Get a season',
  tags,
  etag: 'sends',
});

export const changeSeason = defineEndpoint({
  id: 'changeSeason',
  method: 'PATCH',
  path: SEASON,
  access: managers,
  params: seasonParams,
  body: jsonBody(changesOf(seasonTable as never)),
  responses: { 200: json(seasonSchema, 'The changed season') },
  summary: 'Change the season itself: its days, rates, quiet hours',
  tags,
  etag: 'requires',
});

const tableChange = z.object({
  added: z.array(z.string()),
  changed: z.array(z.string()),
  removed: z.array(z.string()),
  unchanged: z.int(),
});

const importReport = z
  .object({
    dryRun: z.boolean(),
    season: z.string().meta({ description: 'Key of the season' }),
    seasonState: z.enum(['added', 'changed', 'unchanged']),
    notes: z.array(z.string()),
    tables: z
      .record(z.string(), tableChange)
      .meta({ description: 'By table: the keys of rows that come, change and go' }),
  })
  .meta({ id: 'ImportReport' });

export const importSeason = defineEndpoint({
  id: 'importSeason',
  method: 'POST',
  path: `${API}/seasons/import`,
  access: managers,
  query: z.strictObject({
    dryRun: yesNo.default(false).meta({ description: 'true: say what would change, and change nothing' }),
  }),
  body: fileBody(['application/json', WORKBOOK], UPLOAD_MAX_BYTES),
  responses: { 200: json(importReport, 'What changed, or would change') },
  summary: 'Read a season file (JSON or workbook)',
  description:
    'The season of that key becomes equal to the file, all or nothing; rows that the file lacks are removed, except where ' +
    'something published refers to them. A file with faults is refused with all of them, each with its table, row and column. ' +
    'The same file again changes nothing.',
  tags,
});

export const exportSeason = defineEndpoint({
  id: 'exportSeason',
  method: 'GET',
  path: `${SEASON}/export`,
  access: managers,
  params: seasonParams,
  query: z.strictObject({ format: z.enum(['json', 'xlsx']).default('json') }),
  responses: { 200: raw('application/octet-stream', 'The season file as JSON or as a workbook') },
  summary: 'Write the season file',
  tags,
});
