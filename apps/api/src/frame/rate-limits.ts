import rateLimit from '@fastify/rate-limit';
import type { FastifyInstance } from 'fastify';
import type { RateClass } from '../../../../libs/contracts/src/http/endpoint.ts';
import type { ApiConfig } from '../config.ts';
import { ProblemError } from './problem-error.ts';

/**
 * Limits how often one address may ask, tighter on sign-in and links, whose routes share a count. Counts are kept in this
 * process: with several API processes each counts for itself.
 */
export async function addRateLimits(server: FastifyInstance, config: ApiConfig): Promise<void> {
  const timeWindow = 60_000;
  const errorResponseBuilder = (_request: unknown, context: { max: number; ttl: number }) =>
    new ProblemError('too-many-requests', {
      facts: { perMin: context.max, retryAfterS: Math.ceil(context.ttl / 1000) },
    });
  const options = { timeWindow, errorResponseBuilder };
  await server.register(rateLimit, {
    ...options,
    global: true,
    max: config.ratePerMin.general,
    allowList: (request) => request.url.startsWith('/health/'),
  });
  const limiters: Partial<Record<RateClass, ReturnType<FastifyInstance['rateLimit']>>> = {
    'sign-in': server.rateLimit({ ...options, max: config.ratePerMin.signIn }),
    link: server.rateLimit({ ...options, max: config.ratePerMin.link }),
  };
  server.addHook('onRoute', (route) => {
    const { rateClass } = (route.config ?? {}) as { rateClass?: RateClass };
    const limiter = rateClass && limiters[rateClass];
    if (limiter) route.onRequest = [limiter, ...[route.onRequest ?? []].flat()];
  });
}
