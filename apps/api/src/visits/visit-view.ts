import type { Role } from '../../../../libs/contracts/src/http/endpoint.ts';
import type { AssignmentFacts, VisitFacts } from '../../../../libs/data/src/visit-facts.ts';
import { cautionsOf } from './cautions.ts';

/** Who looks at a visit; `person` is the key of a crew member. */
export interface Viewer {
  readonly role: Role;
  readonly subjectKey: string | null;
}

/** What a viewer may see of a visit. Customers see first names; phones are for the manager and the crew of the visit. */
export function visitView(season: string, facts: VisitFacts, viewer: Viewer) {
  const { job, work, readiness, liftHolds, equipmentHolds, deliveryRuns, kits, site } = facts;
  const office = viewer.role === 'manager';
  const customer = viewer.role === 'customer';
  return {
    ...facts,
    season,
    job: job.key,
    title: job.title,
    visitKind: job.visitKind,
    site: customer ? { ...site, obstructions: null } : site,
    siteDays: work,
    kits,
    people: facts.assignments
      .filter((assignment) => office || assignment.state === 'asked' || assignment.state === 'accepted')
      .map((assignment) => personView(assignment, viewer)),
    lifts: liftHolds
      .filter((hold) => hold.state !== 'off')
      .map((hold) => ({ ...hold, partner: office ? (hold.partner?.name ?? null) : null })),
    equipment: equipmentHolds.map(({ unit, name, state }) => ({ unit, name, state })),
    readiness: readiness.filter((item) => !customer || item.responsible === 'customer'),
    deliveryRuns: deliveryRuns.map(({ haulier, ...run }) => ({
      ...run,
      haulier: office ? (haulier?.name ?? null) : null,
    })),
    cautions: cautionsOf(facts),
  };
}

function personView(assignment: AssignmentFacts, viewer: Viewer) {
  const { person, role, fromDay, toDay, state } = assignment;
  const own = viewer.role === 'crew' && viewer.subjectKey === person.key;
  const office = viewer.role === 'manager';
  const customer = viewer.role === 'customer';
  return {
    assignmentId: office || own ? assignment.id : null,
    key: office || own ? person.key : null,
    name: customer ? firstNameOf(person.name) : person.name,
    role,
    fromDay,
    toDay,
    state,
    phone: customer ? null : person.phone,
  };
}

/** The part of a name by which people call each other on site. */
export const firstNameOf = (name: string): string => name.trim().split(/\s+/)[0] ?? name;
