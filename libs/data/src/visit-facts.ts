import type { Instant, LocalDate } from '../../kernel/src/index.ts';
import type { Prisma } from '../generated/client.ts';
import type { Tx } from './database.ts';
import { toInstantOrNull } from './moments.ts';
import { dateFromDatabase } from './season-tables.ts';

export type VisitState = 'planned' | 'underway' | 'done' | 'cancelled';

/** A firm or a person to whom messages about a visit go. */
export interface Addressee {
  readonly key: string;
  readonly name: string;
  readonly email: string | null;
  readonly phone: string | null;
  readonly language: string;
  readonly zone: string;
}

export interface AssignmentFacts {
  readonly id: string;
  readonly person: Addressee;
  readonly role: 'lead' | 'hand' | 'trainee' | 'casual';
  readonly fromDay: LocalDate;
  readonly toDay: LocalDate;
  readonly state: 'asked' | 'accepted' | 'declined' | 'cancelled';
  readonly icalUid: string;
  readonly icalSequence: number;
  readonly answeredAt: Instant | null;
  readonly version: number;
}

export interface LiftHoldFacts {
  readonly id: string;
  readonly lift: string;
  readonly name: string;
  readonly type: string;
  readonly typeName: string;
  /** Null: unknown, never taken as without limit. */
  readonly maxGustMps: number | null;
  readonly workingRadiusM: number | null;
  readonly partner: Addressee | null;
  readonly fromDay: LocalDate;
  readonly toDay: LocalDate;
  readonly state: 'needed' | 'asked' | 'held' | 'confirmed' | 'declined' | 'off';
  readonly version: number;
}

export interface EquipmentHoldFacts {
  readonly id: string;
  readonly unit: string;
  readonly name: string;
  readonly fromDay: LocalDate;
  readonly toDay: LocalDate;
  readonly state: 'held' | 'off';
}

export interface ReadinessFacts {
  readonly id: string;
  readonly key: string;
  readonly title: string;
  readonly responsible: 'customer' | 'manager' | 'crew' | 'partner';
  readonly evidence: 'tick' | 'number' | 'photo' | 'document';
  readonly unit: string | null;
  readonly toleranceLow: number | null;
  readonly toleranceHigh: number | null;
  readonly mustBeTrue: boolean;
  readonly state: 'open' | 'claimed' | 'accepted' | 'refused' | 'waived';
  readonly value: number | null;
  /** What was last written about it, by whoever sees to it or by the firm. */
  readonly remark: string | null;
  /** Null while no visit is planned. */
  readonly dueOn: LocalDate | null;
  readonly version: number;
}

export interface DeliveryRunFacts {
  readonly id: string;
  readonly day: LocalDate;
  readonly truckKind: 'craneTruck' | 'flatbed';
  readonly state: 'needed' | 'asked' | 'confirmed' | 'done' | 'off';
  readonly haulier: Addressee | null;
}

/** Everything that is known about one published visit. */
export interface VisitFacts {
  readonly id: string;
  readonly seasonId: string;
  readonly planId: string;
  readonly uid: string;
  readonly sequence: number;
  readonly version: number;
  readonly state: VisitState;
  readonly job: {
    readonly id: string;
    readonly key: string;
    readonly title: string;
    readonly visitKind: string;
  };
  readonly startDay: LocalDate;
  readonly endDay: LocalDate;
  /** Last day on which the crew is held for it. */
  readonly releaseDay: LocalDate;
  readonly siteDays: readonly LocalDate[];
  /** The work of each site day. */
  readonly work: readonly { readonly day: LocalDate; readonly outside: boolean; readonly hours: number }[];
  readonly reserveDays: readonly LocalDate[];
  readonly deliveryDay: LocalDate | null;
  readonly fromBase: boolean;
  readonly crew: { readonly key: string; readonly name: string };
  readonly site: {
    readonly id: string;
    readonly key: string;
    readonly name: string;
    readonly address: string | null;
    readonly accessNotes: string | null;
    readonly lat: number;
    readonly lon: number;
    readonly zone: string;
    readonly forkliftOnSite: string;
    readonly gateWidthM: number | null;
    readonly slopePct: number | null;
    readonly groundKind: string | null;
    readonly overheadLines: string;
    readonly obstructions: string | null;
  };
  readonly kits: readonly {
    readonly key: string;
    readonly name: string;
    readonly count: number;
    readonly massKg: number;
    readonly pallets: number;
    readonly heaviestPartKg: number;
    readonly liftHeightM: number | null;
    readonly longestPartM: number | null;
  }[];
  readonly warehouse: { readonly key: string; readonly name: string; readonly address: string | null } | null;
  readonly customer: Addressee;
  readonly assignments: readonly AssignmentFacts[];
  readonly liftHolds: readonly LiftHoldFacts[];
  readonly equipmentHolds: readonly EquipmentHoldFacts[];
  readonly readiness: readonly ReadinessFacts[];
  readonly deliveryRuns: readonly DeliveryRunFacts[];
}

const INCLUDE = {
  days: { orderBy: { day: 'asc' } },
  assignments: { include: { personRow: true }, orderBy: { person: 'asc' } },
  liftHolds: {
    include: { liftRow: { include: { partnerRow: true, typeRow: true } } },
    orderBy: { lift: 'asc' },
  },
  equipmentHolds: { include: { unitRow: true }, orderBy: { unit: 'asc' } },
  crewRow: { include: { baseRow: true } },
  season: { select: { zone: true } },
  jobRow: {
    include: {
      siteRow: { include: { customerRow: true, contactsBySite: { orderBy: { key: 'asc' } } } },
      warehouseRow: true,
      jobKitsByJob: { include: { kitRow: { include: { kitPartsByKit: true } } }, orderBy: { kit: 'asc' } },
      readinessItemsByJob: { orderBy: { key: 'asc' } },
      deliveryRunsByJob: { include: { haulierRow: true }, orderBy: { day: 'asc' } },
    },
  },
} satisfies Prisma.VisitInclude;

type VisitRow = Prisma.VisitGetPayload<{ include: typeof INCLUDE }>;
type PartnerRow = NonNullable<VisitRow['liftHolds'][number]['liftRow']['partnerRow']>;

/** The visits that match, in the order of their start days. */
export async function loadVisitFacts(tx: Tx, where: Prisma.VisitWhereInput): Promise<VisitFacts[]> {
  const rows = await tx.visit.findMany({
    where,
    include: INCLUDE,
    orderBy: [{ startDay: 'asc' }, { job: 'asc' }],
  });
  return rows.map(factsOf);
}

function factsOf(row: VisitRow): VisitFacts {
  const { jobRow: job, crewRow: crew } = row;
  const { siteRow: site } = job;
  const daysOf = (kind: string) =>
    row.days.filter((day) => day.kind === kind).map((day) => dateFromDatabase(day.day));
  const partner = (found: PartnerRow | null) => (found ? partnerOf(found, row.season.zone) : null);
  return {
    id: row.id,
    seasonId: row.seasonId,
    planId: row.planId,
    uid: row.uid,
    sequence: row.sequence,
    version: row.version,
    state: row.state as VisitState,
    job: { id: job.id, key: job.key, title: job.title, visitKind: job.visitKind },
    startDay: dateFromDatabase(row.startDay),
    endDay: dateFromDatabase(row.endDay),
    releaseDay: dateFromDatabase(row.releaseDay),
    siteDays: daysOf('site'),
    work: row.days
      .filter((day) => day.kind === 'site')
      .map((day) => ({
        day: dateFromDatabase(day.day),
        outside: day.outside ?? true,
        hours: day.hours ?? 0,
      })),
    reserveDays: daysOf('reserve'),
    deliveryDay: row.deliveryDay && dateFromDatabase(row.deliveryDay),
    fromBase: row.fromBase,
    crew: { key: crew.key, name: crew.name },
    site: {
      id: site.id,
      key: site.key,
      name: site.name,
      address: site.address,
      accessNotes: site.accessNotes,
      lat: site.lat,
      lon: site.lon,
      zone: site.zone,
      forkliftOnSite: site.forkliftOnSite,
      gateWidthM: site.gateWidthM,
      slopePct: site.slopePct,
      groundKind: site.groundKind,
      overheadLines: site.overheadLines,
      obstructions: site.obstructions,
    },
    kits: job.jobKitsByJob.map(({ count, kitRow: kit }) => ({
      key: kit.key,
      name: kit.name,
      count,
      massKg: kit.massKg,
      pallets: kit.pallets,
      heaviestPartKg: kit.heaviestPartKg,
      liftHeightM: kit.liftHeightM,
      longestPartM: longestOf(kit.kitPartsByKit),
    })),
    warehouse: job.warehouseRow && {
      key: job.warehouseRow.key,
      name: job.warehouseRow.name,
      address: job.warehouseRow.address,
    },
    customer: customerOf(site),
    assignments: row.assignments.map((assignment) => assignmentOf(assignment, crew.baseRow.zone)),
    liftHolds: row.liftHolds.map((hold) => ({
      id: hold.id,
      lift: hold.lift,
      name: hold.liftRow.name,
      type: hold.liftRow.type,
      typeName: hold.liftRow.typeRow.name,
      maxGustMps: hold.liftRow.typeRow.maxGustMps,
      workingRadiusM: hold.liftRow.typeRow.workingRadiusM,
      partner: partner(hold.liftRow.partnerRow),
      fromDay: dateFromDatabase(hold.fromDay),
      toDay: dateFromDatabase(hold.toDay),
      state: hold.state as LiftHoldFacts['state'],
      version: hold.version,
    })),
    equipmentHolds: row.equipmentHolds.map((hold) => ({
      id: hold.id,
      unit: hold.unit,
      name: hold.unitRow.name,
      fromDay: dateFromDatabase(hold.fromDay),
      toDay: dateFromDatabase(hold.toDay),
      state: hold.state as EquipmentHoldFacts['state'],
    })),
    readiness: job.readinessItemsByJob.map((item) => ({
      id: item.id,
      key: item.key,
      title: item.title,
      responsible: item.responsible as ReadinessFacts['responsible'],
      evidence: item.evidence as ReadinessFacts['evidence'],
      unit: item.unit,
      toleranceLow: item.toleranceLow,
      toleranceHigh: item.toleranceHigh,
      mustBeTrue: item.mustBeTrue,
      state: item.state as ReadinessFacts['state'],
      value: item.value,
      remark: item.remark,
      dueOn: item.dueOn && dateFromDatabase(item.dueOn),
      version: item.version,
    })),
    deliveryRuns: job.deliveryRunsByJob.map((run) => ({
      id: run.id,
      day: dateFromDatabase(run.day),
      truckKind: run.truckKind as DeliveryRunFacts['truckKind'],
      state: run.state as DeliveryRunFacts['state'],
      haulier: partner(run.haulierRow),
    })),
  };
}

function assignmentOf(row: VisitRow['assignments'][number], crewZone: string): AssignmentFacts {
  const person = row.personRow;
  return {
    id: row.id,
    person: {
      key: person.key,
      name: person.name,
      email: person.email,
      phone: person.phoneE164,
      language: person.language,
      zone: person.zone ?? crewZone,
    },
    role: row.role as AssignmentFacts['role'],
    fromDay: dateFromDatabase(row.fromDay),
    toDay: dateFromDatabase(row.toDay),
    state: row.state as AssignmentFacts['state'],
    icalUid: row.icalUid,
    icalSequence: row.icalSequence,
    answeredAt: toInstantOrNull(row.answeredAt),
    version: row.version,
  };
}

function longestOf(parts: readonly { lengthM: number | null }[]): number | null {
  const lengths = parts.flatMap((part) => (part.lengthM === null ? [] : [part.lengthM]));
  return lengths.length === 0 ? null : Math.max(...lengths);
}

/** Messages go to the customer's own address, or else to the first contact of the site that has one. */
function customerOf(site: VisitRow['jobRow']['siteRow']): Addressee {
  const customer = site.customerRow;
  const contact =
    customer.email === null ? site.contactsBySite.find((found) => found.customer && found.email) : undefined;
  return {
    key: customer.key,
    name: contact?.name ?? customer.name,
    email: customer.email ?? contact?.email ?? null,
    phone: customer.phone ?? contact?.phone ?? null,
    language: contact?.language ?? customer.language,
    zone: site.zone,
  };
}

function partnerOf(partner: PartnerRow, officeZone: string): Addressee {
  return {
    key: partner.key,
    name: partner.name,
    email: partner.email,
    phone: partner.phone,
    language: partner.language,
    zone: partner.zone ?? officeZone,
  };
}
