import rateLimit from '@fastify/rate-limit';
import type { FastifyInstance } from 'fastify';
import type { RateClass } from '../../../../libs/contracts/src/http/endpoint.ts';
import type { ApiConfig } from '../config.ts';
import { ProblemError } from './problem-error.ts';

/**
 * Limits how often one address may ask, tighter on sign-in and links. Counts are kept in this process: with several
 * API processes each counts for itself.
 */
export async function addRateLimits(server: FastifyInstance, config: ApiConfig): Promise<void> {
  const perMin: Record<RateClass, number> = {
    general: config.ratePerMin.general,
    'sign-in': config.ratePerMin.signIn,
    link: config.ratePerMin.link,
  };
  // Runs before the plugin's own hook, which reads what is set here.
  server.addHook('onRoute', (route) => {
    const { rateClass } = (route.config ?? {}) as { rateClass?: RateClass };
    if (!rateClass || rateClass === 'general') return;
    route.config = {
      ...route.config,
      rateLimit: { max: perMin[rateClass], timeWindow: 60_000, groupId: rateClass },
    };
  });
  await server.register(rateLimit, {
    global: true,
    max: perMin.general,
    timeWindow: 60_000,
    allowList: (request) => request.url.startsWith('/health/'),
    errorResponseBuilder: (_request, context) =>
      new ProblemError('too-many-requests', {
        facts: { perMin: context.max, retryAfterS: Math.ceil(context.ttl / 1000) },
      }),
  });
}
