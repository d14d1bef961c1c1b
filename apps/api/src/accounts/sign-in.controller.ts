import { Controller, Inject } from '@nestjs/common';
import * as endpoints from '../../../../libs/contracts/src/http/accounts.ts';
import type { InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import { DryspellError } from '../../../../libs/kernel/src/index.ts';
import type { ApiConfig } from '../config.ts';
import { SESSION_COOKIE } from '../frame/access.guard.ts';
import { Bind } from '../frame/bind.decorator.ts';
import type { Call } from '../frame/call.ts';
import { formMark, requireFormMark } from '../frame/form-mark.ts';
import { Reply } from '../frame/reply.ts';
import { html } from '../pages/html.ts';
import { pageOf } from '../pages/layout.ts';
import { API_CONFIG } from '../tokens.ts';
import { SignInService } from './sign-in.service.ts';

const EVEN_WAIT_MS = 250;

@Controller()
export class SignInController {
  constructor(
    @Inject(API_CONFIG) private readonly config: ApiConfig,
    @Inject(SignInService) private readonly signIn: SignInService,
  ) {}

  @Bind(endpoints.signInPage)
  async page(input: InputOf<typeof endpoints.signInPage>): Promise<Reply> {
    const { token } = input.params;
    const account = await this.signIn.whose(token);
    const body = html`<p>You are about to sign in as <strong>${account.name}</strong> (${account.email}).</p>
<form method="post" action="/sign-in/${token}">
<input type="hidden" name="mark" value="${formMark(this.config.secret, token)}">
<p class="actions"><button type="submit">Sign in</button></p>
</form>
<p class="small">The link works once. If you did not ask for it, close this page; nothing has happened.</p>`;
    return Reply.page(200, pageOf('Sign in', body));
  }

  @Bind(endpoints.signInByPage)
  async byPage(input: InputOf<typeof endpoints.signInByPage>, call: Call): Promise<Reply> {
    const { token } = input.params;
    requireFormMark(this.config.secret, token, input.body.mark);
    const session = await this.signIn.start(token, call.request.headers['user-agent']);
    const cookie = this.cookie(session.token, this.config.sessionDays * 24 * 3600);
    return Reply.seeOther('/app/', { 'set-cookie': cookie });
  }

  @Bind(endpoints.requestSignInLink)
  async request(input: InputOf<typeof endpoints.requestSignInLink>): Promise<Reply> {
    // The same time for known and unknown addresses, so that the wait tells nothing either.
    await Promise.all([
      this.signIn.sendLink(input.body.email),
      new Promise((resolve) => setTimeout(resolve, EVEN_WAIT_MS)),
    ]);
    return Reply.json(202, {
      message: 'If this address has an account, a sign-in link is on its way to it.',
    });
  }

  @Bind(endpoints.createSession)
  async create(input: InputOf<typeof endpoints.createSession>, call: Call): Promise<Reply> {
    return Reply.json(201, await this.signIn.start(input.body.token, call.request.headers['user-agent']));
  }

  @Bind(endpoints.endSession)
  async end(_input: InputOf<typeof endpoints.endSession>, call: Call): Promise<Reply> {
    const { sessionId } = call.user;
    if (sessionId === null)
      throw new DryspellError('state-conflict', { reason: 'a program token has no session' });
    await this.signIn.end(sessionId);
    return Reply.empty(204, { 'set-cookie': this.cookie('', 0) });
  }

  private cookie(value: string, maxAgeS: number): string {
    const secure = this.config.publicUrl?.startsWith('https:') ? '; Secure' : '';
    return `${SESSION_COOKIE}=${value}; Path=/; Max-Age=${maxAgeS}; HttpOnly; SameSite=Lax${secure}`;
  }
}
