import { Controller, Inject } from '@nestjs/common';
import { PROBLEMS } from '../../../../libs/contracts/src/errors/problem-codes.ts';
import type { InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import * as endpoints from '../../../../libs/contracts/src/http/system.ts';
import { Bind } from '../frame/bind.decorator.ts';
import { Reply } from '../frame/reply.ts';
import { html } from '../pages/html.ts';
import { pageOf } from '../pages/layout.ts';
import { PAGE_STYLE } from '../pages/page-style.ts';
import { API_VERSION } from '../version.ts';
import { HealthChecks } from './health-checks.ts';
import { openApiText } from './open-api-text.ts';

/** Parts without which no request can be served. */
const NEEDED = ['database', 'migrations'];

@Controller()
export class SystemController {
  constructor(@Inject(HealthChecks) private readonly health: HealthChecks) {}

  @Bind(endpoints.healthLive)
  live(): endpoints.Health {
    return { ok: true, version: API_VERSION, parts: {} };
  }

  @Bind(endpoints.healthReady)
  async ready(): Promise<Reply> {
    const parts = await this.health.ask();
    // A worker that is away must not take this process out of service: it can still answer.
    const ok = NEEDED.every((name) => parts[name]?.ok === true);
    return Reply.json(ok ? 200 : 503, { ok, version: API_VERSION, parts });
  }

  @Bind(endpoints.openApiDocument)
  openApi(): Reply {
    return Reply.raw(200, 'application/json; charset=utf-8', openApiText(), { 'cache-control': 'no-cache' });
  }

  @Bind(endpoints.problemPageOf)
  problem(input: InputOf<typeof endpoints.problemPageOf>): Reply {
    const entry = PROBLEMS[input.params.code as keyof typeof PROBLEMS];
    return Reply.page(
      200,
      pageOf(
        entry.title,
        html`<p>${entry.nextStep}</p><p class="small">HTTP status ${entry.status}, code ${input.params.code}</p>`,
      ),
    );
  }

  @Bind(endpoints.pageStyle)
  style(): Reply {
    return Reply.raw(200, 'text/css; charset=utf-8', PAGE_STYLE, { 'cache-control': 'public, max-age=3600' });
  }

  @Bind(endpoints.frontDoor)
  frontDoor(): Reply {
    return Reply.seeOther('/app/');
  }
}
