import {
  applyDecorators,
  createParamDecorator,
  type ExecutionContext,
  RequestMapping,
  RequestMethod,
  Res,
  SetMetadata,
} from '@nestjs/common';
import { RouteConfig } from '@nestjs/platform-fastify';
import type { FastifyRequest } from 'fastify';
import type { EndpointSpec, InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import { type Call, callOf } from './call.ts';

/** Metadata key under which a handler carries its endpoint. */
export const ENDPOINT = 'dryspell:endpoint';

const requestOf = (context: ExecutionContext): FastifyRequest =>
  context.switchToHttp().getRequest<FastifyRequest>();
const CheckedInput = createParamDecorator(
  (_data: unknown, context: ExecutionContext) => callOf(requestOf(context)).input,
);
const CurrentCall = createParamDecorator((_data: unknown, context: ExecutionContext) =>
  callOf(requestOf(context)),
);

type Handler<E extends EndpointSpec> = (input: InputOf<E>, call: Call) => unknown;

/**
 * Binds a handler to an endpoint: its route, its guard, the check of what comes in and the form of what goes out.
 * The handler is given the checked input and the call; it returns the JSON body, or a `Reply` to say more.
 */
export function Bind<E extends EndpointSpec>(endpoint: E) {
  return <H extends Handler<E>>(
    target: object,
    name: string,
    descriptor: TypedPropertyDescriptor<H>,
  ): void => {
    CheckedInput()(target, name, 0);
    CurrentCall()(target, name, 1);
    // With the response injected Nest sends nothing itself: the frame alone writes answers.
    Res()(target, name, 2);
    applyDecorators(
      RequestMapping({ path: endpoint.path, method: RequestMethod[endpoint.method] }),
      RouteConfig({
        rateClass: endpoint.rate,
        fileMaxBytes: endpoint.body?.kind === 'file' ? endpoint.body.maxBytes : null,
      }),
      SetMetadata(ENDPOINT, endpoint),
    )(target, name, descriptor);
  };
}
