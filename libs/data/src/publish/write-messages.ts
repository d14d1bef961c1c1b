import { randomUUID } from 'node:crypto';
import type { Instant } from '../../../kernel/src/index.ts';
import { createLinks, type NewLink, type Recipient } from '../action-link.repository.ts';
import type { Tx } from '../database.ts';
import { afterQuietHours, endOfDay, type QuietHours } from '../moments.ts';
import { addDeliveries, type NewDelivery } from '../new-delivery.ts';
import type { SeasonInfo } from '../season.repository.ts';
import { dateToDatabase } from '../season-tables.ts';
import type {
  Addressee,
  AssignmentFacts,
  DeliveryRunFacts,
  LiftHoldFacts,
  VisitFacts,
} from '../visit-facts.ts';
import { customerItems, type MessageLink, visitMessage } from '../visit-message.ts';
import type { AssignmentChange } from './assignment-changes.ts';
import type { LiftChange } from './hold-changes.ts';
import type { VisitChange, Written } from './visit-changes.ts';

export interface MessageContext {
  readonly tx: Tx;
  readonly season: SeasonInfo;
  /** Makes the message keys of one publishing differ from those of the next. */
  readonly planId: string;
  readonly now: Instant;
  readonly linkSecret: string;
  readonly mailDomain: string;
}

/** What writing a message brings with it. */
interface Outgoing extends MessageContext {
  readonly links: NewLink[];
  /** Holds for which the hire firm is asked. */
  readonly askedLifts: string[];
}

interface Draft {
  readonly template: string;
  readonly subjectId: string;
  readonly visit: VisitFacts;
  readonly recipient: Recipient;
  readonly to: Addressee;
  readonly data: object;
}

/**
 * Writes a message to each person, customer and partner whom the publishing concerns, and to nobody else. Older messages
 * on the same matter that have not left yet are called off. Returns how many messages were written.
 */
export async function writeMessages(
  context: MessageContext,
  written: Written,
  visits: readonly VisitFacts[],
): Promise<number> {
  const byId = new Map(visits.map((visit) => [visit.id, visit]));
  const outgoing: Outgoing = { ...context, links: [], askedLifts: [] };
  const drafts: Draft[] = [];
  for (const change of written.assignments) {
    drafts.push(crewMessage(outgoing, change, byId.get(change.visitId) as VisitFacts));
  }
  for (const change of written.visits) {
    const visit = byId.get(change.visitId) as VisitFacts;
    drafts.push(...customerMessages(outgoing, change, visit), ...(await haulierMessages(outgoing, visit)));
  }
  for (const change of written.lifts) {
    drafts.push(...liftMessages(outgoing, change, byId.get(change.visitId) as VisitFacts));
  }
  await createLinks(context.tx, outgoing.links, context.linkSecret);
  await context.tx.liftHold.updateMany({
    where: { id: { in: outgoing.askedLifts } },
    data: { state: 'asked' },
  });
  await callOffOlder(context.tx, drafts);
  const ids = await addDeliveries(
    context.tx,
    context.mailDomain,
    drafts.map((draft) => deliveryOf(context, draft)),
  );
  return ids.length;
}

function crewMessage(context: Outgoing, change: AssignmentChange, visit: VisitFacts): Draft {
  const assignment = visit.assignments.find(({ id }) => id === change.assignmentId) as AssignmentFacts;
  const cancelled = change.what === 'cancelled';
  const recipient: Recipient = { kind: 'person', key: assignment.person.key };
  const link = cancelled
    ? null
    : linkFor(context, visit, 'crew-assignment', 'assignment', assignment.id, recipient);
  const { role, fromDay, toDay, icalUid, icalSequence } = assignment;
  return {
    template: {
      added: 'crew-assignment',
      changed: 'crew-assignment-changed',
      cancelled: 'crew-assignment-cancelled',
    }[change.what],
    subjectId: assignment.id,
    visit,
    recipient,
    to: assignment.person,
    data: {
      ...visitMessage(context.season, visit),
      before: change.before,
      person: assignment.person.name,
      assignment: { id: assignment.id, role, fromDay, toDay },
      calendar: { method: cancelled ? 'CANCEL' : 'REQUEST', uid: icalUid, sequence: icalSequence },
      links: link ? [link] : [],
    },
  };
}

function customerMessages(context: Outgoing, change: VisitChange, visit: VisitFacts): Draft[] {
  const recipient: Recipient = { kind: 'customer', key: visit.customer.key };
  const base = { subjectId: visit.id, visit, recipient, to: visit.customer };
  const common = { ...visitMessage(context.season, visit), before: change.before };
  if (change.what === 'cancelled')
    return [{ ...base, template: 'arrival-cancelled', data: { ...common, links: [] } }];
  const items = customerItems(visit);
  const link = linkFor(context, visit, 'readiness', 'visit', visit.id, recipient);
  const template = change.what === 'added' ? 'arrival-notice' : 'arrival-changed';
  const notice: Draft = { ...base, template, data: { ...common, links: [link] } };
  if (items.length === 0) return [notice];
  return [notice, { ...base, template: 'site-preparation', data: { ...common, items, links: [link] } }];
}

function liftMessages(context: Outgoing, change: LiftChange, visit: VisitFacts): Draft[] {
  const hold = visit.liftHolds.find(({ id }) => id === change.holdId) as LiftHoldFacts;
  if (!hold.partner) return [];
  const cancelled = change.what === 'cancelled';
  const recipient: Recipient = { kind: 'partner', key: hold.partner.key };
  const link = cancelled ? null : linkFor(context, visit, 'partner-confirm', 'liftHold', hold.id, recipient);
  if (!cancelled) context.askedLifts.push(hold.id);
  return [
    {
      template: cancelled ? 'lift-request-cancelled' : 'lift-request',
      subjectId: hold.id,
      visit,
      recipient,
      to: hold.partner,
      data: {
        ...visitMessage(context.season, visit),
        before: change.before,
        partner: hold.partner.name,
        lift: liftOf(hold),
        links: link ? [link] : [],
      },
    },
  ];
}

/** Runs that are known follow the delivery day of the plan; a run is never invented, its haulier would be a guess. */
async function haulierMessages(context: Outgoing, visit: VisitFacts): Promise<Draft[]> {
  const open = visit.deliveryRuns.find((run) => run.state !== 'done' && run.state !== 'off');
  if (!open?.haulier || visit.deliveryDay === null || visit.state === 'cancelled') return [];
  const run: DeliveryRunFacts = { ...open, day: visit.deliveryDay };
  const moved = open.day !== visit.deliveryDay;
  if (!moved && open.state !== 'needed') return [];
  await context.tx.deliveryRun.update({
    where: { id: open.id },
    data: { day: dateToDatabase(visit.deliveryDay), state: 'asked' },
  });
  const recipient: Recipient = { kind: 'partner', key: open.haulier.key };
  const link = linkFor(context, visit, 'partner-confirm', 'deliveryRun', open.id, recipient);
  return [
    {
      template: 'delivery-request',
      subjectId: open.id,
      visit,
      recipient,
      to: open.haulier,
      data: {
        ...visitMessage(context.season, visit),
        before: moved ? { from: open.day, to: open.day } : null,
        partner: open.haulier.name,
        run: { day: run.day, truckKind: run.truckKind, forkliftOnSite: visit.site.forkliftOnSite },
        links: [link],
      },
    },
  ];
}

function linkFor(
  context: Outgoing,
  visit: VisitFacts,
  purpose: string,
  subjectKind: string,
  subjectId: string,
  recipient: Recipient,
): MessageLink {
  const id = randomUUID();
  context.links.push({
    id,
    organisationId: context.season.organisationId,
    seasonId: context.season.id,
    purpose,
    subjectKind,
    subjectId,
    recipient,
    expiresAt: endOfDay(visit.releaseDay, visit.site.zone),
  });
  return { id, purpose };
}

/** The hold as messages to the hire firm tell it. */
export function liftOf(hold: LiftHoldFacts): object {
  const { lift, name, type, typeName, maxGustMps, workingRadiusM, fromDay, toDay } = hold;
  return { key: lift, name, type, typeName, maxGustMps, workingRadiusM, fromDay, toDay };
}

const matterOf = (draft: Draft) =>
  `${draft.template.replace(/-(cancelled|changed)$/, '')}:${draft.subjectId}:`;

async function callOffOlder(tx: Tx, drafts: readonly Draft[]): Promise<void> {
  if (drafts.length === 0) return;
  const subjects = new Map(drafts.map((draft) => [matterOf(draft), draft.visit.id]));
  const waiting = await tx.delivery.findMany({
    where: {
      visitId: { in: [...new Set(subjects.values())] },
      reminderId: null,
      state: { in: ['pending', 'held'] },
    },
    select: { id: true, dedupeKey: true },
  });
  const stale = waiting.filter(({ dedupeKey }) =>
    subjects.has(dedupeKey.slice(0, dedupeKey.lastIndexOf(':') + 1)),
  );
  await tx.delivery.updateMany({
    where: { id: { in: stale.map(({ id }) => id) } },
    data: { state: 'cancelled', lastFault: 'a newer message on the same matter took its place' },
  });
}

function deliveryOf(context: MessageContext, draft: Draft): NewDelivery {
  const { season, now } = context;
  return {
    organisationId: season.organisationId,
    seasonId: season.id,
    visitId: draft.visit.id,
    channel: 'mail',
    recipient: draft.recipient,
    address: draft.to.email,
    language: draft.to.language,
    template: draft.template,
    data: draft.data,
    // The part before the last colon is the matter, as `callOffOlder` reads it.
    dedupeKey: `${matterOf(draft)}${context.planId}`,
    notBefore: afterQuietHours(now, draft.to.zone, quietHoursOf(season)),
  };
}

/** Quiet hours of a season; both times are needed. */
export function quietHoursOf(season: SeasonInfo): QuietHours | null {
  const { quietFrom, quietTo } = season.head;
  return quietFrom && quietTo ? { from: quietFrom, to: quietTo } : null;
}
