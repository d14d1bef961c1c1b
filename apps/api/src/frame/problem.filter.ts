import { type ArgumentsHost, Catch, type ExceptionFilter, HttpException, Injectable } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { PROBLEM_MEDIA_TYPE, type Problem, problem } from '../../../../libs/contracts/src/errors/problem.ts';
import { DryspellError } from '../../../../libs/kernel/src/index.ts';
import { problemPage } from '../pages/problem.page.ts';
import { callIfAny } from './call.ts';
import { ProblemError } from './problem-error.ts';

/** The one place where anything thrown becomes an answer. Causes go to the log, never to the caller. */
@Catch()
@Injectable()
export class ProblemFilter implements ExceptionFilter {
  catch(thrown: unknown, host: ArgumentsHost): void {
    const request = host.switchToHttp().getRequest<FastifyRequest>();
    const reply = host.switchToHttp().getResponse<FastifyReply>();
    answerProblem(thrown, request, reply);
  }
}

/** Answers with the problem details of what was thrown; as a page where a person would read it. */
export function answerProblem(thrown: unknown, request: FastifyRequest, reply: FastifyReply): void {
  const details = problemOf(thrown, `urn:uuid:${request.id}`);
  if (details.status >= 500) request.log.error({ err: thrown, code: details.code }, 'request failed');
  else request.log.info({ code: details.code, status: details.status }, 'request refused');
  if (reply.sent || reply.raw.headersSent) {
    // The answer had begun (a stream): all that is left is to end it, so that the caller sees it break off.
    reply.raw.destroy();
    return;
  }
  if (thrown instanceof ProblemError) {
    for (const [name, value] of Object.entries(thrown.details.headers ?? {})) void reply.header(name, value);
  }
  if (details.status === 401) void reply.header('www-authenticate', 'Bearer realm="dryspell"');
  void reply.status(details.status).header('cache-control', 'no-store');
  if (wantsPage(request))
    void reply.header('content-type', 'text/html; charset=utf-8').send(problemPage(details));
  else void reply.header('content-type', PROBLEM_MEDIA_TYPE).send(JSON.stringify(details));
}

/** People's pages answer with pages; the interface answers with problem details, whoever asks. */
function wantsPage(request: FastifyRequest): boolean {
  const endpoint = callIfAny(request)?.endpoint;
  if (endpoint && Object.values(endpoint.responses).some((response) => response.mediaType === 'text/html'))
    return true;
  if (request.url.startsWith('/api/') || request.url.startsWith('/health/')) return false;
  return /^\/(?:l|sign-in)\//.test(request.url) || /\btext\/html\b/.test(request.headers.accept ?? '');
}

/** The problem details of anything thrown. What is not known to us is `internal`, without a word of what it was. */
export function problemOf(thrown: unknown, instance: string): Problem {
  if (thrown instanceof ProblemError) return problem({ code: thrown.code, instance, ...thrown.details });
  if (thrown instanceof DryspellError) {
    if (thrown.kind === 'fault') return problem({ code: thrown.code, instance });
    const { faults, detail, ...facts } = thrown.data as { faults?: never; detail?: string };
    return problem({ code: thrown.code, instance, detail, errors: faults, facts });
  }
  return problem({ code: codeOfForeignError(thrown), instance });
}

/** Errors of the framework that a caller can cause. */
function codeOfForeignError(thrown: unknown) {
  const code = (thrown as { code?: unknown } | null)?.code;
  if (code === 'FST_ERR_CTP_BODY_TOO_LARGE') return 'too-large';
  if (code === 'FST_ERR_CTP_INVALID_MEDIA_TYPE') return 'media-type-not-supported';
  const status =
    thrown instanceof HttpException
      ? thrown.getStatus()
      : (thrown as { statusCode?: unknown } | null)?.statusCode;
  if (status === 400 || status === 414) return 'malformed-request';
  if (status === 404) return 'not-found';
  if (status === 413) return 'too-large';
  if (status === 415) return 'media-type-not-supported';
  if (status === 429) return 'too-many-requests';
  if (status === 503) return 'unavailable';
  return 'internal';
}
