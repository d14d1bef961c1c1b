import type { LocalDate } from '../../../kernel/src/index.ts';
import type { Database } from '../database.ts';
import { dateFromDatabase } from '../season-tables.ts';
import { visitsWithin } from './visit-page.ts';

const siteFacts = {
  key: true,
  name: true,
  address: true,
  accessNotes: true,
  lat: true,
  lon: true,
  zone: true,
  overheadLines: true,
  forkliftOnSite: true,
  gateWidthM: true,
  slopePct: true,
  groundKind: true,
} as const;

/** The sites of a person's visits, in all seasons. */
export async function sitesOfPerson(db: Database, organisationId: string, person: string) {
  const rows = await db.client.site.findMany({
    where: { jobsBySite: { some: { visit: visitsWithin({ organisationId, person }) } } },
    select: { ...siteFacts, season: { select: { key: true } } },
    orderBy: [{ key: 'asc' }, { id: 'asc' }],
  });
  return rows.map((row) => ({ ...row, season: row.season.key }));
}

/** A customer's own sites, in all seasons. */
export async function sitesOfCustomer(db: Database, organisationId: string, customer: string) {
  const rows = await db.client.site.findMany({
    where: { season: { organisationId }, customer },
    select: { ...siteFacts, season: { select: { key: true } } },
    orderBy: [{ key: 'asc' }, { id: 'asc' }],
  });
  return rows.map((row) => ({ ...row, season: row.season.key }));
}

const dateOrNull = (date: Date | null): LocalDate | null => (date === null ? null : dateFromDatabase(date));

/** The jobs at a customer's sites with what the customer sees to; no cost is among it. */
export async function jobsOfCustomer(db: Database, organisationId: string, customer: string) {
  const rows = await db.client.job.findMany({
    where: { season: { organisationId }, siteRow: { customer } },
    include: {
      season: { select: { key: true } },
      visit: true,
      readinessItemsByJob: { where: { responsible: 'customer' }, orderBy: { key: 'asc' } },
    },
    orderBy: [{ key: 'asc' }, { id: 'asc' }],
  });
  return rows.map((row) => {
    const visit = row.visit && row.visit.state !== 'cancelled' ? row.visit : null;
    return {
      season: row.season.key,
      key: row.key,
      title: row.title,
      site: row.site,
      visitKind: row.visitKind,
      promisedBy: dateOrNull(row.promisedBy),
      visitId: visit?.id ?? null,
      startDay: dateOrNull(visit?.startDay ?? null),
      readiness: row.readinessItemsByJob.map((item) => ({ ...item, dueOn: dateOrNull(item.dueOn) })),
    };
  });
}

const REQUEST_SITE = { select: { name: true, address: true, lat: true, lon: true } } as const;

/** What is asked of a partner and not called off: lifts and delivery runs, by day. */
export async function requestsOfPartner(db: Database, organisationId: string, partner: string) {
  const holds = await db.client.liftHold.findMany({
    where: { season: { organisationId }, state: { not: 'off' }, liftRow: { partner } },
    include: { liftRow: true, visit: { include: { jobRow: { include: { siteRow: REQUEST_SITE } } } } },
  });
  const runs = await db.client.deliveryRun.findMany({
    where: { season: { organisationId }, state: { not: 'off' }, haulier: partner },
    include: { jobRow: { include: { siteRow: REQUEST_SITE } } },
  });
  const requests = [
    ...holds.map((hold) => ({
      kind: 'liftHold' as const,
      id: hold.id,
      what: hold.liftRow.name,
      site: hold.visit.jobRow.siteRow,
      fromDay: dateFromDatabase(hold.fromDay),
      toDay: dateFromDatabase(hold.toDay),
      state: hold.state,
      reference: hold.reference,
    })),
    ...runs.map((run) => ({
      kind: 'deliveryRun' as const,
      id: run.id,
      what: run.truckKind === 'craneTruck' ? 'Delivery by crane truck' : 'Delivery by flatbed',
      site: run.jobRow.siteRow,
      fromDay: dateFromDatabase(run.day),
      toDay: dateFromDatabase(run.day),
      state: run.state,
      reference: run.reference,
    })),
  ];
  return requests.sort((a, b) => a.fromDay.localeCompare(b.fromDay) || a.id.localeCompare(b.id));
}

/** Whether an assignment is there: in the organisation, and of one person where named. */
export async function findAssignment(
  db: Database,
  input: { organisationId: string; id: string; person?: string | undefined },
): Promise<boolean> {
  const { organisationId, id, person } = input;
  const where = { id, season: { organisationId }, ...(person === undefined ? {} : { person }) };
  return (await db.client.assignment.count({ where })) > 0;
}

/** Whether a request to a partner is there: in the organisation, and to one partner where named. */
export async function findRequest(
  db: Database,
  input: {
    organisationId: string;
    kind: 'liftHold' | 'deliveryRun';
    id: string;
    partner?: string | undefined;
  },
): Promise<boolean> {
  const { organisationId, id, partner } = input;
  const within = { id, season: { organisationId } };
  if (input.kind === 'liftHold') {
    const where = { ...within, ...(partner === undefined ? {} : { liftRow: { partner } }) };
    return (await db.client.liftHold.count({ where })) > 0;
  }
  const where = { ...within, ...(partner === undefined ? {} : { haulier: partner }) };
  return (await db.client.deliveryRun.count({ where })) > 0;
}
