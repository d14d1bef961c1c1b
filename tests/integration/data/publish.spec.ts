import { afterAll, beforeAll, beforeEach, describe, expect, it } from '@jest/globals';
import { hashToken, linkToken, readLink } from '../../../libs/data/src/action-link.repository.ts';
import { createDatabase, type Database } from '../../../libs/data/src/database.ts';
import { ensureOrganisation } from '../../../libs/data/src/organisation.repository.ts';
import { createDraftPlan, getPlanDifference, listPlans } from '../../../libs/data/src/plan.repository.ts';
import { publishPlan } from '../../../libs/data/src/publish.repository.ts';
import { exportSeason } from '../../../libs/data/src/season-export.repository.ts';
import { applyImport, planImport } from '../../../libs/data/src/season-import.repository.ts';
import type { Instant } from '../../../libs/kernel/src/index.ts';
import { createTestDatabase, type TestDatabase } from '../../builders/test-database.ts';
import { planOf, smallPatterns, smallSeasonFile, type VisitSketch } from './small-season.ts';
import { actor, hill, linkSecret, now, publish as publishOn } from './stage.ts';

let testDatabase: TestDatabase;
let db: Database;
let organisationId: string;
let seasonId: string;
let count = 0;

beforeAll(async () => {
  testDatabase = await createTestDatabase();
  db = createDatabase({ url: testDatabase.url });
}, 60_000);

afterAll(async () => {
  await db.close();
  await testDatabase.drop();
});

beforeEach(async () => {
  count += 1;
  const organisation = {
    key: `firm-${count}`,
    name: 'Larch & Loon Domes (invented)',
    zone: 'America/Halifax',
    isDemo: true,
  };
  organisationId = (await ensureOrganisation(db, organisation, actor)).id;
  const report = await applyImport(db, organisationId, smallSeasonFile(), actor);
  seasonId = report.seasonId as string;
});

const publish = (visits: readonly VisitSketch[], totalCents?: number) =>
  publishOn({ db, seasonId }, visits, totalCents);

const lake: VisitSketch = {
  job: 'lake-build',
  crew: 'south',
  days: ['2026-06-15', '2026-06-16'],
  reserve: ['2026-06-17'],
  liftUnit: 'crane-1',
  casualHands: ['eli'],
};
const cape: VisitSketch = { job: 'cape-build', crew: 'north', days: ['2026-06-22', '2026-06-23'] };

const visitsNow = () => db.client.visit.findMany({ where: { seasonId }, orderBy: { job: 'asc' } });
const messagesOf = async (planTail = '') =>
  (
    await db.client.delivery.findMany({
      where: { seasonId, dedupeKey: { endsWith: planTail } },
      orderBy: { template: 'asc' },
    })
  ).map((row) => `${row.template} ${row.recipientKey} ${row.state}`);

describe('publishing a first plan', () => {
  it('writes visits, people, holds, due dates and the places of the jobs', async () => {
    const report = await publish([hill, lake, cape]);
    expect(report.visits).toEqual({ added: 3, changed: 0, cancelled: 0, unchanged: 0 });
    expect(report.assignments).toEqual({ added: 7, changed: 0, cancelled: 0 });
    const assignments = await db.client.assignment.findMany({
      where: { seasonId },
      orderBy: [{ visit: { job: 'asc' } }, { person: 'asc' }],
    });
    expect(assignments.map((row) => `${row.person} ${row.role} ${row.state}`)).toEqual([
      'ana lead asked',
      'ben hand asked',
      'ana lead asked',
      'ben hand asked',
      'cat lead asked',
      'dov hand asked',
      'eli casual asked',
    ]);
    // One reserve day: the lift is held on the first site day and on the day to which it may slip.
    const holds = await db.client.liftHold.findMany({ where: { seasonId }, orderBy: { fromDay: 'asc' } });
    expect(
      holds.map((row) => [
        row.fromDay.toISOString().slice(0, 10),
        row.toDay.toISOString().slice(0, 10),
        row.state,
      ]),
    ).toEqual([
      ['2026-06-08', '2026-06-09', 'asked'],
      ['2026-06-15', '2026-06-16', 'asked'],
    ]);
    const items = await db.client.readinessItem.findMany({
      where: { seasonId },
      orderBy: [{ job: 'asc' }, { key: 'asc' }],
    });
    expect(items.map((row) => row.dueOn?.toISOString().slice(0, 10))).toEqual([
      '2026-05-25',
      '2026-06-06',
      '2026-06-01',
    ]);
    const file = await exportSeason(db, organisationId, 'small');
    expect(file.jobs.map((row) => [row.key, row.publishedStart, row.publishedCrew])).toEqual([
      ['cape-build', '2026-06-22', 'north'],
      ['hill-build', '2026-06-08', 'north'],
      ['lake-build', '2026-06-15', 'south'],
    ]);
    expect(file.deliveryRuns).toMatchObject([{ job: 'hill-build', day: '2026-06-05', state: 'asked' }]);
  });

  it('writes each message once, held where no address is known, and an outbox row for each that can go', async () => {
    await publish([hill, lake, cape]);
    const counted = await db.client.delivery.groupBy({
      by: ['template', 'state'],
      where: { seasonId },
      _count: true,
    });
    expect(Object.fromEntries(counted.map((row) => [`${row.template} ${row.state}`, row._count]))).toEqual({
      'arrival-notice pending': 3,
      'crew-assignment held': 1,
      'crew-assignment pending': 6,
      'delivery-request pending': 1,
      'lift-request pending': 2,
      'site-preparation pending': 2,
    });
    const pending = await db.client.delivery.findMany({ where: { seasonId, state: 'pending' } });
    const outbox = await db.client.outboxRow.findMany({
      where: { key: { in: pending.map((row) => `delivery.send-${row.id}-1`) } },
    });
    expect(outbox.map((row) => row.payload)).toHaveLength(14);
  });

  it('keeps no token, but one can be derived from the secret and the id of the link', async () => {
    await publish([hill]);
    const delivery = await db.client.delivery.findFirstOrThrow({
      where: { seasonId, template: 'crew-assignment' },
    });
    const { links } = delivery.data as { links: { id: string; purpose: string }[] };
    const token = linkToken(linkSecret, links[0]?.id as string);
    expect(JSON.stringify(await db.client.actionLink.findMany({ where: { seasonId } }))).not.toContain(token);
    expect(JSON.stringify(delivery)).not.toContain(token);
    expect(await readLink(db, { tokenHash: hashToken(token), now })).toMatchObject({
      purpose: 'crew-assignment',
      subjectKind: 'assignment',
      recipient: { kind: 'person', key: delivery.recipientKey },
    });
    expect(
      await readLink(db, { tokenHash: hashToken(linkToken('another secret', links[0]?.id as string)), now }),
    ).toBeNull();
    const late = '2026-06-11T03:00:00.000Z' as Instant;
    expect(await readLink(db, { tokenHash: hashToken(token), now: late })).toBeNull();
  });

  it('sets reminders at local times of the site, of the person and of the partner, none in the past', async () => {
    const report = await publish([
      cape,
      { ...hill, days: ['2026-05-12', '2026-05-13'], reserve: [], deliveryDay: '2026-05-11' },
    ]);
    const rows = await db.client.reminder.findMany({
      where: { seasonId },
      orderBy: [{ dueAt: 'asc' }, { recipientKey: 'asc' }],
    });
    expect(report.reminders).toBe(rows.length);
    const line = (row: (typeof rows)[number]) =>
      `${row.purpose} ${row.recipientKey} ${row.dueAt.toISOString()}`;
    expect(rows.map(line)).toEqual([
      'customer-preparation hill-school 2026-05-05T11:00:00.000Z',
      'partner-confirmation haul 2026-05-07T12:00:00.000Z',
      'partner-confirmation hoist 2026-05-07T12:00:00.000Z',
      'customer-preparation hill-school 2026-05-10T11:00:00.000Z',
      // 16:00 of the day before and 05:30 on the day of the first outside day, on the clocks of the site.
      'brief-day-before managers-and-lead 2026-05-11T19:00:00.000Z',
      'crew-day-before ana 2026-05-11T20:00:00.000Z',
      'crew-day-before ben 2026-05-11T20:00:00.000Z',
      'brief-on-the-day managers-and-lead 2026-05-12T08:30:00.000Z',
      // Newfoundland is at -02:30 in summer: 08:00 there is 10:30 UTC.
      'customer-preparation cape-school 2026-05-25T10:30:00.000Z',
      'customer-preparation cape-school 2026-06-08T10:30:00.000Z',
      'customer-preparation cape-school 2026-06-15T10:30:00.000Z',
      'customer-preparation cape-school 2026-06-20T10:30:00.000Z',
      'brief-day-before managers-and-lead 2026-06-21T18:30:00.000Z',
      'crew-day-before ana 2026-06-21T20:00:00.000Z',
      'crew-day-before ben 2026-06-21T20:00:00.000Z',
      'brief-on-the-day managers-and-lead 2026-06-22T08:00:00.000Z',
    ]);
  });
});

describe('publishing a second plan', () => {
  it('writes to nobody when nothing changed, and keeps who accepted', async () => {
    const first = await publish([hill, lake, cape]);
    await db.client.assignment.updateMany({ where: { seasonId }, data: { state: 'accepted' } });
    const before = await visitsNow();
    const second = await publish([hill, lake, cape]);
    expect(second.visits).toEqual({ added: 0, changed: 0, cancelled: 0, unchanged: 3 });
    expect(second).toMatchObject({ deliveries: 0, assignments: { added: 0, changed: 0, cancelled: 0 } });
    expect(second.reminders).toBe(first.reminders);
    expect(await db.client.assignment.count({ where: { seasonId, state: 'accepted' } })).toBe(7);
    const identity = (rows: Awaited<ReturnType<typeof visitsNow>>) =>
      rows.map((row) => [row.id, row.uid, row.sequence]);
    expect(identity(await visitsNow())).toEqual(identity(before));
    expect((await listPlans(db, seasonId)).map((plan) => plan.status)).toEqual(['published', 'superseded']);
  });

  it('lets two visits change places, and keeps their uids with a higher sequence', async () => {
    await publish([hill, lake, cape]);
    const before = await visitsNow();
    const swapped = await publish(
      [
        { ...hill, days: cape.days, reserve: [] as string[], liftUnit: 'crane-1', deliveryDay: '2026-06-19' },
        lake,
        { ...cape, days: hill.days },
      ],
      1_200_000,
    );
    expect(swapped.visits).toEqual({ added: 0, changed: 2, cancelled: 0, unchanged: 1 });
    const after = await visitsNow();
    expect(after.map((row) => row.uid)).toEqual(before.map((row) => row.uid));
    expect(after.map((row) => [row.job, row.sequence])).toEqual([
      ['cape-build', 1],
      ['hill-build', 1],
      ['lake-build', 0],
    ]);
    expect(swapped.difference).toMatchObject({
      moved: [
        { job: 'cape-build', from: { start: '2026-06-22' }, to: { start: '2026-06-08' } },
        { job: 'hill-build', from: { start: '2026-06-08' }, to: { start: '2026-06-22' } },
      ],
      unchanged: 1,
      fromTotalCents: 1_000_000,
      toTotalCents: 1_200_000,
    });
    expect((await getPlanDifference(db, swapped.planId))?.content).toEqual(swapped.difference);
    const lines = await messagesOf(swapped.planId);
    expect(lines.filter((line) => line.startsWith('crew-assignment-changed'))).toHaveLength(4);
    expect(lines.filter((line) => line.includes('lake') || line.includes('cat'))).toEqual([]);
    // What had not left yet on the same matter is called off.
    expect(
      await db.client.delivery.count({
        where: { seasonId, state: 'cancelled', template: 'crew-assignment' },
      }),
    ).toBe(4);
  });

  it('calls off what is dropped and takes the same row up again later', async () => {
    await publish([hill, lake, cape]);
    const dropped = await publish([lake, cape]);
    expect(dropped.visits).toEqual({ added: 0, changed: 0, cancelled: 1, unchanged: 2 });
    expect(dropped.difference.dropped).toMatchObject([{ job: 'hill-build' }]);
    expect((await messagesOf(dropped.planId)).sort()).toEqual([
      'arrival-cancelled hill-school pending',
      'crew-assignment-cancelled ana pending',
      'crew-assignment-cancelled ben pending',
      'lift-request-cancelled hoist pending',
    ]);
    const open = { seasonId, visit: { job: 'hill-build' }, state: 'pending' } as const;
    expect(await db.client.reminder.count({ where: open })).toBe(0);
    const item = await db.client.readinessItem.findFirstOrThrow({ where: { seasonId, job: 'hill-build' } });
    expect(item.dueOn).toBeNull();
    const cancelled = (await visitsNow()).find((row) => row.job === 'hill-build');
    const again = await publish([hill, lake, cape]);
    expect(again.visits).toEqual({ added: 1, changed: 0, cancelled: 0, unchanged: 2 });
    const revived = (await visitsNow()).find((row) => row.job === 'hill-build');
    expect(revived).toMatchObject({ id: cancelled?.id, uid: cancelled?.uid, sequence: 2, state: 'planned' });
    const ana = await db.client.assignment.findFirstOrThrow({
      where: { visitId: revived?.id as string, person: 'ana' },
    });
    expect(ana).toMatchObject({ state: 'asked', icalSequence: 2 });
  });
});

describe('publishing that fails', () => {
  it('changes nothing at all when two visits would claim one crew', async () => {
    await publish([hill, lake]);
    const before = await visitsNow();
    await expect(
      publish([hill, { ...lake, crew: 'north', days: ['2026-06-10', '2026-06-11'], liftUnit: null }]),
    ).rejects.toMatchObject({
      code: 'overlap',
      data: { constraint: 'visits_crew_overlap' },
    });
    expect(await visitsNow()).toEqual(before);
    expect((await listPlans(db, seasonId)).map((plan) => plan.status)).toEqual(['draft', 'published']);
    expect(await db.client.delivery.count({ where: { seasonId, state: 'cancelled' } })).toBe(0);
  });

  it('is refused when the plan names what the season does not have', async () => {
    await expect(publish([{ ...hill, casualHands: ['nobody'] }])).rejects.toMatchObject({
      code: 'plan-not-valid',
      data: { unknown: ['person nobody'] },
    });
  });

  it('is refused when somebody else published the plan first', async () => {
    const plan = await createDraftPlan(db, { seasonId, plan: planOf([hill]), actor });
    const input = {
      seasonId,
      planId: plan.id,
      version: plan.version,
      problem: smallPatterns,
      actor,
      now,
      linkSecret,
      mailDomain: 'x.example',
    };
    const both = await Promise.allSettled([publishPlan(db, input), publishPlan(db, input)]);
    expect(both.map((result) => result.status).sort()).toEqual(['fulfilled', 'rejected']);
    expect(both.find((result) => result.status === 'rejected')).toMatchObject({
      reason: { kind: 'conflict' },
    });
    expect(await db.client.visit.count({ where: { seasonId } })).toBe(1);
  });

  it('is refused when it would move a visit that has begun', async () => {
    await publish([hill]);
    await db.client.visit.updateMany({ where: { seasonId }, data: { state: 'underway' } });
    await expect(
      publish([{ ...hill, days: ['2026-06-22', '2026-06-23'], reserve: [] as string[] }]),
    ).rejects.toMatchObject({
      code: 'state-conflict',
    });
    await expect(publish([])).rejects.toMatchObject({ code: 'state-conflict' });
    expect((await publish([hill])).visits.unchanged).toBe(1);
  });
});

describe('importing over a published plan', () => {
  it('keeps the published places and says so', async () => {
    await publish([hill, lake, cape]);
    const report = await applyImport(db, organisationId, smallSeasonFile(), actor);
    expect(report.notes).toEqual([expect.stringContaining('3 jobs were kept')]);
    expect((await exportSeason(db, organisationId, 'small')).jobs[1]).toMatchObject({
      publishedStart: '2026-06-08',
    });
  });

  it('refuses to remove what a published visit refers to, naming each row', async () => {
    await publish([hill, lake, cape]);
    const file = smallSeasonFile() as Record<string, Record<string, unknown>[]>;
    for (const table of ['jobs', 'readinessItems', 'deliveryRuns', 'equipmentUnits']) file[table] = [];
    const planned = await planImport(db, organisationId, file);
    expect(planned.ok).toBe(false);
    expect(planned.faults.map((fault) => [fault.table, fault.value, fault.code])).toEqual([
      ['equipmentUnits', 'trailer-1', 'still-used'],
      ['jobs', 'cape-build', 'still-used'],
      ['jobs', 'hill-build', 'still-used'],
      ['jobs', 'lake-build', 'still-used'],
    ]);
    await expect(applyImport(db, organisationId, file, actor)).rejects.toMatchObject({
      code: 'season-file-invalid',
    });
  });
});
