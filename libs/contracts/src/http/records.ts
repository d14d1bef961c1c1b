import { z } from 'zod';
import type { SeasonTable } from '../season-file/table.ts';
import { type SeasonTableName, seasonTable, seasonTableNames } from '../season-file/tables.ts';
import { pageOf, pageQuery, versionSchema } from './common.ts';
import { defineEndpoint, type EndpointSpec, empty, json, jsonBody } from './endpoint.ts';
import { changesOf, filtersOf, keyParamsOf, newRowOf, rowSchemaOf, sortsOf } from './row-schemas.ts';
import { SEASON, seasonParams } from './seasons.ts';

/** The five endpoints of one season table. */
export interface RecordEndpoints {
  readonly table: SeasonTableName;
  readonly list: EndpointSpec;
  readonly get: EndpointSpec;
  readonly add: EndpointSpec;
  readonly change: EndpointSpec;
  readonly remove: EndpointSpec;
}

const kebab = (name: string) => name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
const capital = (name: string) => name.charAt(0).toUpperCase() + name.slice(1);

function recordEndpoints(name: SeasonTableName): RecordEndpoints {
  const table: SeasonTable = seasonTable(name);
  const collection = `${SEASON}/${kebab(name)}`;
  const item = `${collection}/${table.key.map((column) => `:${column}`).join('/')}`;
  const itemParams = seasonParams.extend(keyParamsOf(table));
  const recordSchema = z
    .object({ version: versionSchema, row: rowSchemaOf(table).meta({ id: `${capital(name)}Row` }) })
    .meta({ id: `${capital(name)}Record` });
  const shared = { access: ['manager'], tags: [table.sheet] } as const;
  const what = table.sheet.toLowerCase();
  return {
    table: name,
    list: defineEndpoint({
      ...shared,
      id: `list${capital(name)}`,
      method: 'GET',
      path: collection,
      params: seasonParams,
      query: z.strictObject({ ...pageQuery, ...filtersOf(table), sort: z.enum(sortsOf(table)).optional() }),
      responses: { 200: json(pageOf(recordSchema), `A page of ${what}`) },
      summary: `List ${what}`,
      description: table.about,
      paginated: true,
    }) as unknown as EndpointSpec,
    get: defineEndpoint({
      ...shared,
      id: `get${capital(name)}`,
      method: 'GET',
      path: item,
      params: itemParams,
      responses: { 200: json(recordSchema, 'The row') },
      summary: `Get one of ${what}`,
      etag: 'sends',
    }) as unknown as EndpointSpec,
    add: defineEndpoint({
      ...shared,
      id: `add${capital(name)}`,
      method: 'POST',
      path: collection,
      params: seasonParams,
      body: jsonBody(newRowOf(table)),
      responses: { 201: json(recordSchema, 'The new row') },
      summary: `Add to ${what}`,
      etag: 'sends',
      idempotency: 'optional',
    }) as unknown as EndpointSpec,
    change: defineEndpoint({
      ...shared,
      id: `change${capital(name)}`,
      method: 'PATCH',
      path: item,
      params: itemParams,
      body: jsonBody(changesOf(table)),
      responses: { 200: json(recordSchema, 'The changed row') },
      summary: `Change one of ${what}`,
      description: 'Send only what changes; null empties a field that may be empty.',
      etag: 'requires',
    }) as unknown as EndpointSpec,
    remove: defineEndpoint({
      ...shared,
      id: `remove${capital(name)}`,
      method: 'DELETE',
      path: item,
      params: itemParams,
      responses: { 204: empty('It is gone') },
      summary: `Remove one of ${what}`,
      description: 'Refused while something else refers to it.',
      etag: 'requires',
    }) as unknown as EndpointSpec,
  };
}

/** The endpoints of all season tables: one table of the season file, one address. */
export const recordEndpointsOf: readonly RecordEndpoints[] = seasonTableNames.map(recordEndpoints);
