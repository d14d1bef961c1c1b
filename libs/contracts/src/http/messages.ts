import { z } from 'zod';
import {
  API,
  dateSchema,
  idSchema,
  instantSchema,
  keySchema,
  pageOf,
  pageQuery,
  versionSchema,
} from './common.ts';
import { defineEndpoint, json, jsonBody } from './endpoint.ts';
import { SEASON, seasonParams } from './seasons.ts';

const tags = ['messages'];
const managers = ['manager'] as const;

export const deliveryStateSchema = z.enum([
  'pending',
  'sending',
  'handing_over',
  'sent',
  'failed',
  'uncertain',
  'held',
  'cancelled',
]);

const recipientSchema = z.object({
  kind: z.enum(['person', 'customer', 'partner', 'user']),
  key: z.string(),
});

const deliveryInfo = {
  id: idSchema,
  state: deliveryStateSchema,
  channel: z.string(),
  recipient: recipientSchema,
  address: z.string().nullable().meta({ description: 'Null: none is known, so the message cannot be sent' }),
  template: z.string(),
  subject: z.string().nullable().meta({ description: 'Null until it has been written for sending' }),
  visitId: idSchema.nullable(),
  attempts: z.int(),
  notBefore: instantSchema,
  createdAt: instantSchema,
  sentAt: instantSchema.nullable(),
  lastFault: z.string().nullable(),
  version: versionSchema,
};
const deliverySummary = z.object(deliveryInfo).meta({ id: 'DeliverySummary' });
const deliverySchema = z
  .object({
    ...deliveryInfo,
    language: z.string(),
    body: z.string().nullable().meta({ description: 'The text as sent; links in it are masked' }),
  })
  .meta({ id: 'Delivery' });

export const listDeliveries = defineEndpoint({
  id: 'listDeliveries',
  method: 'GET',
  path: `${API}/deliveries`,
  access: managers,
  query: z.strictObject({
    ...pageQuery,
    season: keySchema.optional(),
    visitId: idSchema.optional(),
    state: deliveryStateSchema.optional(),
  }),
  responses: { 200: json(pageOf(deliverySummary), 'A page of messages, the newest first') },
  summary: 'List messages',
  tags,
  paginated: true,
});

const ofDelivery = z.object({ deliveryId: idSchema });

export const getDelivery = defineEndpoint({
  id: 'getDelivery',
  method: 'GET',
  path: `${API}/deliveries/:deliveryId`,
  access: managers,
  params: ofDelivery,
  responses: { 200: json(deliverySchema, 'The message') },
  summary: 'Get a message',
  tags,
  etag: 'sends',
});

export const decideDelivery = defineEndpoint({
  id: 'decideDelivery',
  method: 'POST',
  path: `${API}/deliveries/:deliveryId/decision`,
  access: managers,
  params: ofDelivery,
  body: jsonBody(
    z.strictObject({
      as: z.enum(['send', 'arrived', 'cancel']).meta({
        description:
          'send: (again) for uncertain, failed, held; arrived: it is known to have come; cancel: do not send',
      }),
    }),
  ),
  responses: { 200: json(deliverySchema, 'The message') },
  summary: 'Decide on a message that is uncertain, failed or held',
  tags,
  etag: 'requires',
});

export const releaseHeld = defineEndpoint({
  id: 'releaseHeld',
  method: 'POST',
  path: `${API}/deliveries/release-held`,
  access: managers,
  responses: { 200: json(z.object({ released: z.int() }), 'How many go out now') },
  summary: 'Let all held messages go that have an address',
  tags,
});

const reminderSchema = z
  .object({
    id: idSchema,
    visitId: idSchema,
    purpose: z.string(),
    recipient: recipientSchema,
    localDate: dateSchema,
    localTime: z.string(),
    zone: z.string(),
    dueAt: instantSchema,
    state: z.enum(['pending', 'done', 'cancelled', 'skipped']),
    doneAt: instantSchema.nullable(),
  })
  .meta({ id: 'Reminder' });

export const listReminders = defineEndpoint({
  id: 'listReminders',
  method: 'GET',
  path: `${SEASON}/reminders`,
  access: managers,
  params: seasonParams,
  query: z.strictObject({
    ...pageQuery,
    visitId: idSchema.optional(),
    state: reminderSchema.shape.state.optional(),
  }),
  responses: { 200: json(pageOf(reminderSchema), 'A page of reminders in the order of their moments') },
  summary: 'List reminders',
  tags,
  paginated: true,
});
