import { z } from 'zod';
import { API, idSchema, instantSchema, pageOf, pageQuery, secretSchema } from './common.ts';
import { defineEndpoint, empty, formBody, json, LINK_PURPOSES, page } from './endpoint.ts';

const token = z.object({ token: secretSchema });
const purposes = { link: LINK_PURPOSES } as const;

export const linkPage = defineEndpoint({
  id: 'linkPage',
  method: 'GET',
  path: '/l/:token',
  access: purposes,
  params: token,
  query: z.object({ kept: z.string().optional() }),
  responses: { 200: page('What is asked, with the form to answer') },
  summary: 'The page behind a link to somebody without an account',
  description: 'Changes nothing. The page depends on what the link is for.',
  tags: ['links'],
  rate: 'link',
});

const oneOrMore = z.union([z.string().max(2000), z.array(z.string().max(2000)).max(200)]).optional();

export const answerLink = defineEndpoint({
  id: 'answerLink',
  method: 'POST',
  path: '/l/:token',
  access: purposes,
  params: token,
  body: formBody(z.object({ mark: z.string().max(100) }).catchall(oneOrMore)),
  responses: {
    303: empty('Kept: on to the page, which shows it'),
    409: page('What is asked has changed meanwhile; nothing was kept'),
    422: page('The form again, with what is missing'),
  },
  summary: 'Answer by the page of a link',
  description: 'An answer can be changed until the first day begins. The same answer again is one answer.',
  tags: ['links'],
  rate: 'link',
});

const linkSchema = z
  .object({
    id: idSchema,
    purpose: z.string(),
    subjectKind: z.string(),
    subjectId: idSchema,
    recipient: z.object({ kind: z.string(), key: z.string() }),
    createdAt: instantSchema,
    expiresAt: instantSchema,
    usedAt: instantSchema.nullable(),
    revokedAt: instantSchema.nullable(),
  })
  .meta({ id: 'Link', description: 'A link that was sent; its secret is not kept' });

export const listLinks = defineEndpoint({
  id: 'listLinks',
  method: 'GET',
  path: `${API}/links`,
  access: ['manager'],
  query: z.strictObject({
    ...pageQuery,
    purpose: z.enum([...LINK_PURPOSES, 'calendar-feed']).optional(),
    open: z.enum(['true', 'false']).optional().meta({ description: 'true: only those that still work' }),
  }),
  responses: { 200: json(pageOf(linkSchema), 'A page of links, the newest first') },
  summary: 'List links',
  tags: ['links'],
  paginated: true,
});

export const revokeLink = defineEndpoint({
  id: 'revokeLink',
  method: 'POST',
  path: `${API}/links/:linkId/revoke`,
  access: ['manager'],
  params: z.object({ linkId: idSchema }),
  responses: { 200: json(linkSchema, 'It no longer works') },
  summary: 'Withdraw a link',
  tags: ['links'],
});

/** What a calendar can follow. */
export const FEED_KINDS = ['person', 'crew', 'site', 'season'] as const;

export const feedSchema = z
  .object({
    id: idSchema,
    kind: z.enum(FEED_KINDS),
    key: z.string(),
    expiresAt: instantSchema,
    url: z.string().nullable().meta({ description: 'The secret address; shown only when it is made' }),
  })
  .meta({ id: 'CalendarFeed' });
