import { z } from 'zod';
import {
  centsSchema,
  dateSchema,
  idSchema,
  instantSchema,
  keySchema,
  pageOf,
  pageQuery,
  versionSchema,
  writtenText,
} from './common.ts';
import { defineEndpoint, json, jsonBody, raw } from './endpoint.ts';
import { SEASON, seasonParams } from './seasons.ts';

const tags = ['plans'];
const managers = ['manager'] as const;
const ofPlan = seasonParams.extend({ planId: idSchema });
const ofRun = seasonParams.extend({ runId: idSchema });

const optionsSchema = z.strictObject({
  seed: z
    .int()
    .min(0)
    .max(4_294_967_295)
    .optional()
    .meta({ description: 'The same problem, seed and iterations give the same plan' }),
  iterations: z.int().min(1).max(100_000_000).optional(),
  seconds: z
    .int()
    .min(1)
    .max(86_400)
    .optional()
    .meta({ description: 'Stop after so long and keep the best plan' }),
  title: writtenText(200).optional(),
});

const runSchema = z
  .object({
    id: idSchema,
    kind: z.string(),
    state: z.enum(['queued', 'running', 'done', 'failed', 'stopped']),
    options: z.record(z.string(), z.unknown()),
    progress: z.unknown().nullable(),
    result: z
      .unknown()
      .nullable()
      .meta({ description: 'What came out beside the plan, such as why there is none' }),
    fault: z.unknown().nullable(),
    planId: idSchema.nullable(),
    stopRequested: z.boolean(),
    createdAt: instantSchema,
    startedAt: instantSchema.nullable(),
    finishedAt: instantSchema.nullable(),
    version: z.int(),
  })
  .meta({ id: 'PlanRun' });

export const requestPlanRun = defineEndpoint({
  id: 'requestPlanRun',
  method: 'POST',
  path: `${SEASON}/plan-runs`,
  access: managers,
  params: seasonParams,
  body: jsonBody(optionsSchema),
  responses: { 202: json(runSchema, 'It waits for a planner; watch it by its events') },
  summary: 'Plan the season',
  tags,
  idempotency: 'optional',
});

export const listPlanRuns = defineEndpoint({
  id: 'listPlanRuns',
  method: 'GET',
  path: `${SEASON}/plan-runs`,
  access: managers,
  params: seasonParams,
  query: z.strictObject(pageQuery),
  responses: { 200: json(pageOf(runSchema), 'A page of runs, the newest first') },
  summary: 'List planning runs',
  tags,
  paginated: true,
});

export const getPlanRun = defineEndpoint({
  id: 'getPlanRun',
  method: 'GET',
  path: `${SEASON}/plan-runs/:runId`,
  access: managers,
  params: ofRun,
  responses: { 200: json(runSchema, 'The run') },
  summary: 'Get a planning run',
  tags,
});

export const stopPlanRun = defineEndpoint({
  id: 'stopPlanRun',
  method: 'POST',
  path: `${SEASON}/plan-runs/:runId/stop`,
  access: managers,
  params: ofRun,
  responses: { 202: json(runSchema, 'It will stop and keep the best plan so far') },
  summary: 'Stop a planning run',
  tags,
});

export const planRunEvents = defineEndpoint({
  id: 'planRunEvents',
  method: 'GET',
  path: `${SEASON}/plan-runs/:runId/events`,
  access: managers,
  params: ofRun,
  responses: { 200: raw('text/event-stream', 'Server-sent events') },
  summary: 'Watch a planning run',
  description:
    'Each event "run" carries the whole run as JSON and its version as id. The stream ends when the run has. After a break, send ' +
    'Last-Event-ID to hear only of what is newer. A comment comes every few seconds so that proxies keep the stream open.',
  tags,
});

const planInfo = {
  id: idSchema,
  number: z.int(),
  status: z.enum(['draft', 'published', 'superseded', 'discarded']),
  title: z.string().nullable(),
  seed: z.number(),
  iterations: z.number(),
  method: z.string(),
  totalCents: centsSchema,
  boundCents: centsSchema
    .nullable()
    .meta({ description: 'No valid plan can cost less; null: none was proved' }),
  boundMethod: z.string().nullable(),
  createdAt: instantSchema,
  publishedAt: instantSchema.nullable(),
  endedAt: instantSchema.nullable(),
  version: versionSchema,
};
const planInfoSchema = z.object(planInfo).meta({ id: 'PlanInfo' });

const bindingSchema = z.object({
  kind: z.string(),
  data: z.record(z.string(), z.union([z.string(), z.number()])),
});

const planSchema = z
  .object({
    ...planInfo,
    currency: z.string(),
    visits: z.array(
      z.object({
        job: z.string(),
        crew: z.string(),
        days: z.array(dateSchema),
        reserve: z.array(dateSchema),
        casualHands: z.array(z.string()),
        liftUnit: z.string().nullable(),
        equipment: z.array(z.string()),
        deliveryDay: dateSchema.nullable(),
        fromBase: z.boolean(),
        bindings: z.array(bindingSchema),
      }),
    ),
    notPlanned: z.array(z.object({ job: z.string(), bindings: z.array(bindingSchema) })),
    costLines: z.array(
      z.object({
        kind: z.string(),
        job: z.string().nullable(),
        crew: z.string().nullable(),
        lift: z.string().nullable(),
        warehouse: z.string().nullable(),
        cents: centsSchema,
      }),
    ),
    odds: z.unknown().nullable(),
    seasonChangesSince: z
      .int()
      .meta({ description: 'Rows of the season that changed after this plan was drafted' }),
  })
  .meta({ id: 'Plan' });

const placeSchema = z.object({ start: dateSchema, end: dateSchema, crew: z.string() });

const differenceSchema = z
  .object({
    fromPlanId: idSchema.nullable(),
    toPlanId: idSchema,
    added: z.array(z.object({ job: z.string(), to: placeSchema })),
    moved: z.array(z.object({ job: z.string(), from: placeSchema, to: placeSchema })),
    dropped: z.array(z.object({ job: z.string(), from: placeSchema })),
    unchanged: z.int(),
    fromTotalCents: centsSchema.nullable(),
    toTotalCents: centsSchema,
  })
  .meta({ id: 'PlanDifference' });

export const listPlans = defineEndpoint({
  id: 'listPlans',
  method: 'GET',
  path: `${SEASON}/plans`,
  access: managers,
  params: seasonParams,
  query: z.strictObject({ ...pageQuery, status: planInfo.status.optional() }),
  responses: { 200: json(pageOf(planInfoSchema), 'A page of plans, the newest first') },
  summary: 'List plans',
  tags,
  paginated: true,
});

export const getPlan = defineEndpoint({
  id: 'getPlan',
  method: 'GET',
  path: `${SEASON}/plans/:planId`,
  access: managers,
  params: ofPlan,
  responses: { 200: json(planSchema, 'The plan with its visits, reasons and cost lines') },
  summary: 'Get a plan',
  tags,
  etag: 'sends',
});

export const getPlanDifference = defineEndpoint({
  id: 'getPlanDifference',
  method: 'GET',
  path: `${SEASON}/plans/:planId/difference`,
  access: managers,
  params: ofPlan,
  responses: { 200: json(differenceSchema, 'What moves, comes and goes') },
  summary: 'What a plan changes',
  description:
    'For a draft: against the plan that is published now. For a published plan: against the one before it.',
  tags,
});

const counts = z.object({ added: z.int(), changed: z.int(), cancelled: z.int() });

const publishReport = z
  .object({
    planId: idSchema,
    difference: differenceSchema.omit({ fromPlanId: true, toPlanId: true }),
    visits: counts.extend({ unchanged: z.int() }),
    assignments: counts,
    lifts: counts,
    deliveries: z.int().meta({ description: 'Messages written' }),
    reminders: z.int(),
  })
  .meta({ id: 'PublishReport' });

export const publishPlan = defineEndpoint({
  id: 'publishPlan',
  method: 'POST',
  path: `${SEASON}/plans/:planId/publish`,
  access: managers,
  params: ofPlan,
  body: jsonBody(
    z.strictObject({
      seasonChangesSeen: z.int().min(0).default(0).meta({
        description: 'The seasonChangesSince that was shown with the plan; a different number now is refused',
      }),
    }),
  ),
  responses: { 200: json(publishReport, 'It is published and everybody concerned will hear of it') },
  summary: 'Publish a draft plan',
  description:
    'All or nothing: the plan published before is superseded, visits, assignments and holds become those of this plan, and messages ' +
    'and reminders are written. Where rows of the season changed after the plan was drafted, the caller says so by seasonChangesSeen, ' +
    'because the plan was not checked against them.',
  tags,
  etag: 'requires',
  idempotency: 'required',
});

export const discardPlan = defineEndpoint({
  id: 'discardPlan',
  method: 'POST',
  path: `${SEASON}/plans/:planId/discard`,
  access: managers,
  params: ofPlan,
  responses: { 200: json(planInfoSchema, 'It is put away') },
  summary: 'Put a draft away',
  tags,
  etag: 'requires',
});

const ofJob = seasonParams.extend({ job: keySchema });
const pinSchema = z
  .object({
    job: keySchema,
    start: dateSchema.nullable(),
    crew: keySchema.nullable(),
    reason: z.string().nullable(),
    version: versionSchema.meta({ description: 'Version of the job' }),
  })
  .meta({ id: 'Pin' });

export const putPin = defineEndpoint({
  id: 'putPin',
  method: 'PUT',
  path: `${SEASON}/pins/:job`,
  access: managers,
  params: ofJob,
  body: jsonBody(
    z
      .strictObject({
        start: dateSchema.nullable().default(null),
        crew: keySchema.nullable().default(null),
        reason: writtenText(500).nullable().default(null),
      })
      .refine((pin) => pin.start !== null || pin.crew !== null, {
        message: 'A pin holds a day, a crew, or both.',
      }),
  ),
  responses: { 200: json(pinSchema, 'The next plan keeps it') },
  summary: 'Pin a job to a day, a crew, or both',
  tags,
  etag: 'requires',
});

export const removePin = defineEndpoint({
  id: 'removePin',
  method: 'DELETE',
  path: `${SEASON}/pins/:job`,
  access: managers,
  params: ofJob,
  responses: { 200: json(pinSchema, 'The next plan may move the job') },
  summary: 'Take a pin out',
  tags,
  etag: 'requires',
});
