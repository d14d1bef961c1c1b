import type { LoggerService } from '@nestjs/common';
import type { FastifyBaseLogger, FastifyRequest } from 'fastify';

/** Paths whose second part is a secret: links, sign-in, calendar feeds. */
const SECRET_PATH = /^(\/(?:l|sign-in|calendar)\/)[^/?.]+/;
const SECRET_QUERY = /([?&](?:token|cursor|mark)=)[^&]*/gi;

/** An address as it may be logged: secrets in it are masked. */
export function maskedUrl(url: string): string {
  return url.replace(SECRET_PATH, '$1***').replace(SECRET_QUERY, '$1***');
}

/** Settings of the request log: who asked for what; no headers, no bodies, no secrets. */
export function loggerOptions(level: string) {
  return {
    level,
    redact: {
      paths: [
        'req.headers',
        'headers.authorization',
        'headers.cookie',
        'token',
        '*.token',
        '*.email',
        'authorization',
        'cookie',
      ],
      censor: '***',
    },
    serializers: {
      req: (request: FastifyRequest) => ({
        method: request.method,
        url: maskedUrl(request.url),
        from: request.ip,
        ...(typeof request.headers?.['x-request-id'] === 'string'
          ? { callerId: request.headers['x-request-id'].slice(0, 100) }
          : {}),
      }),
    },
  };
}

/** Lets the framework log through the same logger. */
export class FrameworkLogger implements LoggerService {
  constructor(private readonly logger: FastifyBaseLogger) {}

  log(message: unknown, ...rest: unknown[]): void {
    this.logger.debug({ context: rest.at(-1) }, String(message));
  }

  warn(message: unknown, ...rest: unknown[]): void {
    this.logger.warn({ context: rest.at(-1) }, String(message));
  }

  error(message: unknown, ...rest: unknown[]): void {
    this.logger.error(
      { err: message instanceof Error ? message : undefined, context: rest },
      String(message),
    );
  }

  fatal(message: unknown, ...rest: unknown[]): void {
    this.logger.fatal(
      { err: message instanceof Error ? message : undefined, context: rest },
      String(message),
    );
  }
}
