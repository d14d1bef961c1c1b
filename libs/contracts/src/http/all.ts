import * as accounts from './accounts.ts';
import * as answers from './answers.ts';
import * as briefs from './briefs.ts';
import * as calendars from './calendars.ts';
import type { EndpointSpec } from './endpoint.ts';
import * as links from './links.ts';
import * as messages from './messages.ts';
import * as plans from './plans.ts';
import { recordEndpointsOf } from './records.ts';
import * as seasons from './seasons.ts';
import * as system from './system.ts';
import * as visits from './visits.ts';
import * as weather from './weather.ts';

const isEndpoint = (value: unknown): value is EndpointSpec =>
  typeof value === 'object' && value !== null && 'access' in value && 'responses' in value;

/** Every endpoint of the API: the server refuses to start unless each has exactly one handler. */
export const allEndpoints: readonly EndpointSpec[] = [
  ...[system, accounts, seasons, plans, visits, messages, answers, links, calendars, weather, briefs].flatMap(
    (feature) => Object.values(feature).filter(isEndpoint),
  ),
  ...recordEndpointsOf.flatMap(({ table: _table, ...endpoints }) => Object.values(endpoints)),
];
