import type { EndpointSpec } from './endpoint.ts';
import * as system from './system.ts';

/** Every endpoint of the API: the server refuses to start unless each has exactly one handler. */
export const allEndpoints: readonly EndpointSpec[] = [...Object.values(system)] as EndpointSpec[];
