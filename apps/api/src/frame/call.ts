import type { FastifyRequest } from 'fastify';
import type { EndpointSpec, InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import { DryspellError } from '../../../../libs/kernel/src/index.ts';
import type { LinkHolder, SignedIn } from './caller.ts';

/** One request on its way through the frame: who asks, and what was checked so far. */
export class Call {
  readonly request: FastifyRequest;
  readonly endpoint: EndpointSpec;
  private readonly signedIn: SignedIn | null;
  private readonly holder: LinkHolder | null;
  input: InputOf<EndpointSpec> | null = null;

  constructor(
    request: FastifyRequest,
    endpoint: EndpointSpec,
    signedIn: SignedIn | null,
    holder: LinkHolder | null,
  ) {
    this.request = request;
    this.endpoint = endpoint;
    this.signedIn = signedIn;
    this.holder = holder;
  }

  get requestId(): string {
    return this.request.id;
  }

  /** Who is signed in. Only endpoints with roles may ask. */
  get user(): SignedIn {
    if (!this.signedIn)
      throw new DryspellError('internal', { reason: 'endpoint without roles asked for a user' });
    return this.signedIn;
  }

  /** The link by which the request came. Only link endpoints may ask. */
  get link(): LinkHolder {
    if (!this.holder) throw new DryspellError('internal', { reason: 'endpoint without link asked for one' });
    return this.holder;
  }
}

const calls = new WeakMap<FastifyRequest, Call>();

export function rememberCall(request: FastifyRequest, call: Call): void {
  calls.set(request, call);
}

export function callOf(request: FastifyRequest): Call {
  const call = calls.get(request);
  if (!call) throw new DryspellError('internal', { reason: 'request did not pass the guard' });
  return call;
}

export const callIfAny = (request: FastifyRequest): Call | null => calls.get(request) ?? null;
