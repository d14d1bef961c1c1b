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

const tags = ['visits'];
const seeing = ['manager', 'crew', 'customer'] as const;

export const visitStateSchema = z.enum(['planned', 'underway', 'done', 'cancelled']);
const assignmentStateSchema = z.enum(['asked', 'accepted', 'declined', 'cancelled']);

const personOnVisit = z
  .object({
    assignmentId: idSchema
      .nullable()
      .meta({ description: 'Null where the reader may not answer or change it' }),
    key: z.string().nullable(),
    name: z.string().meta({ description: 'First name only for a customer' }),
    role: z.enum(['lead', 'hand', 'trainee', 'casual']),
    fromDay: dateSchema,
    toDay: dateSchema,
    state: assignmentStateSchema,
    phone: z.string().nullable().meta({ description: 'For the manager and the crew of the visit' }),
  })
  .meta({ id: 'PersonOnVisit' });

const siteOnVisit = z
  .object({
    key: z.string(),
    name: z.string(),
    address: z.string().nullable(),
    accessNotes: z.string().nullable(),
    lat: z.number(),
    lon: z.number(),
    zone: z.string(),
    overheadLines: z.string(),
    forkliftOnSite: z.string(),
    gateWidthM: z.number().nullable(),
    slopePct: z.number().nullable(),
    groundKind: z.string().nullable(),
    obstructions: z.string().nullable(),
  })
  .meta({ id: 'SiteOnVisit' });

const summaryShape = {
  id: idSchema,
  season: keySchema,
  job: keySchema,
  title: z.string(),
  visitKind: z.string(),
  state: visitStateSchema,
  crew: z.object({ key: z.string(), name: z.string() }),
  site: z.object({ key: z.string(), name: z.string(), zone: z.string() }),
  startDay: dateSchema,
  endDay: dateSchema,
  releaseDay: dateSchema.meta({ description: 'Last day on which the crew is held' }),
  deliveryDay: dateSchema.nullable(),
  version: versionSchema,
};

export const visitSummarySchema = z.object(summaryShape).meta({ id: 'VisitSummary' });

const liftOnVisit = z
  .object({
    id: idSchema,
    lift: z.string(),
    name: z.string(),
    typeName: z.string(),
    maxGustMps: z.number().nullable().meta({ description: 'Null: unknown, never taken as without limit' }),
    fromDay: dateSchema,
    toDay: dateSchema,
    state: z.string(),
    partner: z.string().nullable(),
  })
  .meta({ id: 'LiftOnVisit' });

const readinessOnVisit = z
  .object({
    key: z.string(),
    title: z.string(),
    responsible: z.string(),
    evidence: z.string(),
    unit: z.string().nullable(),
    mustBeTrue: z.boolean(),
    state: z.string(),
    value: z.number().nullable(),
    dueOn: dateSchema.nullable(),
    version: versionSchema,
  })
  .meta({ id: 'ReadinessOnVisit' });

const visitSchema = z
  .object({
    ...summaryShape,
    site: siteOnVisit,
    siteDays: z.array(z.object({ day: dateSchema, outside: z.boolean(), hours: z.number() })),
    reserveDays: z.array(dateSchema),
    kits: z.array(
      z.object({
        key: z.string(),
        name: z.string(),
        count: z.int(),
        massKg: z.number(),
        heaviestPartKg: z.number(),
      }),
    ),
    people: z.array(personOnVisit),
    lifts: z.array(liftOnVisit),
    equipment: z.array(z.object({ unit: z.string(), name: z.string(), state: z.string() })),
    readiness: z.array(readinessOnVisit),
    deliveryRuns: z.array(
      z.object({
        id: idSchema,
        day: dateSchema,
        truckKind: z.string(),
        state: z.string(),
        haulier: z.string().nullable(),
      }),
    ),
    cautions: z
      .array(z.string())
      .meta({ description: 'What must be read before lifting, wiring or driving' }),
  })
  .meta({ id: 'Visit' });

export const listVisits = defineEndpoint({
  id: 'listVisits',
  method: 'GET',
  path: `${API}/visits`,
  access: seeing,
  query: z.strictObject({
    ...pageQuery,
    season: keySchema.optional(),
    crew: keySchema.optional(),
    site: keySchema.optional(),
    state: visitStateSchema.optional(),
    fromDay: dateSchema.optional().meta({ description: 'Visits that end on this day or later' }),
    toDay: dateSchema.optional().meta({ description: 'Visits that start on this day or earlier' }),
    sort: z.enum(['startDay', '-startDay']).default('startDay'),
  }),
  responses: { 200: json(pageOf(visitSummarySchema), 'A page of visits') },
  summary: 'List visits',
  description:
    'A crew member sees the visits that the member is asked to; a customer those at the own sites.',
  tags,
  paginated: true,
});

export const getVisit = defineEndpoint({
  id: 'getVisit',
  method: 'GET',
  path: `${API}/visits/:visitId`,
  access: seeing,
  params: z.object({ visitId: idSchema }),
  responses: { 200: json(visitSchema, 'The visit') },
  summary: 'Get a visit',
  tags,
  etag: 'sends',
});

export const changeVisitState = defineEndpoint({
  id: 'changeVisitState',
  method: 'PATCH',
  path: `${API}/visits/:visitId`,
  access: ['manager', 'crew'],
  params: z.object({ visitId: idSchema }),
  body: jsonBody(z.strictObject({ state: z.enum(['underway', 'done', 'planned']) })),
  responses: { 200: json(visitSchema, 'The visit') },
  summary: 'Say that a visit has begun or is done',
  description: 'A crew member may do so for a visit of the own, as its lead.',
  tags,
  etag: 'requires',
});

const assignmentSchema = z
  .object({
    id: idSchema,
    visitId: idSchema,
    job: keySchema,
    title: z.string(),
    site: z.string(),
    person: keySchema,
    personName: z.string(),
    role: z.string(),
    fromDay: dateSchema,
    toDay: dateSchema,
    state: assignmentStateSchema,
    answeredAt: instantSchema.nullable(),
    answerNote: z.string().nullable(),
    version: versionSchema,
  })
  .meta({ id: 'Assignment' });

export const listAssignments = defineEndpoint({
  id: 'listAssignments',
  method: 'GET',
  path: `${API}/assignments`,
  access: ['manager', 'crew'],
  query: z.strictObject({
    ...pageQuery,
    season: keySchema.optional(),
    person: keySchema.optional(),
    state: assignmentStateSchema.optional(),
  }),
  responses: { 200: json(pageOf(assignmentSchema), 'A page of assignments, by first day') },
  summary: 'List assignments',
  description: 'A crew member sees the own ones.',
  tags,
  paginated: true,
});

const ANSWERABLE = ['assignment', 'liftHold', 'deliveryRun', 'readinessItem', 'visit'] as const;

export const answerResultSchema = z
  .object({
    confirmationId: idSchema,
    subjectKind: z.enum(ANSWERABLE),
    subjectId: idSchema,
    state: z.string(),
  })
  .meta({ id: 'AnswerResult' });

export const answerAssignment = defineEndpoint({
  id: 'answerAssignment',
  method: 'POST',
  path: `${API}/assignments/:assignmentId/answer`,
  access: ['manager', 'crew'],
  params: z.object({ assignmentId: idSchema }),
  body: jsonBody(
    z.strictObject({
      answer: z.enum(['accepted', 'declined']),
      note: writtenText(1000).nullable().default(null),
    }),
  ),
  responses: { 200: json(answerResultSchema, 'The answer is kept') },
  summary: 'Answer an assignment: the own one, or as heard by the manager',
  tags,
  idempotency: 'optional',
});

const mySiteSchema = siteOnVisit
  .omit({ obstructions: true })
  .extend({ season: keySchema })
  .meta({ id: 'MySite' });

export const listMySites = defineEndpoint({
  id: 'listMySites',
  method: 'GET',
  path: `${API}/my/sites`,
  access: ['crew', 'customer'],
  responses: { 200: json(z.object({ items: z.array(mySiteSchema) }), 'The sites') },
  summary: 'Sites of the own visits (crew) or the own sites (customer)',
  tags: ['my own'],
});

const myJobSchema = z
  .object({
    season: keySchema,
    key: keySchema,
    title: z.string(),
    site: keySchema,
    visitKind: z.string(),
    promisedBy: dateSchema.nullable(),
    visitId: idSchema.nullable(),
    startDay: dateSchema.nullable(),
    readiness: z.array(readinessOnVisit),
  })
  .meta({ id: 'MyJob' });

export const listMyJobs = defineEndpoint({
  id: 'listMyJobs',
  method: 'GET',
  path: `${API}/my/jobs`,
  access: ['customer'],
  responses: {
    200: json(z.object({ items: z.array(myJobSchema) }), 'The jobs at the own sites, without costs'),
  },
  summary: 'The own jobs of a customer',
  tags: ['my own'],
});

const requestSchema = z
  .object({
    kind: z.enum(['liftHold', 'deliveryRun']),
    id: idSchema,
    what: z.string(),
    site: z.object({ name: z.string(), address: z.string().nullable(), lat: z.number(), lon: z.number() }),
    fromDay: dateSchema,
    toDay: dateSchema,
    state: z.string(),
    reference: z.string().nullable(),
  })
  .meta({ id: 'PartnerRequest' });

export const listMyRequests = defineEndpoint({
  id: 'listMyRequests',
  method: 'GET',
  path: `${API}/my/requests`,
  access: ['partner'],
  responses: { 200: json(z.object({ items: z.array(requestSchema) }), 'What is asked of the partner') },
  summary: 'The own requests of a partner',
  tags: ['my own'],
});

export const answerRequest = defineEndpoint({
  id: 'answerRequest',
  method: 'POST',
  path: `${API}/requests/:kind/:requestId/answer`,
  access: ['manager', 'partner'],
  params: z.object({ kind: z.enum(['liftHold', 'deliveryRun']), requestId: idSchema }),
  body: jsonBody(
    z
      .strictObject({
        answer: z.enum(['accepted', 'declined', 'proposed']),
        proposedDay: dateSchema.nullable().default(null),
        reference: writtenText(200).nullable().default(null),
        note: writtenText(1000).nullable().default(null),
      })
      .refine((body) => (body.answer === 'proposed') === (body.proposedDay !== null), {
        path: ['proposedDay'],
        message: 'A day belongs to the answer "proposed", and only to that.',
      }),
  ),
  responses: { 200: json(answerResultSchema, 'The answer is kept') },
  summary: 'Answer a request for a lift or a delivery: the own one, or as heard by the manager',
  tags,
  idempotency: 'optional',
});
