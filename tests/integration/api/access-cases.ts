import type { EndpointSpec, Role } from '../../../libs/contracts/src/http/endpoint.ts';
import { recordEndpointsOf } from '../../../libs/contracts/src/http/records.ts';
import { EMPTY_KEY_PART } from '../../../libs/contracts/src/http/row-schemas.ts';
import { seasonTable } from '../../../libs/contracts/src/season-file/tables.ts';
import { importRecord } from '../../../libs/data/src/weather/import-record.ts';
import { endImport, openImport } from '../../../libs/data/src/weather/imports.repository.ts';
import { recordOf } from '../../../libs/weather/src/index.ts';
import { fullSeasonFile } from '../data/full-season.ts';
import { type ApiStage, actor, type Firm } from './api-stage.ts';

/** Ids of what one firm has, for the addresses of the walk. */
export interface FirmObjects {
  readonly visit: string;
  /** The visit at which neither the crew member, the customer nor the partner of the walk has a part. */
  readonly strangeVisit: string;
  readonly assignment: string;
  readonly strangeAssignment: string;
  readonly liftHold: string;
  readonly strangeRun: string;
  readonly plan: string;
  readonly draft: string;
  readonly run: string;
  readonly weatherImport: string;
  readonly delivery: string;
  readonly link: string;
  readonly feed: string;
  readonly user: string;
}

/** How one endpoint is called with an object of a firm; `strange` is one of the same firm that is not the caller's. */
export interface AccessCase {
  /** Values of the path's parameters. */
  readonly params: (objects: FirmObjects) => Readonly<Record<string, string>>;
  /** As `params`, for an object of the same firm beyond the caller's own; absent: there is none. */
  readonly strange?: Partial<Record<Role, (objects: FirmObjects) => Readonly<Record<string, string>>>>;
  /** A body with which the request is well formed, so that the object itself is looked for. */
  readonly body?: unknown;
  readonly query?: string;
  /** Whether the endpoint is about one object, so that the same object of another firm must not be found. */
  readonly object: boolean;
  /** Status of a well-formed GET by a role that may; 200 when absent. */
  readonly status?: number;
}

const none = () => ({});
const list: AccessCase = { params: none, object: false };
const inSeason: AccessCase = { params: () => ({ season: 'small' }), object: false };
const ofPlan = (body?: unknown): AccessCase => ({
  params: (objects) => ({ season: 'small', planId: objects.draft }),
  object: true,
  ...(body === undefined ? {} : { body }),
});
const ofRun: AccessCase = { params: (objects) => ({ season: 'small', runId: objects.run }), object: true };

const ofImport: AccessCase = {
  params: (objects) => ({ season: 'small', importId: objects.weatherImport }),
  object: true,
};

const ofVisitInSeason: AccessCase = {
  params: (objects) => ({ season: 'small', visit: objects.visit }),
  object: true,
};

/** The endpoints that are not of the season's tables, by id. The walk fails when one is missing here. */
export const CASES: Readonly<Record<string, AccessCase>> = {
  endSession: list,
  getMe: list,
  listUsers: list,
  inviteUser: { ...list, body: { name: 'New', email: 'new@example.org', role: 'manager' } },
  revokeUser: { params: (objects) => ({ userId: objects.user }), object: true },
  listSeasons: list,
  getSeason: inSeason,
  changeSeason: { ...inSeason, body: { name: 'Other' } },
  importSeason: { ...list, body: {} },
  exportSeason: inSeason,
  requestPlanRun: { ...inSeason, body: {} },
  listPlanRuns: inSeason,
  getPlanRun: ofRun,
  stopPlanRun: ofRun,
  planRunEvents: ofRun,
  importWeather: inSeason,
  listWeatherImports: inSeason,
  getWeatherImport: ofImport,
  weatherImportEvents: ofImport,
  listWeatherSeries: inSeason,
  getOddsCalendar: { params: () => ({ season: 'small', site: 'hill' }), object: false },
  getOddsCalendarPicture: { params: () => ({ season: 'small', site: 'hill' }), object: false },
  getBrief: {
    params: (objects) => ({ season: 'small', visit: objects.visit }),
    strange: { crew: (objects) => ({ season: 'small', visit: objects.strangeVisit }) },
    object: true,
  },
  listBriefs: ofVisitInSeason,
  getWeatherEvidence: ofVisitInSeason,
  getWeatherEvidenceCsv: ofVisitInSeason,
  getForecastVerification: inSeason,
  getReliabilityPicture: inSeason,
  listPlans: inSeason,
  getPlan: ofPlan(),
  getPlanDifference: ofPlan(),
  publishPlan: ofPlan({ seasonChangesSeen: 0 }),
  discardPlan: ofPlan(),
  putPin: {
    params: () => ({ season: 'small', job: 'lake-build' }),
    object: false,
    body: { start: '2026-07-01' },
  },
  removePin: { params: () => ({ season: 'small', job: 'lake-build' }), object: false },
  listVisits: list,
  getVisit: {
    params: (objects) => ({ visitId: objects.visit }),
    strange: {
      crew: (objects) => ({ visitId: objects.strangeVisit }),
      customer: (objects) => ({ visitId: objects.strangeVisit }),
    },
    object: true,
  },
  changeVisitState: {
    params: (objects) => ({ visitId: objects.visit }),
    strange: { crew: (objects) => ({ visitId: objects.strangeVisit }) },
    object: true,
    body: { state: 'underway' },
  },
  listAssignments: list,
  answerAssignment: {
    params: (objects) => ({ assignmentId: objects.assignment }),
    strange: { crew: (objects) => ({ assignmentId: objects.strangeAssignment }) },
    object: true,
    body: { answer: 'accepted' },
  },
  listMySites: list,
  listMyJobs: list,
  listMyRequests: list,
  answerRequest: {
    params: (objects) => ({ kind: 'liftHold', requestId: objects.liftHold }),
    strange: { partner: (objects) => ({ kind: 'deliveryRun', requestId: objects.strangeRun }) },
    object: true,
    body: { answer: 'accepted' },
  },
  listDeliveries: list,
  getDelivery: { params: (objects) => ({ deliveryId: objects.delivery }), object: true },
  decideDelivery: {
    params: (objects) => ({ deliveryId: objects.delivery }),
    object: true,
    body: { as: 'cancel' },
  },
  releaseHeld: list,
  listReminders: inSeason,
  listAnswers: list,
  whatNext: list,
  judgeReadinessItem: {
    params: () => ({ season: 'small', job: 'lake-build', key: 'pad' }),
    object: false,
    body: { as: 'waived' },
  },
  listAudit: list,
  listLinks: list,
  listCalendarFeeds: list,
  revokeLink: { params: (objects) => ({ linkId: objects.link }), object: true },
  createCalendarFeed: { ...list, body: { season: 'small', kind: 'person', key: 'ana' } },
  removeCalendarFeed: {
    params: (objects) => ({ feedId: objects.feed }),
    strange: { crew: (objects) => ({ feedId: objects.feed }) },
    object: true,
  },
};

const tableRows = fullSeasonFile();

/** How the endpoints of a season table are called: by the one row of each table in the full season. */
function recordCase(endpoint: EndpointSpec): AccessCase | null {
  const found = recordEndpointsOf.find(({ table: _table, ...endpoints }) =>
    Object.values(endpoints).includes(endpoint),
  );
  if (!found) return null;
  const table = seasonTable(found.table);
  const [row = {}] = tableRows[found.table] as Record<string, unknown>[];
  const key = Object.fromEntries(table.key.map((name) => [name, String(row[name] ?? EMPTY_KEY_PART)]));
  const season = { season: 'one' };
  if (endpoint === found.list || endpoint === found.add)
    return { params: () => season, object: false, body: row };
  return { params: () => ({ ...season, ...key }), object: false, body: {} };
}

export function caseOf(endpoint: EndpointSpec): AccessCase {
  const found = CASES[endpoint.id] ?? recordCase(endpoint);
  if (!found) throw new Error(`The walk does not know how to call ${endpoint.id}: add it to CASES.`);
  return found;
}

const hillTarget = {
  kind: 'site',
  key: 'hill',
  name: 'Hill',
  lat: 45,
  lon: -64,
  elevationM: null,
  zone: 'America/Halifax',
  source: null,
} as const;

/** Ten calm days at the hill, so that there are odds to ask for. */
function fewHours() {
  const hours = Array.from({ length: 240 }, () => ({ tempC: 15, dewPointC: 5, rainMm: 0, windMps: 2 }));
  const place = { name: 'Hill', lat: 45, lon: -64, elevationM: null };
  return recordOf({
    place,
    source: 'invented',
    standardOffsetMin: -240,
    typicalYear: false,
    start: '2020-06-01',
    hours,
  });
}

/** Makes one of everything that a firm can have, and says what it is. */
export async function makeObjects(stage: ApiStage, firm: Firm): Promise<FirmObjects> {
  const { db, call } = stage;
  const as = firm.tokens.manager;
  const plan = await stage.publish(firm);
  const draft = await stage.draft(firm);
  const run = await call('POST', '/api/v1/seasons/small/plan-runs', { as, body: { iterations: 1 } });
  const feed = await call('POST', '/api/v1/calendar-feeds', {
    as,
    body: { season: 'small', kind: 'crew', key: 'north' },
  });
  const weather = {
    targetKind: 'site',
    targetKey: 'hill',
    season: 'small',
    fileName: 'hill.epw',
    bytesTotal: null,
  } as const;
  const { organisationId } = firm;
  const upload = await openImport(db, {
    ...weather,
    organisationId,
    options: {},
    actor,
    now: stage.clock.now(),
  });
  await endImport(db, { id: upload.id, fault: 'It was only opened.', actor, now: stage.clock.now() });
  await importRecord(db, { organisationId, target: hillTarget, record: fewHours(), actor });
  const within = { seasonId: firm.seasonId };
  const visitOf = async (job: string) =>
    (await db.client.visit.findFirstOrThrow({ where: { ...within, job } })).id;
  const assignmentOf = async (person: string) =>
    (await db.client.assignment.findFirstOrThrow({ where: { ...within, person } })).id;
  return {
    visit: await visitOf('hill-build'),
    strangeVisit: await visitOf('cape-build'),
    assignment: await assignmentOf('ana'),
    strangeAssignment: await assignmentOf('cat'),
    liftHold: (await db.client.liftHold.findFirstOrThrow({ where: within })).id,
    strangeRun: (await db.client.deliveryRun.findFirstOrThrow({ where: within })).id,
    plan,
    draft: draft.id,
    run: run.body.id,
    weatherImport: upload.id,
    delivery: (await db.client.delivery.findFirstOrThrow({ where: within })).id,
    link: (await db.client.actionLink.findFirstOrThrow({ where: { ...within, purpose: 'readiness' } })).id,
    feed: feed.body.id,
    user: firm.accounts.customer.id,
  };
}

/** The address of an endpoint with its parameters filled in. */
export const addressOf = (endpoint: EndpointSpec, params: Readonly<Record<string, string>>): string =>
  endpoint.path.replace(/:([A-Za-z][A-Za-z0-9]*)/g, (_match, name: string) =>
    encodeURIComponent(params[name] as string),
  );
