import type { Instant, LocalDate } from '../../../kernel/src/index.ts';
import type { Prisma } from '../../generated/client.ts';
import { turnedAdvice } from '../brief/turned-advice.ts';
import type { Database } from '../database.ts';
import { toInstant, toInstantOrNull } from '../moments.ts';
import { dateFromDatabase, dateToDatabase } from '../season-tables.ts';

export type WhatNextKind =
  | 'advice-turned'
  | 'assignment-declined'
  | 'assignment-unanswered'
  | 'lift-declined'
  | 'lift-unconfirmed'
  | 'delivery-run-unconfirmed'
  | 'other-date-proposed'
  | 'readiness-claimed'
  | 'readiness-refused'
  | 'readiness-overdue'
  | 'message-uncertain'
  | 'message-failed'
  | 'message-held'
  | 'plan-refused';

export interface WhatNextItem {
  readonly kind: WhatNextKind;
  /** Names and values that the words need. */
  readonly facts: Readonly<Record<string, string>>;
  readonly since: Instant | null;
  /** The day by which it should be settled. */
  readonly dueOn: LocalDate | null;
  readonly subjectKind: string;
  readonly subjectId: string;
  readonly season: string | null;
  readonly job: string | null;
  readonly visitId: string | null;
}

export interface WhatNextQuery {
  readonly organisationId: string;
  /** Key of the only season to look at; all seasons when absent. */
  readonly season?: string | undefined;
  /** Today at the office: readiness items due before it are overdue. */
  readonly today: LocalDate;
  /** Most items of one kind. */
  readonly limit: number;
}

/** What needs the manager, kind by kind, each with how many there are in all. */
export interface WhatNext {
  readonly items: readonly WhatNextItem[];
  readonly totals: Readonly<Partial<Record<WhatNextKind, number>>>;
}

interface Found {
  readonly kind: WhatNextKind;
  readonly total: number;
  readonly items: readonly WhatNextItem[];
}

const VISIT = { include: { season: { select: { key: true } }, jobRow: true } } as const;
const OPEN_VISIT = { state: { in: ['planned', 'underway'] } };

/** Everything that waits for a decision of the manager. */
export async function findWhatNext(db: Database, query: WhatNextQuery): Promise<WhatNext> {
  const found = [
    await adviceTurned(db, query),
    ...(await assignments(db, query)),
    ...(await lifts(db, query)),
    await runs(db, query),
    await otherDates(db, query),
    ...(await readiness(db, query)),
    ...(await messages(db, query)),
    await refusedPlans(db, query),
  ];
  return {
    items: found.flatMap((group) => group.items),
    totals: Object.fromEntries(
      found.filter((group) => group.total > 0).map((group) => [group.kind, group.total]),
    ),
  };
}

function seasonWhere(query: WhatNextQuery): Prisma.SeasonWhereInput {
  return {
    organisationId: query.organisationId,
    ...(query.season === undefined ? {} : { key: query.season }),
  };
}

async function assignments(db: Database, query: WhatNextQuery): Promise<Found[]> {
  const kinds = [
    ['assignment-declined', 'declined'],
    ['assignment-unanswered', 'asked'],
  ] as const;
  return Promise.all(
    kinds.map(async ([kind, state]) => {
      const where: Prisma.AssignmentWhereInput = { season: seasonWhere(query), state, visit: OPEN_VISIT };
      const total = await db.client.assignment.count({ where });
      const rows = await db.client.assignment.findMany({
        where,
        include: { personRow: true, visit: VISIT },
        orderBy: [{ fromDay: 'asc' }, { id: 'asc' }],
        take: query.limit,
      });
      const items = rows.map((row) => ({
        kind,
        facts: { person: row.personRow.name, job: row.visit.jobRow.title, note: row.answerNote ?? '' },
        since: toInstantOrNull(row.answeredAt) ?? toInstant(row.createdAt),
        dueOn: dateFromDatabase(row.visit.startDay),
        subjectKind: 'assignment',
        subjectId: row.id,
        season: row.visit.season.key,
        job: row.visit.job,
        visitId: row.visitId,
      }));
      return { kind, total, items };
    }),
  );
}

async function lifts(db: Database, query: WhatNextQuery): Promise<Found[]> {
  const kinds = [
    ['lift-declined', ['declined']],
    ['lift-unconfirmed', ['needed', 'asked', 'held']],
  ] as const;
  return Promise.all(
    kinds.map(async ([kind, states]) => {
      const where: Prisma.LiftHoldWhereInput = {
        season: seasonWhere(query),
        state: { in: [...states] },
        visit: OPEN_VISIT,
      };
      const total = await db.client.liftHold.count({ where });
      const rows = await db.client.liftHold.findMany({
        where,
        include: { liftRow: true, visit: VISIT },
        orderBy: [{ fromDay: 'asc' }, { id: 'asc' }],
        take: query.limit,
      });
      const items = rows.map((row) => ({
        kind,
        facts: { lift: row.liftRow.name, job: row.visit.jobRow.title },
        since: toInstantOrNull(row.answeredAt) ?? toInstant(row.createdAt),
        dueOn: dateFromDatabase(row.fromDay),
        subjectKind: 'liftHold',
        subjectId: row.id,
        season: row.visit.season.key,
        job: row.visit.job,
        visitId: row.visitId,
      }));
      return { kind, total, items };
    }),
  );
}

async function runs(db: Database, query: WhatNextQuery): Promise<Found> {
  const kind = 'delivery-run-unconfirmed';
  const where: Prisma.DeliveryRunWhereInput = {
    season: seasonWhere(query),
    state: { in: ['needed', 'asked'] },
    jobRow: { visit: OPEN_VISIT },
  };
  const total = await db.client.deliveryRun.count({ where });
  const rows = await db.client.deliveryRun.findMany({
    where,
    include: { season: { select: { key: true } }, jobRow: { include: { visit: true } } },
    orderBy: [{ day: 'asc' }, { id: 'asc' }],
    take: query.limit,
  });
  const items = rows.map(
    (row): WhatNextItem => ({
      kind,
      facts: { job: row.jobRow.title },
      since: toInstant(row.createdAt),
      dueOn: dateFromDatabase(row.day),
      subjectKind: 'deliveryRun',
      subjectId: row.id,
      season: row.season.key,
      job: row.job,
      visitId: row.jobRow.visit?.id ?? null,
    }),
  );
  return { kind, total, items };
}

/** A wish for another day that nobody has answered by a later word on the same thing. Most are few, so all are read. */
async function otherDates(db: Database, query: WhatNextQuery): Promise<Found> {
  const kind = 'other-date-proposed';
  const said = await db.client.confirmation.findMany({
    where: {
      organisationId: query.organisationId,
      subjectKind: { in: ['liftHold', 'deliveryRun', 'visit'] },
    },
    orderBy: [{ at: 'desc' }, { id: 'desc' }],
    distinct: ['subjectKind', 'subjectId'],
  });
  const open = said.filter(
    (row) => row.answer === 'proposed' || (row.subjectKind === 'visit' && row.answer === 'declined'),
  );
  const idsOf = (subjectKind: string) => ({
    in: open.filter((row) => row.subjectKind === subjectKind).map((row) => row.subjectId),
  });
  const visits = await db.client.visit.findMany({
    where: { ...OPEN_VISIT, season: seasonWhere(query), id: idsOf('visit') },
    ...VISIT,
  });
  const holds = await db.client.liftHold.findMany({
    where: {
      id: idsOf('liftHold'),
      state: { not: 'off' },
      visit: { ...OPEN_VISIT, season: seasonWhere(query) },
    },
    include: { visit: VISIT },
  });
  const deliveries = await db.client.deliveryRun.findMany({
    where: { id: idsOf('deliveryRun'), season: seasonWhere(query), jobRow: { visit: OPEN_VISIT } },
    include: { jobRow: { include: { visit: VISIT } } },
  });
  const visitOf = new Map([
    ...visits.map((row) => [row.id, row] as const),
    ...holds.map((row) => [row.id, row.visit] as const),
    ...deliveries.flatMap((row) => (row.jobRow.visit ? [[row.id, row.jobRow.visit] as const] : [])),
  ]);
  const items = open.flatMap((row): WhatNextItem[] => {
    const visit = visitOf.get(row.subjectId);
    if (!visit) return [];
    const day = row.proposedDay === null ? '' : dateFromDatabase(row.proposedDay);
    const note = (row.raw as { note?: unknown } | null)?.note;
    return [
      {
        kind,
        facts: {
          job: visit.jobRow.title,
          day,
          note: typeof note === 'string' ? note : '',
          about: row.subjectKind,
        },
        since: toInstant(row.at),
        dueOn: dateFromDatabase(visit.startDay),
        subjectKind: row.subjectKind,
        subjectId: row.subjectId,
        season: visit.season.key,
        job: visit.job,
        visitId: visit.id,
      },
    ];
  });
  return { kind, total: items.length, items: items.slice(0, query.limit) };
}

async function readiness(db: Database, query: WhatNextQuery): Promise<Found[]> {
  const kinds: readonly [WhatNextKind, Prisma.ReadinessItemWhereInput][] = [
    ['readiness-claimed', { state: 'claimed' }],
    ['readiness-refused', { state: 'refused' }],
    ['readiness-overdue', { state: 'open', dueOn: { lt: dateToDatabase(query.today) } }],
  ];
  return Promise.all(
    kinds.map(async ([kind, condition]) => {
      const where: Prisma.ReadinessItemWhereInput = {
        season: seasonWhere(query),
        jobRow: { OR: [{ visit: OPEN_VISIT }, { visit: null }] },
        ...condition,
      };
      const total = await db.client.readinessItem.count({ where });
      const rows = await db.client.readinessItem.findMany({
        where,
        include: { season: { select: { key: true } }, jobRow: { include: { visit: true } } },
        orderBy: [{ dueOn: { sort: 'asc', nulls: 'last' } }, { id: 'asc' }],
        take: query.limit,
      });
      const items = rows.map((row) => ({
        kind,
        facts: {
          item: row.title,
          job: row.jobRow.title,
          responsible: row.responsible,
          remark: row.remark ?? '',
        },
        since: toInstant(row.updatedAt),
        dueOn: row.dueOn && dateFromDatabase(row.dueOn),
        subjectKind: 'readinessItem',
        subjectId: row.id,
        season: row.season.key,
        job: row.job,
        visitId: row.jobRow.visit?.id ?? null,
      }));
      return { kind, total, items };
    }),
  );
}

async function messages(db: Database, query: WhatNextQuery): Promise<Found[]> {
  const kinds = [
    ['message-uncertain', 'uncertain'],
    ['message-failed', 'failed'],
    ['message-held', 'held'],
  ] as const;
  return Promise.all(
    kinds.map(async ([kind, state]) => {
      const where: Prisma.DeliveryWhereInput = {
        organisationId: query.organisationId,
        ...(query.season === undefined ? {} : { season: seasonWhere(query) }),
        state,
        // A text that nobody can send yet goes by mail as well; the messages show it as held.
        NOT: { channel: 'text', state: 'held' },
      };
      const total = await db.client.delivery.count({ where });
      const rows = await db.client.delivery.findMany({
        where,
        include: { season: { select: { key: true } }, visit: { include: { jobRow: true } } },
        orderBy: [{ createdAt: 'desc' }, { id: 'asc' }],
        take: query.limit,
      });
      const items = rows.map((row) => ({
        kind,
        facts: {
          template: row.template,
          to: `${row.recipientKind} ${row.recipientKey}`,
          fault: row.lastFault ?? '',
          job: row.visit?.jobRow.title ?? '',
        },
        since: toInstant(row.updatedAt),
        dueOn: row.visit ? dateFromDatabase(row.visit.startDay) : null,
        subjectKind: 'delivery',
        subjectId: row.id,
        season: row.season?.key ?? null,
        job: row.visit?.job ?? null,
        visitId: row.visitId,
      }));
      return { kind, total, items };
    }),
  );
}

/** Advice that no longer says go. */
async function adviceTurned(db: Database, query: WhatNextQuery): Promise<Found> {
  const items = await turnedAdvice(db, query);
  return { kind: 'advice-turned', total: items.length, items: items.slice(0, query.limit) };
}

/** The last run of a season, where it failed or found that pins and frozen days cannot all be kept. */
async function refusedPlans(db: Database, query: WhatNextQuery): Promise<Found> {
  const kind = 'plan-refused';
  const last = await db.client.planRun.findMany({
    where: { season: seasonWhere(query) },
    include: { season: { select: { key: true, name: true } } },
    orderBy: [{ createdAt: 'desc' }, { id: 'asc' }],
    distinct: ['seasonId'],
  });
  const refused = last.filter(
    (row) =>
      row.state === 'failed' || (row.state === 'done' && row.kind.endsWith('plan') && row.planId === null),
  );
  const items = refused.map(
    (row): WhatNextItem => ({
      kind,
      facts: { season: row.season.name, code: (row.fault as { code?: string } | null)?.code ?? '' },
      since: toInstantOrNull(row.finishedAt),
      dueOn: null,
      subjectKind: 'planRun',
      subjectId: row.id,
      season: row.season.key,
      job: null,
      visitId: null,
    }),
  );
  return { kind, total: items.length, items: items.slice(0, query.limit) };
}
