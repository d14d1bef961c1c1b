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
  writtenText,
} from './common.ts';
import { defineEndpoint, json, jsonBody } from './endpoint.ts';
import { SEASON, seasonParams } from './seasons.ts';

const tags = ['answers'];
const managers = ['manager'] as const;

const answerSchema = z
  .object({
    id: idSchema,
    source: z.enum(['link', 'mail', 'manager', 'account']),
    subjectKind: z.string(),
    subjectId: idSchema,
    about: z.string(),
    answer: z.string(),
    proposedDay: dateSchema.nullable(),
    note: z.string().nullable(),
    value: z.number().nullable(),
    at: instantSchema,
  })
  .meta({ id: 'Answer' });

export const listAnswers = defineEndpoint({
  id: 'listAnswers',
  method: 'GET',
  path: `${API}/answers`,
  access: managers,
  query: z.strictObject({ ...pageQuery, subjectKind: z.string().max(40).optional() }),
  responses: { 200: json(pageOf(answerSchema), 'A page of answers, the newest first') },
  summary: 'List answers',
  tags,
  paginated: true,
});

export const WHAT_NEXT_KINDS = [
  'advice-turned',
  'assignment-declined',
  'assignment-unanswered',
  'lift-declined',
  'lift-unconfirmed',
  'delivery-run-unconfirmed',
  'other-date-proposed',
  'readiness-claimed',
  'readiness-refused',
  'readiness-overdue',
  'message-uncertain',
  'message-failed',
  'message-held',
  'plan-refused',
] as const;

const whatNextItem = z
  .object({
    kind: z.enum(WHAT_NEXT_KINDS),
    title: z.string().meta({ description: 'What it is about, in plain words' }),
    nextStep: z.string(),
    since: instantSchema.nullable(),
    dueOn: dateSchema
      .nullable()
      .meta({ description: 'The day by which it should be settled, such as the start of the visit' }),
    subjectKind: z.string(),
    subjectId: idSchema,
    season: keySchema.nullable(),
    job: keySchema.nullable(),
    visitId: idSchema.nullable(),
  })
  .meta({ id: 'WhatNextItem' });

export const whatNext = defineEndpoint({
  id: 'whatNext',
  method: 'GET',
  path: `${API}/what-next`,
  access: managers,
  query: z.strictObject({ season: keySchema.optional() }),
  responses: {
    200: json(
      z.object({
        asOf: instantSchema,
        items: z.array(whatNextItem),
        more: z
          .record(z.string(), z.int())
          .meta({ description: 'By kind: how many more there are than are listed' }),
      }),
      'What needs the manager, the most pressing first',
    ),
  },
  summary: 'What needs the manager now',
  tags,
});

const judged = z
  .object({
    job: keySchema,
    key: keySchema,
    state: z.enum(['accepted', 'refused', 'waived', 'open']),
    version: versionSchema,
  })
  .meta({ id: 'JudgedItem' });

export const judgeReadinessItem = defineEndpoint({
  id: 'judgeReadinessItem',
  method: 'POST',
  path: `${SEASON}/readiness-items/:job/:key/judgement`,
  access: managers,
  params: seasonParams.extend({ job: keySchema, key: keySchema }),
  body: jsonBody(
    z
      .strictObject({
        as: z.enum(['accepted', 'returned', 'waived']),
        remark: writtenText(1000).nullable().default(null),
      })
      .refine((body) => body.as !== 'returned' || body.remark !== null, {
        path: ['remark'],
        message: 'Say what is missing, so that the one who does it knows.',
      }),
  ),
  responses: { 200: json(judged, 'The item') },
  summary: 'Accept a readiness item that is said to be ready, return it, or do without it',
  tags,
  etag: 'requires',
});

const auditSchema = z
  .object({
    id: z.string(),
    at: instantSchema,
    actor: z.object({
      kind: z.enum(['user', 'link', 'system']),
      id: z.string().nullable(),
      name: z.string(),
    }),
    action: z.string(),
    subjectKind: z.string(),
    subjectId: z.string().nullable(),
    subjectKey: z.string().nullable(),
    before: z.unknown().nullable(),
    after: z.unknown().nullable(),
  })
  .meta({ id: 'AuditEntry' });

export const listAudit = defineEndpoint({
  id: 'listAudit',
  method: 'GET',
  path: `${API}/audit`,
  access: managers,
  query: z.strictObject({
    ...pageQuery,
    season: keySchema.optional(),
    subjectKind: z.string().max(40).optional(),
    subjectId: idSchema.optional(),
  }),
  responses: { 200: json(pageOf(auditSchema), 'A page of changes, the newest first') },
  summary: 'Who changed what',
  tags: ['audit'],
  paginated: true,
});
