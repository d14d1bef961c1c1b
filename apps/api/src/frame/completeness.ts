import { METHOD_METADATA, PATH_METADATA } from '@nestjs/common/constants.js';
import type { DiscoveryService, MetadataScanner } from '@nestjs/core';
import type { EndpointSpec } from '../../../../libs/contracts/src/http/endpoint.ts';
import { ENDPOINT } from './bind.decorator.ts';

/**
 * What keeps a server from starting: a handler that is bound to no endpoint (nobody said who may call it), an endpoint
 * without a handler, an endpoint with two. An empty list: all is well.
 */
export function incompleteness(
  discovery: DiscoveryService,
  scanner: MetadataScanner,
  endpoints: readonly EndpointSpec[],
): string[] {
  const faults: string[] = [];
  const bound = new Map<EndpointSpec, string>();
  for (const { instance, metatype, name } of discovery.getControllers()) {
    const prototype = (instance ? Object.getPrototypeOf(instance) : metatype?.prototype) as
      | Record<string, unknown>
      | undefined;
    if (!prototype) continue;
    for (const method of scanner.getAllMethodNames(prototype)) {
      const handler = prototype[method] as object;
      if (!Reflect.hasMetadata(METHOD_METADATA, handler) && !Reflect.hasMetadata(PATH_METADATA, handler))
        continue;
      const where = `${String(name)}.${method}`;
      const endpoint = Reflect.getMetadata(ENDPOINT, handler) as EndpointSpec | undefined;
      if (!endpoint) faults.push(`${where} is bound to no endpoint, so nobody may call it`);
      else if (bound.has(endpoint))
        faults.push(`${endpoint.id} is bound to ${bound.get(endpoint)} and to ${where}`);
      else bound.set(endpoint, where);
    }
  }
  for (const endpoint of endpoints) if (!bound.has(endpoint)) faults.push(`${endpoint.id} has no handler`);
  const known = new Set(endpoints);
  for (const [endpoint, where] of bound)
    if (!known.has(endpoint)) faults.push(`${endpoint.id} (${where}) is not in the list of endpoints`);
  return faults;
}
