import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { inviteUser } from '../../../libs/data/src/account.repository.ts';
import { hashToken, linkToken } from '../../../libs/data/src/action-link.repository.ts';
import {
  listConfirmations,
  recordAnswer,
  recordCalendarAnswer,
} from '../../../libs/data/src/confirmation.repository.ts';
import {
  claimDelivery,
  markFailed,
  markHandingOver,
  markSent,
  recoverDeliveries,
} from '../../../libs/data/src/delivery.repository.ts';
import { decideDelivery, listDeliveries } from '../../../libs/data/src/delivery-desk.repository.ts';
import {
  type OutboxRow,
  oldestWaitingOutboxAt,
  relayOutbox,
} from '../../../libs/data/src/outbox.repository.ts';
import { listReminders, turnDueReminders } from '../../../libs/data/src/reminder.repository.ts';
import { listVisits } from '../../../libs/data/src/visit.repository.ts';
import { addMinutes, type Instant, type LocalDate } from '../../../libs/kernel/src/index.ts';
import { actor, hill, linkSecret, mailDomain, now, openStage, publish, type Stage } from './stage.ts';

let stage: Stage;

beforeAll(async () => {
  stage = await openStage();
  const manager = { email: 'Boss@Example.org', name: 'Boss', role: 'manager', subjectKey: null } as const;
  await inviteUser(stage.db, { ...manager, organisationId: stage.organisationId, actor });
  await publish(stage, [hill]);
}, 60_000);

afterAll(() => stage.close());

/** The token in the message of a template to one recipient, as a worker would write it. */
async function tokenIn(template: string, recipientKey: string): Promise<string> {
  const row = await stage.db.client.delivery.findFirstOrThrow({ where: { template, recipientKey } });
  const [link] = (row.data as { links: { id: string }[] }).links;
  return hashToken(linkToken(linkSecret, link?.id as string));
}

async function later(work: () => Promise<unknown>): Promise<string> {
  return work().then(
    () => 'done',
    (error: { code: string }) => error.code,
  );
}

const visitNow = async () => (await listVisits(stage.db, { seasonId: stage.seasonId }))[0]!;

describe('an answer by link', () => {
  it('counts once, even when it is sent twice at the same time', async () => {
    const answer = {
      tokenHash: await tokenIn('crew-assignment', 'ana'),
      answer: 'accepted' as const,
      now,
      mailDomain,
    };
    const both = await Promise.all([
      later(() => recordAnswer(stage.db, answer)),
      later(() => recordAnswer(stage.db, answer)),
    ]);
    expect(both).toEqual(['done', 'done']);
    const ana = (await visitNow()).assignments.find(({ person }) => person.key === 'ana');
    expect(ana?.state).toBe('accepted');
    const kept = await listConfirmations(stage.db, {
      organisationId: stage.organisationId,
      subjectKind: 'assignment',
      subjectId: ana?.id as string,
    });
    expect(kept).toMatchObject([{ answer: 'accepted', source: 'link', at: now }]);
    const audit = await stage.db.client.auditRow.findFirstOrThrow({
      where: { action: 'assignment.answered' },
    });
    expect(audit).toMatchObject({
      actorKind: 'link',
      actorName: 'person ana',
      before: { state: 'asked' },
      after: { state: 'accepted' },
    });
  });

  it('of a partner who proposes another day is kept and told to the manager', async () => {
    const proposedDay = '2026-06-10' as LocalDate;
    const tokenHash = await tokenIn('lift-request', 'hoist');
    const result = await recordAnswer(stage.db, {
      tokenHash,
      answer: 'proposed',
      proposedDay,
      note: 'crane is away',
      now,
      mailDomain,
    });
    expect(result.state).toBe('asked');
    const [told] = await listDeliveries(stage.db, { organisationId: stage.organisationId, limit: 1 });
    expect(told).toMatchObject({
      template: 'answer-received',
      address: 'boss@example.org',
      data: { answer: 'other-date', proposedDay, note: 'crane is away' },
    });
  });

  it('on a readiness link serves item by item, and a claim is not an acceptance', async () => {
    const tokenHash = await tokenIn('site-preparation', 'hill-school');
    const { readiness } = await visitNow();
    for (const item of readiness) {
      const result = await recordAnswer(stage.db, {
        tokenHash,
        itemId: item.id,
        answer: 'done',
        now,
        mailDomain,
      });
      expect(result).toMatchObject({ subjectKind: 'readinessItem', state: 'claimed' });
    }
    const other = await stage.db.client.readinessItem.findFirstOrThrow({ where: { job: 'lake-build' } });
    const foreign = { tokenHash, itemId: other.id, answer: 'done' as const, now, mailDomain };
    await expect(recordAnswer(stage.db, foreign)).rejects.toMatchObject({ code: 'not-found' });
  });

  it('is not taken after the link has expired', async () => {
    const late = '2026-06-11T03:00:00.000Z' as Instant;
    const answer = {
      tokenHash: await tokenIn('crew-assignment', 'ben'),
      answer: 'accepted' as const,
      now: late,
      mailDomain,
    };
    await expect(recordAnswer(stage.db, answer)).rejects.toMatchObject({ code: 'link-not-valid' });
  });
});

describe('an answer by calendar', () => {
  it('is taken for the invitation as it stands, and refused for an older one', async () => {
    const ben = (await visitNow()).assignments.find(({ person }) => person.key === 'ben');
    const reply = {
      icalUid: ben?.icalUid as string,
      icalSequence: 0,
      answer: 'declined' as const,
      raw: 'REPLY',
      now,
      mailDomain,
    };
    await expect(recordCalendarAnswer(stage.db, { ...reply, icalSequence: 7 })).rejects.toMatchObject({
      code: 'state-conflict',
    });
    await expect(recordCalendarAnswer(stage.db, { ...reply, icalUid: 'nobody' })).rejects.toMatchObject({
      code: 'not-found',
    });
    expect((await recordCalendarAnswer(stage.db, reply)).state).toBe('declined');
  });
});

describe('a delivery', () => {
  const pending = async (template: string) => {
    const row = await stage.db.client.delivery.findFirstOrThrow({ where: { template, state: 'pending' } });
    return row.id;
  };

  it('is claimed by one worker only', async () => {
    const id = await pending('arrival-notice');
    const claims = await Promise.all(
      ['a', 'b', 'c'].map((worker) => claimDelivery(stage.db, { id, worker, now: addMinutes(now, 1) })),
    );
    const won = claims.filter((claim) => claim !== null);
    expect(won).toMatchObject([{ id, attempt: 1, state: 'sending' }]);
    await markHandingOver(stage.db, { id, attempt: 1, subject: 'Arrival', body: 'We come.' });
    await markSent(stage.db, { id, attempt: 1, response: '250 ok', now });
    await expect(markSent(stage.db, { id, attempt: 1, response: '250 ok', now })).rejects.toMatchObject({
      code: 'state-conflict',
    });
    const tries = await stage.db.client.deliveryAttempt.findMany({ where: { deliveryId: id } });
    expect(tries).toMatchObject([{ attempt: 1, outcome: 'sent', response: '250 ok' }]);
  });

  it('that failed for now is tried again later, with a fresh outbox row', async () => {
    const id = await pending('crew-assignment');
    await claimDelivery(stage.db, { id, worker: 'a', now: addMinutes(now, 1) });
    const retryAt = addMinutes(now, 10);
    await markFailed(stage.db, { id, attempt: 1, fault: '451 later', retryAt, now });
    expect(await claimDelivery(stage.db, { id, worker: 'a', now: addMinutes(now, 9) })).toBeNull();
    const outbox = await stage.db.client.outboxRow.findUniqueOrThrow({
      where: { key: `delivery.send-${id}-2` },
    });
    expect(outbox.notBefore.toISOString()).toBe(retryAt);
    expect(await claimDelivery(stage.db, { id, worker: 'a', now: retryAt })).toMatchObject({ attempt: 2 });
    await markFailed(stage.db, { id, attempt: 2, fault: '550 no', retryAt: null, now });
  });

  it('that a crash left behind is sent again only if it certainly has not left', async () => {
    const sending = await pending('crew-assignment');
    const handing = await pending('site-preparation');
    const claimedAt = addMinutes(now, 1);
    await claimDelivery(stage.db, { id: sending, worker: 'a', now: claimedAt });
    await claimDelivery(stage.db, { id: handing, worker: 'a', now: claimedAt });
    await markHandingOver(stage.db, { id: handing, attempt: 1, subject: 's', body: 'b' });
    expect(await recoverDeliveries(stage.db, { now: addMinutes(now, 3), silentMin: 5 })).toEqual({
      pending: 0,
      uncertain: 0,
    });
    expect(await recoverDeliveries(stage.db, { now: addMinutes(now, 7), silentMin: 5 })).toEqual({
      pending: 1,
      uncertain: 1,
    });
    const row = await stage.db.client.delivery.findUniqueOrThrow({ where: { id: handing } });
    expect(row.state).toBe('uncertain');
    expect(await claimDelivery(stage.db, { id: handing, worker: 'a', now: addMinutes(now, 8) })).toBeNull();
    const decided = await decideDelivery(stage.db, {
      organisationId: stage.organisationId,
      id: handing,
      version: row.version,
      as: 'arrived',
      actor,
      now,
    });
    expect(decided.state).toBe('sent');
  });
});

describe('the outbox', () => {
  it('marks rows only when they were handed on, and hands each on once', async () => {
    const at = addMinutes(now, 60);
    const failing = relayOutbox(stage.db, { now: at, limit: 100 }, async () => {
      throw new Error('queue is down');
    });
    await expect(failing).rejects.toThrow();
    expect(await oldestWaitingOutboxAt(stage.db)).not.toBeNull();
    const seen: OutboxRow[] = [];
    const collect = async (rows: OutboxRow[]) => {
      seen.push(...rows);
    };
    const counts = await Promise.all(
      [1, 2, 3].map(() => relayOutbox(stage.db, { now: at, limit: 3 }, collect)),
    );
    expect(counts.reduce((sum, count) => sum + count, 0)).toBe(seen.length);
    expect(new Set(seen.map((row) => row.key)).size).toBe(seen.length);
    while ((await relayOutbox(stage.db, { now: at, limit: 3 }, collect)) > 0);
    expect(await oldestWaitingOutboxAt(stage.db)).toBeNull();
    expect(seen.length).toBe(await stage.db.client.outboxRow.count());
  });
});

describe('reminders', () => {
  it('become messages when they are due, once, and are skipped when there is nothing left to say', async () => {
    const waiting = await listReminders(stage.db, { seasonId: stage.seasonId, states: ['pending'] });
    const first = waiting[0]!;
    expect(
      await turnDueReminders(stage.db, { now: addMinutes(first.dueAt, -1), limit: 10, mailDomain }),
    ).toEqual({ done: 0, skipped: 0 });
    // All items were claimed above, so the customer's ladder has nothing left to say.
    const eve = '2026-06-07T20:00:00.000Z' as Instant;
    const results = await Promise.all(
      [1, 2].map(() => turnDueReminders(stage.db, { now: eve, limit: 100, mailDomain })),
    );
    const sum = (what: 'done' | 'skipped') => results.reduce((total, result) => total + result[what], 0);
    // Both partners have not confirmed and ana goes; the four of the customer and that of ben, who declined, are skipped.
    expect({ done: sum('done'), skipped: sum('skipped') }).toEqual({ done: 3, skipped: 5 });
    const written = await stage.db.client.delivery.findMany({
      where: { reminderId: { not: null } },
      orderBy: { recipientKey: 'asc' },
    });
    expect(written.map((row) => `${row.template} ${row.recipientKey}`)).toEqual([
      'crew-reminder ana',
      'partner-reminder haul',
      'partner-reminder hoist',
    ]);
    expect(await turnDueReminders(stage.db, { now: eve, limit: 100, mailDomain })).toEqual({
      done: 0,
      skipped: 0,
    });
  });
});
