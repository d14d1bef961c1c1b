import type { FastifyRequest } from 'fastify';

/**
 * Whether a browser says that a request came from our own pages. `unknown`: no browser said anything.
 * Sec-Fetch-Site is believed first: a browser sets it by itself and pages cannot change it.
 */
export function originOf(request: FastifyRequest, publicUrl: string | null): 'same' | 'other' | 'unknown' {
  const site = request.headers['sec-fetch-site'];
  if (typeof site === 'string') return site === 'same-origin' ? 'same' : 'other';
  const { origin } = request.headers;
  // Pages sent with "no-referrer" give "null" as their origin: that says nothing.
  if (origin === undefined || origin === 'null') return 'unknown';
  const own = publicUrl ?? `${request.protocol}://${request.headers.host ?? ''}`;
  return origin === own ? 'same' : 'other';
}
