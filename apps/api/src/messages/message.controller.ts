import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import * as endpoints from '../../../../libs/contracts/src/http/messages.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import type { DeliveryInfo } from '../../../../libs/data/src/delivery.repository.ts';
import {
  decideDelivery,
  getDelivery,
  listDeliveries,
  releaseHeld,
} from '../../../../libs/data/src/delivery-desk.repository.ts';
import { pageReminders } from '../../../../libs/data/src/listing/reminder-page.ts';
import type { ReminderInfo } from '../../../../libs/data/src/reminder.repository.ts';
import { getSeason } from '../../../../libs/data/src/season.repository.ts';
import type { Clock, Instant } from '../../../../libs/kernel/src/index.ts';
import { actorOf } from '../data/acting.ts';
import { DATABASE } from '../data/database.token.ts';
import { Bind } from '../frame/bind.decorator.ts';
import type { Call } from '../frame/call.ts';
import { Cursors } from '../frame/cursor.ts';
import { Paging } from '../frame/paging.ts';
import { CLOCK } from '../tokens.ts';

@Controller()
export class MessageController {
  constructor(
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
    @Inject(Cursors) private readonly cursors: Cursors,
  ) {}

  @Bind(endpoints.listDeliveries)
  async list(input: InputOf<typeof endpoints.listDeliveries>, call: Call) {
    const paging = new Paging<{ id: string }>(this.cursors, call);
    const { organisationId } = call.user;
    const { season, visitId, state } = input.query;
    const rows = await listDeliveries(this.db, {
      organisationId,
      ...(season === undefined ? {} : { seasonId: (await getSeason(this.db, organisationId, season)).id }),
      ...(visitId === undefined ? {} : { visitId }),
      ...(state === undefined ? {} : { states: [state] }),
      afterId: paging.after?.id ?? null,
      limit: paging.limit + 1,
    });
    return paging.page(
      rows,
      (row: DeliveryInfo) => row,
      (row) => ({ id: row.id }),
    );
  }

  @Bind(endpoints.getDelivery)
  get(input: InputOf<typeof endpoints.getDelivery>, call: Call): Promise<DeliveryInfo> {
    return getDelivery(this.db, call.user.organisationId, input.params.deliveryId);
  }

  @Bind(endpoints.decideDelivery)
  async decide(input: InputOf<typeof endpoints.decideDelivery>, call: Call): Promise<DeliveryInfo> {
    const decision = {
      organisationId: call.user.organisationId,
      id: input.params.deliveryId,
      version: input.version,
      as: input.body.as,
      actor: actorOf(call),
      now: this.clock.now(),
    };
    return decideDelivery(this.db, decision);
  }

  @Bind(endpoints.releaseHeld)
  async release(_input: InputOf<typeof endpoints.releaseHeld>, call: Call) {
    const { organisationId } = call.user;
    return { released: await releaseHeld(this.db, { organisationId, now: this.clock.now() }) };
  }

  @Bind(endpoints.listReminders)
  async reminders(input: InputOf<typeof endpoints.listReminders>, call: Call) {
    const season = await getSeason(this.db, call.user.organisationId, input.params.season);
    const paging = new Paging<{ dueAt: Instant; id: string }>(this.cursors, call);
    const { visitId, state } = input.query;
    const rows = await pageReminders(this.db, {
      seasonId: season.id,
      visitId,
      state,
      after: paging.after,
      limit: paging.limit,
    });
    return paging.page(
      rows,
      (row: ReminderInfo) => row,
      ({ dueAt, id }) => ({ dueAt, id }),
    );
  }
}
