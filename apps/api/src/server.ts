import { randomUUID } from 'node:crypto';
import cookie from '@fastify/cookie';
import type { DynamicModule, Type } from '@nestjs/common';
import { DiscoveryService, MetadataScanner, NestFactory } from '@nestjs/core';
import { FastifyAdapter, type NestFastifyApplication } from '@nestjs/platform-fastify';
import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { EndpointSpec } from '../../../libs/contracts/src/http/endpoint.ts';
import { DryspellError } from '../../../libs/kernel/src/index.ts';
import type { ApiConfig } from './config.ts';
import { addBodyParsers } from './frame/body-parsers.ts';
import { incompleteness } from './frame/completeness.ts';
import { FrameworkLogger, loggerOptions } from './frame/logging.ts';
import { answerProblem } from './frame/problem.filter.ts';
import { addRateLimits } from './frame/rate-limits.ts';
import { addSecurityHeaders } from './frame/security-headers.ts';
import { addStaticFiles } from './system/static-files.ts';

/**
 * Builds the HTTP server of a module, ready to listen. Throws `internal` with every fault when a handler is bound to no
 * endpoint or an endpoint to no handler: such a server does not start.
 */
export async function buildServer(
  module: Type | DynamicModule,
  config: ApiConfig,
  endpoints: readonly EndpointSpec[],
): Promise<NestFastifyApplication> {
  const adapter = new FastifyAdapter({
    logger: loggerOptions(config.logLevel),
    genReqId: () => randomUUID(),
    trustProxy: config.trustProxy,
    bodyLimit: config.bodyMaxBytes,
    forceCloseConnections: true,
    routerOptions: { maxParamLength: 200, ignoreTrailingSlash: false },
    frameworkErrors: (error: FastifyError, request: FastifyRequest, reply: FastifyReply) =>
      answerProblem(error, request, reply),
  });
  const server = adapter.getInstance() as unknown as FastifyInstance;
  addSecurityHeaders(server, config.publicUrl?.startsWith('https:') ?? false);
  addBodyParsers(server);
  await server.register(cookie);
  await addRateLimits(server, config);
  await addStaticFiles(server, config);
  const app = await NestFactory.create<NestFastifyApplication>(module, adapter, {
    bodyParser: false,
    logger: new FrameworkLogger(server.log),
    abortOnError: false,
  });
  const faults = incompleteness(app.get(DiscoveryService), app.get(MetadataScanner), endpoints);
  if (faults.length > 0) {
    await app.close();
    throw new DryspellError('internal', { faults });
  }
  await app.init();
  await server.ready();
  return app;
}
