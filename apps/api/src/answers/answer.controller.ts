import { Controller, Inject } from '@nestjs/common';
import * as endpoints from '../../../../libs/contracts/src/http/answers.ts';
import type { InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import { type AuditRow, listAudit } from '../../../../libs/data/src/audit.repository.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { type AnswerSummary, pageAnswers } from '../../../../libs/data/src/listing/answer-page.ts';
import { findWhatNext } from '../../../../libs/data/src/listing/what-next.ts';
import { getOrganisation } from '../../../../libs/data/src/organisation.repository.ts';
import { getSeason } from '../../../../libs/data/src/season.repository.ts';
import { changeRow, findRow } from '../../../../libs/data/src/season-rows.repository.ts';
import { type Clock, DryspellError, type Instant, localDateAt } from '../../../../libs/kernel/src/index.ts';
import { actorOf } from '../data/acting.ts';
import { DATABASE } from '../data/database.token.ts';
import { Bind } from '../frame/bind.decorator.ts';
import type { Call } from '../frame/call.ts';
import { Cursors } from '../frame/cursor.ts';
import { Paging } from '../frame/paging.ts';
import { CLOCK } from '../tokens.ts';
import { wordsOf } from './what-next-words.ts';

/** Most things of one kind in the overview. */
const MOST_OF_A_KIND = 50;

/** From which states a readiness item may be judged so. */
const JUDGED_FROM = {
  accepted: ['open', 'claimed', 'refused'],
  returned: ['claimed', 'accepted'],
  waived: ['open', 'claimed', 'refused'],
} as const;

@Controller()
export class AnswerController {
  constructor(
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
    @Inject(Cursors) private readonly cursors: Cursors,
  ) {}

  @Bind(endpoints.listAnswers)
  async list(input: InputOf<typeof endpoints.listAnswers>, call: Call) {
    const paging = new Paging<{ at: Instant; id: string }>(this.cursors, call);
    const rows = await pageAnswers(this.db, {
      organisationId: call.user.organisationId,
      subjectKind: input.query.subjectKind,
      after: paging.after,
      limit: paging.limit,
    });
    return paging.page(
      rows,
      (row: AnswerSummary) => row,
      ({ at, id }) => ({ at, id }),
    );
  }

  @Bind(endpoints.whatNext)
  async whatNext(input: InputOf<typeof endpoints.whatNext>, call: Call) {
    const { organisationId } = call.user;
    const { season } = input.query;
    if (season !== undefined) await getSeason(this.db, organisationId, season);
    const organisation = await getOrganisation(this.db, organisationId);
    const asOf = this.clock.now();
    const today = localDateAt(asOf, organisation.zone);
    const { items, totals } = await findWhatNext(this.db, {
      organisationId,
      season,
      today,
      limit: MOST_OF_A_KIND,
    });
    const byDue = [...items].sort((a, b) => (a.dueOn ?? '9999').localeCompare(b.dueOn ?? '9999'));
    const more = Object.entries(totals).flatMap(([kind, total]) => {
      const listed = items.filter((item) => item.kind === kind).length;
      return total > listed ? [[kind, total - listed]] : [];
    });
    return {
      asOf,
      items: byDue.map((item) => ({ ...item, ...wordsOf(item) })),
      more: Object.fromEntries(more),
    };
  }

  @Bind(endpoints.judgeReadinessItem)
  async judge(input: InputOf<typeof endpoints.judgeReadinessItem>, call: Call) {
    const { job, key } = input.params;
    const { as, remark } = input.body;
    const season = await getSeason(this.db, call.user.organisationId, input.params.season);
    const target = { seasonId: season.id, table: 'readinessItems' as const };
    const item = await findRow(this.db, { ...target, key: { job, key } });
    if (!item) throw new DryspellError('not-found', { job, item: key });
    const state = String(item.row['state']);
    if (!(JUDGED_FROM[as] as readonly string[]).includes(state))
      throw new DryspellError('state-conflict', { state });
    const changes = { state: as === 'returned' ? 'refused' : as, ...(remark === null ? {} : { remark }) };
    const after = await changeRow(this.db, {
      ...target,
      id: item.id,
      version: input.version,
      changes,
      actor: actorOf(call),
    });
    return { job, key, state: after.row['state'], version: after.version };
  }

  @Bind(endpoints.listAudit)
  async audit(input: InputOf<typeof endpoints.listAudit>, call: Call) {
    const paging = new Paging<{ id: string }>(this.cursors, call);
    const { organisationId } = call.user;
    const { season, subjectKind, subjectId } = input.query;
    const { rows, nextBeforeId } = await listAudit(this.db, {
      organisationId,
      ...(season === undefined ? {} : { seasonId: (await getSeason(this.db, organisationId, season)).id }),
      ...(subjectKind === undefined ? {} : { subjectKind }),
      ...(subjectId === undefined ? {} : { subjectId }),
      beforeId: paging.after?.id ?? null,
      limit: paging.limit,
    });
    return paging.pageOf<AuditRow>(rows, nextBeforeId === null ? null : { id: nextBeforeId });
  }
}
