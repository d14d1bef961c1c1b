import { z } from 'zod';
import { API, idSchema, keySchema, pageOf, pageQuery, secretSchema } from './common.ts';
import { defineEndpoint, empty, json, jsonBody, raw } from './endpoint.ts';
import { FEED_KINDS, feedSchema } from './links.ts';

const tags = ['calendars'];

export const createCalendarFeed = defineEndpoint({
  id: 'createCalendarFeed',
  method: 'POST',
  path: `${API}/calendar-feeds`,
  access: ['manager', 'crew'],
  body: jsonBody(
    z.strictObject({
      season: keySchema,
      kind: z.enum(FEED_KINDS),
      key: keySchema.meta({ description: 'Key of the person, crew, site or season' }),
    }),
  ),
  responses: { 201: json(feedSchema, 'The secret address of the calendar') },
  summary: 'Make the secret address of a calendar to follow',
  description:
    'A crew member may make one for the own visits only. An older address for the same thing stops working.',
  tags,
});

export const listCalendarFeeds = defineEndpoint({
  id: 'listCalendarFeeds',
  method: 'GET',
  path: `${API}/calendar-feeds`,
  access: ['manager', 'crew'],
  query: z.strictObject(pageQuery),
  responses: { 200: json(pageOf(feedSchema), 'A page of calendars that can be followed, the newest first') },
  summary: 'List the calendars that can be followed',
  description: 'A crew member sees the own ones. The secret addresses are not shown again.',
  tags,
  paginated: true,
});

export const removeCalendarFeed = defineEndpoint({
  id: 'removeCalendarFeed',
  method: 'DELETE',
  path: `${API}/calendar-feeds/:feedId`,
  access: ['manager', 'crew'],
  params: z.object({ feedId: idSchema }),
  responses: { 204: empty('The address no longer works') },
  summary: 'Withdraw the secret address of a calendar',
  tags,
});

export const calendarFeed = defineEndpoint({
  id: 'calendarFeed',
  method: 'GET',
  path: '/calendar/:token.ics',
  access: { feed: true },
  params: z.object({ token: secretSchema }),
  responses: { 200: raw('text/calendar', 'The calendar (RFC 5545)') },
  summary: 'A calendar to follow',
  description: 'Carries an ETag. It ends with the account of the one who made its address.',
  tags,
  rate: 'link',
});
