import { type CanActivate, type ExecutionContext, Inject, Injectable } from '@nestjs/common';
import type { FastifyRequest } from 'fastify';
import type { EndpointSpec, Role } from '../../../../libs/contracts/src/http/endpoint.ts';
import { DryspellError } from '../../../../libs/kernel/src/index.ts';
import type { ApiConfig } from '../config.ts';
import { API_CONFIG } from '../tokens.ts';
import { ENDPOINT } from './bind.decorator.ts';
import { Call, rememberCall } from './call.ts';
import { type LinkHolder, LinkReader, SessionReader, type SignedIn } from './caller.ts';
import { deadLink } from './dead-link.ts';
import { ProblemError } from './problem-error.ts';
import { originOf } from './same-origin.ts';
import { hashSecret } from './secret-token.ts';

/** Name of the session cookie. */
export const SESSION_COOKIE = 'dryspell_session';

const SECRET = /^[A-Za-z0-9_-]{43}$/;
const SAFE_METHODS = new Set(['GET', 'HEAD']);

/** Lets a request pass to its handler only where the endpoint says that this caller may. */
@Injectable()
export class AccessGuard implements CanActivate {
  constructor(
    @Inject(API_CONFIG) private readonly config: ApiConfig,
    @Inject(SessionReader) private readonly sessions: SessionReader,
    @Inject(LinkReader) private readonly links: LinkReader,
  ) {}

  async canActivate(context: ExecutionContext): Promise<boolean> {
    const request = context.switchToHttp().getRequest<FastifyRequest>();
    const endpoint = Reflect.getMetadata(ENDPOINT, context.getHandler()) as EndpointSpec | undefined;
    if (!endpoint) throw new DryspellError('not-found');
    const { access } = endpoint;
    let signedIn: SignedIn | null = null;
    let link: LinkHolder | null = null;
    if (access === 'public') {
      signedIn = await this.signedIn(request);
    } else if ('link' in access) {
      link = await this.linkHolder(request, access.link);
    } else if (!('feed' in access)) {
      signedIn = await this.signedIn(request);
      admit(signedIn, access);
    }
    this.checkOrigin(request, endpoint, signedIn);
    rememberCall(request, new Call(request, endpoint, signedIn, link));
    return true;
  }

  private async signedIn(request: FastifyRequest): Promise<SignedIn | null> {
    const bearer = /^Bearer ([A-Za-z0-9_-]{43})$/i.exec(request.headers.authorization ?? '')?.[1];
    const token = bearer ?? request.cookies[SESSION_COOKIE];
    if (!token || !SECRET.test(token)) return null;
    const found = await this.sessions.read(hashSecret(token));
    return found && { ...found, by: bearer ? 'bearer' : 'cookie' };
  }

  private async linkHolder(request: FastifyRequest, purposes: readonly string[]): Promise<LinkHolder> {
    const { token } = request.params as { token?: string };
    if (!token || !SECRET.test(token)) throw deadLink('unknown');
    const link = await this.links.read(hashSecret(token));
    if (!link || !purposes.includes(link.purpose)) throw new DryspellError('link-not-valid');
    return link;
  }

  /** Cookies travel by themselves, so a change by cookie must come from our own pages; so must a filled-in form. */
  private checkOrigin(request: FastifyRequest, endpoint: EndpointSpec, signedIn: SignedIn | null): void {
    if (SAFE_METHODS.has(request.method)) return;
    const origin = originOf(request, this.config.publicUrl);
    const byCookie = signedIn?.by === 'cookie';
    if (byCookie && origin !== 'same') throw new ProblemError('cross-site');
    if (endpoint.body?.kind === 'form' && origin === 'other') throw new ProblemError('cross-site');
  }
}

function admit(signedIn: SignedIn | null, roles: readonly Role[]): void {
  if (!signedIn) throw new DryspellError('not-signed-in');
  // What is beyond a role is not there for it: the answer does not tell what exists.
  if (!roles.includes(signedIn.role)) throw new DryspellError('not-found');
}
