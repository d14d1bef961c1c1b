import type { Instant, LocalDate } from '../../../kernel/src/index.ts';
import type { Prisma } from '../../generated/client.ts';
import type { Database } from '../database.ts';
import { toInstantOrNull } from '../moments.ts';
import { dateFromDatabase, dateToDatabase } from '../season-tables.ts';
import { loadVisitFacts, type VisitFacts, type VisitState } from '../visit-facts.ts';
import { afterWhere, type OrderColumn, orderByOf } from './keyset.ts';

/** Whose visits may be seen: all of an organisation, or those of one person or customer in it. */
export interface VisitScope {
  readonly organisationId: string;
  /** Key of a person: only visits on which the person is asked or has accepted. */
  readonly person?: string | undefined;
  /** Key of a customer: only visits at the customer's sites that are not cancelled. */
  readonly customer?: string | undefined;
}

export interface VisitPageQuery extends VisitScope {
  readonly season?: string | undefined;
  readonly crew?: string | undefined;
  readonly site?: string | undefined;
  readonly state?: VisitState | undefined;
  readonly fromDay?: string | undefined;
  readonly toDay?: string | undefined;
  readonly latestFirst: boolean;
  readonly after: { readonly startDay: string; readonly id: string } | null;
  readonly limit: number;
}

export interface VisitSummary {
  readonly id: string;
  readonly season: string;
  readonly job: string;
  readonly title: string;
  readonly visitKind: string;
  readonly state: VisitState;
  readonly crew: { readonly key: string; readonly name: string };
  readonly site: { readonly key: string; readonly name: string; readonly zone: string };
  readonly startDay: LocalDate;
  readonly endDay: LocalDate;
  readonly releaseDay: LocalDate;
  readonly deliveryDay: LocalDate | null;
  readonly version: number;
}

/** The visits within a scope, as a condition. */
export function visitsWithin(scope: VisitScope): Prisma.VisitWhereInput {
  return {
    season: { organisationId: scope.organisationId },
    ...(scope.person === undefined
      ? {}
      : { assignments: { some: { person: scope.person, state: { in: ['asked', 'accepted'] } } } }),
    ...(scope.customer === undefined
      ? {}
      : { state: { not: 'cancelled' }, jobRow: { siteRow: { customer: scope.customer } } }),
  };
}

/** A page of visits by start day, at most `limit + 1` of them: one more than asked for says that there is a next page. */
export async function pageVisits(db: Database, query: VisitPageQuery): Promise<VisitSummary[]> {
  const order: OrderColumn[] = [
    { name: 'startDay', direction: query.latestFirst ? 'desc' : 'asc', nullable: false },
    { name: 'id', direction: 'asc', nullable: false },
  ];
  const { after } = query;
  const rows = await db.client.visit.findMany({
    where: {
      AND: [
        visitsWithin(query),
        query.season === undefined ? {} : { season: { key: query.season } },
        query.crew === undefined ? {} : { crew: query.crew },
        query.site === undefined ? {} : { jobRow: { site: query.site } },
        query.state === undefined ? {} : { state: query.state },
        query.fromDay === undefined ? {} : { endDay: { gte: dateToDatabase(query.fromDay as LocalDate) } },
        query.toDay === undefined ? {} : { startDay: { lte: dateToDatabase(query.toDay as LocalDate) } },
        after
          ? afterWhere(order, { startDay: dateToDatabase(after.startDay as LocalDate), id: after.id })
          : {},
      ],
    },
    include: { season: { select: { key: true } }, crewRow: true, jobRow: { include: { siteRow: true } } },
    orderBy: orderByOf(order) as Prisma.VisitOrderByWithRelationInput[],
    take: query.limit + 1,
  });
  return rows.map((row) => ({
    id: row.id,
    season: row.season.key,
    job: row.job,
    title: row.jobRow.title,
    visitKind: row.jobRow.visitKind,
    state: row.state as VisitState,
    crew: { key: row.crewRow.key, name: row.crewRow.name },
    site: { key: row.jobRow.siteRow.key, name: row.jobRow.siteRow.name, zone: row.jobRow.siteRow.zone },
    startDay: dateFromDatabase(row.startDay),
    endDay: dateFromDatabase(row.endDay),
    releaseDay: dateFromDatabase(row.releaseDay),
    deliveryDay: row.deliveryDay && dateFromDatabase(row.deliveryDay),
    version: row.version,
  }));
}

/** One visit within a scope with the key of its season; null: there is none that this scope may see. */
export async function findVisit(
  db: Database,
  scope: VisitScope,
  visitId: string,
): Promise<{ season: string; facts: VisitFacts } | null> {
  const [facts] = await loadVisitFacts(db.client, { AND: [{ id: visitId }, visitsWithin(scope)] });
  if (!facts) return null;
  const season = await db.client.season.findUniqueOrThrow({
    where: { id: facts.seasonId },
    select: { key: true },
  });
  return { season: season.key, facts };
}

export interface AssignmentPageQuery {
  readonly organisationId: string;
  readonly season?: string | undefined;
  readonly person?: string | undefined;
  readonly state?: string | undefined;
  readonly after: { readonly fromDay: string; readonly id: string } | null;
  readonly limit: number;
}

export interface AssignmentSummary {
  readonly id: string;
  readonly visitId: string;
  readonly job: string;
  readonly title: string;
  readonly site: string;
  readonly person: string;
  readonly personName: string;
  readonly role: string;
  readonly fromDay: LocalDate;
  readonly toDay: LocalDate;
  readonly state: string;
  readonly answeredAt: Instant | null;
  readonly answerNote: string | null;
  readonly version: number;
}

/** A page of assignments by first day, at most `limit + 1` of them. */
export async function pageAssignments(
  db: Database,
  query: AssignmentPageQuery,
): Promise<AssignmentSummary[]> {
  const order: OrderColumn[] = [
    { name: 'fromDay', direction: 'asc', nullable: false },
    { name: 'id', direction: 'asc', nullable: false },
  ];
  const { after } = query;
  const rows = await db.client.assignment.findMany({
    where: {
      AND: [
        { season: { organisationId: query.organisationId } },
        query.season === undefined ? {} : { season: { key: query.season } },
        query.person === undefined ? {} : { person: query.person },
        query.state === undefined ? {} : { state: query.state },
        after ? afterWhere(order, { fromDay: dateToDatabase(after.fromDay as LocalDate), id: after.id }) : {},
      ],
    },
    include: { personRow: true, visit: { include: { jobRow: { include: { siteRow: true } } } } },
    orderBy: orderByOf(order) as Prisma.AssignmentOrderByWithRelationInput[],
    take: query.limit + 1,
  });
  return rows.map((row) => ({
    id: row.id,
    visitId: row.visitId,
    job: row.visit.job,
    title: row.visit.jobRow.title,
    site: row.visit.jobRow.siteRow.name,
    person: row.person,
    personName: row.personRow.name,
    role: row.role,
    fromDay: dateFromDatabase(row.fromDay),
    toDay: dateFromDatabase(row.toDay),
    state: row.state,
    answeredAt: toInstantOrNull(row.answeredAt),
    answerNote: row.answerNote,
    version: row.version,
  }));
}
