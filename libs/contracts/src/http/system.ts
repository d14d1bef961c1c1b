import { z } from 'zod';
import { isProblemCode } from '../errors/problem-codes.ts';
import { API } from './common.ts';
import { defineEndpoint, json, page, raw } from './endpoint.ts';

const partHealth = z.object({
  ok: z.boolean(),
  detail: z.string().meta({ description: 'What was found, in plain words' }),
});

const healthSchema = z
  .object({
    ok: z.boolean(),
    version: z.string(),
    parts: z.record(z.string(), partHealth),
  })
  .meta({ id: 'Health' });

export type Health = z.infer<typeof healthSchema>;

const tags = ['server'];

export const healthLive = defineEndpoint({
  id: 'healthLive',
  method: 'GET',
  path: '/health/live',
  access: 'public',
  responses: { 200: json(healthSchema, 'The process runs') },
  summary: 'Whether the process runs',
  description: 'Asks nothing else, so a failing database never makes a supervisor restart this process.',
  tags,
});

export const healthReady = defineEndpoint({
  id: 'healthReady',
  method: 'GET',
  path: '/health/ready',
  access: 'public',
  responses: {
    200: json(healthSchema, 'All that is needed answers'),
    503: json(healthSchema, 'Something needed does not answer'),
  },
  summary: 'Whether requests can be served',
  description: 'Asks the database, its migrations and the queue.',
  tags,
});

export const openApiDocument = defineEndpoint({
  id: 'openApiDocument',
  method: 'GET',
  path: `${API}/openapi.json`,
  access: 'public',
  responses: { 200: raw('application/json', 'The OpenAPI 3.1 document') },
  summary: 'This interface as an OpenAPI document',
  tags,
});

export const problemPageOf = defineEndpoint({
  id: 'problemPage',
  method: 'GET',
  path: '/problems/:code',
  access: 'public',
  params: z.object({ code: z.string().refine(isProblemCode, 'a code of the table of problems') }),
  responses: { 200: page('What the problem means and what to do') },
  summary: 'A kind of problem, explained',
  description: 'The type of every problem that this interface answers with is the address of such a page.',
  tags,
});

export const pageStyle = defineEndpoint({
  id: 'pageStyle',
  method: 'GET',
  path: '/assets/page.css',
  access: 'public',
  responses: { 200: raw('text/css', 'Style sheet') },
  summary: 'Style of the plain pages',
  tags,
});

export const frontDoor = defineEndpoint({
  id: 'frontDoor',
  method: 'GET',
  path: '/',
  access: 'public',
  responses: { 303: { description: 'Go to the program', mediaType: null, schema: null } },
  summary: 'The way in',
  tags,
});
