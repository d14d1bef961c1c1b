import {
  type CallHandler,
  type ExecutionContext,
  Inject,
  Injectable,
  type NestInterceptor,
} from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { EMPTY, from, lastValueFrom, type Observable } from 'rxjs';
import type { EndpointSpec } from '../../../../libs/contracts/src/http/endpoint.ts';
import { DryspellError } from '../../../../libs/kernel/src/index.ts';
import { type Call, callOf } from './call.ts';
import { checkInput } from './checked-input.ts';
import { etagOf, matchesNone } from './etag.ts';
import { Idempotency } from './idempotency.ts';
import { Reply } from './reply.ts';
import { type SentAnswer, serialise } from './serialise.ts';

/** Checks what comes in, runs the handler, and writes the answer through the schema of the endpoint. */
@Injectable()
export class ExchangeInterceptor implements NestInterceptor {
  constructor(@Inject(Idempotency) private readonly idempotency: Idempotency) {}

  intercept(context: ExecutionContext, next: CallHandler): Observable<unknown> {
    const request = context.switchToHttp().getRequest<FastifyRequest>();
    const reply = context.switchToHttp().getResponse<FastifyReply>();
    const call = callOf(request);
    return from(
      this.exchange(call, reply, () => lastValueFrom(next.handle(), { defaultValue: undefined })).then(
        () => EMPTY,
      ),
    );
  }

  private async exchange(call: Call, reply: FastifyReply, handle: () => Promise<unknown>): Promise<void> {
    const { endpoint, request } = call;
    call.input = checkInput(request, endpoint);
    const answer = await this.idempotency.once(call, async () => toAnswer(endpoint, await handle()));
    await write(request, reply, endpoint, answer);
  }
}

function toAnswer(endpoint: EndpointSpec, result: unknown): SentAnswer {
  const given = result instanceof Reply ? result : Reply.json(primaryStatus(endpoint), result);
  return serialise(endpoint, given);
}

/** The lowest status of success is what a handler means when it returns a bare body. */
function primaryStatus(endpoint: EndpointSpec): number {
  const statuses = Object.keys(endpoint.responses).map(Number);
  const success = statuses.filter((status) => status < 300);
  if (success.length === 0)
    throw new DryspellError('internal', { endpoint: endpoint.id, reason: 'no success to answer with' });
  return Math.min(...success);
}

async function write(
  request: FastifyRequest,
  reply: FastifyReply,
  endpoint: EndpointSpec,
  answer: SentAnswer,
): Promise<void> {
  for (const [name, value] of Object.entries(answer.headers)) void reply.header(name, value);
  if (endpoint.etag !== 'none' && answer.version !== null) void reply.header('etag', etagOf(answer.version));
  const etag = reply.getHeader('etag');
  if (
    endpoint.method === 'GET' &&
    typeof etag === 'string' &&
    matchesNone(request.headers['if-none-match'], etag)
  ) {
    await reply.status(304).send();
    return;
  }
  void reply.status(answer.status);
  if (answer.mediaType !== null) void reply.header('content-type', answer.mediaType);
  await reply.send(answer.body);
}
