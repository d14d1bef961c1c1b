import type { LocalDate } from '../../kernel/src/index.ts';
import type { SeasonInfo } from './season.repository.ts';
import type { ReadinessFacts, VisitFacts } from './visit-facts.ts';

/** A link within a message: the worker writes its address from the token `linkToken(secret, id)`. */
export interface MessageLink {
  readonly id: string;
  readonly purpose: string;
}

/** The visit as the message templates see it. */
export interface MessageVisit {
  readonly id: string;
  readonly uid: string;
  readonly sequence: number;
  readonly job: string;
  readonly title: string;
  readonly visitKind: string;
  readonly work: VisitFacts['work'];
  readonly startDay: LocalDate;
  readonly endDay: LocalDate;
  /** Last day that is held back for weather. */
  readonly releaseDay: LocalDate;
  readonly deliveryDay: LocalDate | null;
  /** Local time at which a site day starts. */
  readonly workdayStart: string;
  readonly crew: string;
  readonly people: readonly { readonly name: string; readonly role: string; readonly phone: string | null }[];
  readonly lift: string | null;
  readonly equipment: readonly string[];
  readonly kits: VisitFacts['kits'];
  readonly warehouse: VisitFacts['warehouse'];
  readonly site: VisitFacts['site'];
  readonly customer: string;
}

export interface MessageItem {
  readonly id: string;
  readonly key: string;
  readonly title: string;
  readonly evidence: string;
  readonly unit: string | null;
  readonly toleranceLow: number | null;
  readonly toleranceHigh: number | null;
  readonly mustBeTrue: boolean;
  readonly state: string;
  readonly dueOn: LocalDate | null;
}

/** What every message about a visit carries. */
export interface VisitMessage {
  readonly organisation: string;
  /** Demo messages say that all names are invented. */
  readonly isDemo: boolean;
  readonly visit: MessageVisit;
}

/** The facts of a visit for a message; addresses of people stay out of it. */
export function visitMessage(season: SeasonInfo, visit: VisitFacts): VisitMessage {
  const active = visit.assignments.filter(({ state }) => state === 'asked' || state === 'accepted');
  return {
    organisation: season.head.organisationName,
    isDemo: season.head.isDemo,
    visit: {
      id: visit.id,
      uid: visit.uid,
      sequence: visit.sequence,
      job: visit.job.key,
      title: visit.job.title,
      visitKind: visit.job.visitKind,
      work: visit.work,
      startDay: visit.startDay,
      endDay: visit.endDay,
      releaseDay: visit.releaseDay,
      deliveryDay: visit.deliveryDay,
      workdayStart: season.head.workdayStart ?? '08:00',
      crew: visit.crew.name,
      people: active.map(({ person, role }) => ({ name: person.name, role, phone: person.phone })),
      lift: visit.liftHolds.find((hold) => hold.state !== 'off' && hold.state !== 'declined')?.name ?? null,
      equipment: visit.equipmentHolds.filter((hold) => hold.state === 'held').map((hold) => hold.name),
      kits: visit.kits,
      warehouse: visit.warehouse,
      site: visit.site,
      customer: visit.customer.name,
    },
  };
}

/** The readiness items that the customer sees to, those due first in front. */
export function customerItems(visit: VisitFacts): MessageItem[] {
  return visit.readiness
    .filter((item) => item.responsible === 'customer' && item.state !== 'waived')
    .map(itemOf)
    .sort((a, b) => String(a.dueOn).localeCompare(String(b.dueOn)) || a.key.localeCompare(b.key));
}

function itemOf(item: ReadinessFacts): MessageItem {
  const { id, key, title, evidence, unit, toleranceLow, toleranceHigh, mustBeTrue, state, dueOn } = item;
  return { id, key, title, evidence, unit, toleranceLow, toleranceHigh, mustBeTrue, state, dueOn };
}
