import { Controller, Inject } from '@nestjs/common';
import * as endpoints from '../../../../libs/contracts/src/http/accounts.ts';
import type { InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import {
  type Account,
  getUser,
  inviteUser,
  listUsers,
  revokeUser,
} from '../../../../libs/data/src/account.repository.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { getOrganisation } from '../../../../libs/data/src/organisation.repository.ts';
import { DryspellError } from '../../../../libs/kernel/src/index.ts';
import { actorOf } from '../data/acting.ts';
import { DATABASE } from '../data/database.token.ts';
import { Bind } from '../frame/bind.decorator.ts';
import type { Call } from '../frame/call.ts';
import { Cursors } from '../frame/cursor.ts';
import { Paging } from '../frame/paging.ts';
import { Reply } from '../frame/reply.ts';
import { SignInService } from './sign-in.service.ts';

@Controller()
export class AccountController {
  constructor(
    @Inject(DATABASE) private readonly db: Database,
    @Inject(Cursors) private readonly cursors: Cursors,
    @Inject(SignInService) private readonly signIn: SignInService,
  ) {}

  @Bind(endpoints.getMe)
  async me(_input: InputOf<typeof endpoints.getMe>, call: Call) {
    const { userId, organisationId, name, email, role, subjectKey } = call.user;
    const organisation = await getOrganisation(this.db, organisationId);
    return {
      userId,
      name,
      role,
      email,
      subjectKey,
      organisation: { id: organisation.id, name: organisation.name, demo: organisation.isDemo },
    };
  }

  @Bind(endpoints.listUsers)
  async list(input: InputOf<typeof endpoints.listUsers>, call: Call) {
    const paging = new Paging<{ id: string }>(this.cursors, call);
    const { role } = input.query;
    const rows = await listUsers(this.db, {
      organisationId: call.user.organisationId,
      ...(role === undefined ? {} : { role }),
      afterId: paging.after?.id ?? null,
      limit: paging.limit + 1,
    });
    return paging.page(
      rows,
      (row: Account) => row,
      (row) => ({ id: row.id }),
    );
  }

  @Bind(endpoints.inviteUser)
  async invite(input: InputOf<typeof endpoints.inviteUser>, call: Call): Promise<Reply> {
    const account = await inviteUser(this.db, {
      ...input.body,
      organisationId: call.user.organisationId,
      actor: actorOf(call),
    });
    await this.signIn.sendLink(account.email);
    return Reply.json(201, account);
  }

  @Bind(endpoints.revokeUser)
  async revoke(input: InputOf<typeof endpoints.revokeUser>, call: Call) {
    const { organisationId, userId } = call.user;
    const account = await getUser(this.db, organisationId, input.params.userId);
    if (account.userId === userId && account.role === 'manager') {
      throw new DryspellError('state-conflict', {
        detail: 'Nobody can shut the account with which they are signed in.',
      });
    }
    return revokeUser(this.db, {
      organisationId,
      id: account.id,
      version: input.version,
      actor: actorOf(call),
    });
  }
}
