import type { Instant, LocalDate } from '../../kernel/src/index.ts';
import type { ReminderModel } from '../generated/models/Reminder.ts';
import { findLink, type Recipient } from './action-link.repository.ts';
import { BRIEF_PURPOSES } from './brief/brief-times.ts';
import type { Database, Tx } from './database.ts';
import { toDate, toInstant, toInstantOrNull } from './moments.ts';
import { addDeliveries, type NewDelivery } from './new-delivery.ts';
import { liftOf } from './publish/write-messages.ts';
import { getSeasonById, type SeasonInfo } from './season.repository.ts';
import { dateFromDatabase } from './season-tables.ts';
import { type Addressee, loadVisitFacts, type VisitFacts } from './visit-facts.ts';
import { customerItems, type MessageLink, visitMessage } from './visit-message.ts';

export interface ReminderInfo {
  readonly id: string;
  readonly visitId: string;
  readonly purpose: string;
  readonly recipient: Recipient;
  readonly localDate: LocalDate;
  readonly localTime: string;
  readonly zone: string;
  readonly dueAt: Instant;
  /** `skipped`: it was due, but there was nothing left to say. */
  readonly state: 'pending' | 'done' | 'cancelled' | 'skipped';
  readonly doneAt: Instant | null;
}

export interface RemindInput {
  readonly now: Instant;
  readonly limit: number;
  readonly mailDomain: string;
}

/**
 * Turns reminders that are due into messages, each with its mark and its outbox row in one transaction; several
 * processes may do so at once. Briefs are not among them: they are made from the weather first. A reminder with nothing left to say is skipped. Call again while `done + skipped` equals
 * `limit`.
 */
export async function turnDueReminders(
  db: Database,
  input: RemindInput,
): Promise<{ done: number; skipped: number }> {
  return db.transaction(
    async (tx) => {
      const due = await tx.$queryRaw<{ id: string }[]>`
        SELECT id FROM reminders
        WHERE state = 'pending' AND due_at <= ${toDate(input.now)} AND NOT purpose = ANY(${[...BRIEF_PURPOSES]})
        ORDER BY due_at LIMIT ${input.limit} FOR UPDATE SKIP LOCKED`;
      const reminders = await tx.reminder.findMany({ where: { id: { in: due.map((row) => row.id) } } });
      const visits = await loadVisitFacts(tx, { id: { in: reminders.map((row) => row.visitId) } });
      const seasons = new Map<string, SeasonInfo>();
      const deliveries: NewDelivery[] = [];
      const skipped: string[] = [];
      for (const reminder of reminders) {
        const visit = visits.find((found) => found.id === reminder.visitId) as VisitFacts;
        const season = seasons.get(visit.seasonId) ?? (await getSeasonById(tx, visit.seasonId));
        seasons.set(season.id, season);
        const delivery = await deliveryFor(tx, season, visit, reminder, input.now);
        if (delivery) deliveries.push(delivery);
        else skipped.push(reminder.id);
      }
      await addDeliveries(tx, input.mailDomain, deliveries);
      const doneAt = toDate(input.now);
      const done = reminders.map((row) => row.id).filter((id) => !skipped.includes(id));
      await tx.reminder.updateMany({ where: { id: { in: done } }, data: { state: 'done', doneAt } });
      await tx.reminder.updateMany({ where: { id: { in: skipped } }, data: { state: 'skipped', doneAt } });
      return { done: done.length, skipped: skipped.length };
    },
    { isolation: 'readCommitted' },
  );
}

async function deliveryFor(
  tx: Tx,
  season: SeasonInfo,
  visit: VisitFacts,
  reminder: ReminderModel,
  now: Instant,
): Promise<NewDelivery | null> {
  if (visit.state !== 'planned') return null;
  const message = await messageFor(tx, visit, reminder, now);
  if (!message) return null;
  return {
    organisationId: season.organisationId,
    seasonId: season.id,
    visitId: visit.id,
    reminderId: reminder.id,
    channel: 'mail',
    recipient: { kind: reminder.recipientKind as Recipient['kind'], key: reminder.recipientKey },
    address: message.to.email,
    language: message.to.language,
    template: message.template,
    data: { ...visitMessage(season, visit), ...message.data },
    dedupeKey: `reminder:${reminder.id}:${visit.sequence}`,
    notBefore: now,
  };
}

interface Message {
  readonly template: string;
  readonly to: Addressee;
  readonly data: object;
}

async function messageFor(
  tx: Tx,
  visit: VisitFacts,
  reminder: ReminderModel,
  now: Instant,
): Promise<Message | null> {
  const recipient: Recipient = {
    kind: reminder.recipientKind as Recipient['kind'],
    key: reminder.recipientKey,
  };
  const linksTo = async (purpose: string, subjectKind: string, subjectId: string): Promise<MessageLink[]> => {
    const link = await findLink(tx, { purpose, subjectKind, subjectId, recipient, now });
    return link ? [{ id: link.id, purpose }] : [];
  };
  if (reminder.purpose === 'customer-preparation') {
    const items = customerItems(visit).filter((item) => item.state === 'open' || item.state === 'refused');
    if (items.length === 0) return null;
    const links = await linksTo('readiness', 'visit', visit.id);
    return { template: 'site-preparation-reminder', to: visit.customer, data: { items, links } };
  }
  if (reminder.purpose === 'crew-day-before') {
    const assignment = visit.assignments.find(({ person }) => person.key === recipient.key);
    if (!assignment || assignment.state === 'cancelled' || assignment.state === 'declined') return null;
    const { id, role, fromDay, toDay, state } = assignment;
    const data = {
      person: assignment.person.name,
      answered: state === 'accepted',
      assignment: { id, role, fromDay, toDay },
      links: await linksTo('crew-assignment', 'assignment', id),
    };
    return { template: 'crew-reminder', to: assignment.person, data };
  }
  return partnerMessage(visit, recipient, linksTo);
}

/** What a partner has not confirmed yet; the lift first. */
async function partnerMessage(
  visit: VisitFacts,
  recipient: Recipient,
  linksTo: (purpose: string, subjectKind: string, subjectId: string) => Promise<MessageLink[]>,
): Promise<Message | null> {
  const open = ['needed', 'asked', 'held'];
  const hold = visit.liftHolds.find(
    ({ partner, state }) => partner?.key === recipient.key && open.includes(state),
  );
  if (hold?.partner) {
    const links = await linksTo('partner-confirm', 'liftHold', hold.id);
    return {
      template: 'partner-reminder',
      to: hold.partner,
      data: { about: 'lift', lift: liftOf(hold), links },
    };
  }
  const run = visit.deliveryRuns.find(
    ({ haulier, state }) => haulier?.key === recipient.key && open.includes(state),
  );
  if (!run?.haulier) return null;
  const { day, truckKind } = run;
  const links = await linksTo('partner-confirm', 'deliveryRun', run.id);
  return {
    template: 'partner-reminder',
    to: run.haulier,
    data: { about: 'delivery', run: { day, truckKind, forkliftOnSite: visit.site.forkliftOnSite }, links },
  };
}

export interface ReminderQuery {
  readonly seasonId: string;
  readonly visitId?: string;
  readonly states?: readonly ReminderInfo['state'][];
}

/** Reminders of a season in the order of their moments. */
export async function listReminders(db: Database, query: ReminderQuery): Promise<ReminderInfo[]> {
  const rows = await db.client.reminder.findMany({
    where: {
      seasonId: query.seasonId,
      ...(query.visitId === undefined ? {} : { visitId: query.visitId }),
      ...(query.states === undefined ? {} : { state: { in: [...query.states] } }),
    },
    orderBy: [{ dueAt: 'asc' }, { id: 'asc' }],
  });
  return rows.map((row) => ({
    id: row.id,
    visitId: row.visitId,
    purpose: row.purpose,
    recipient: { kind: row.recipientKind as Recipient['kind'], key: row.recipientKey },
    localDate: dateFromDatabase(row.localDate),
    localTime: row.localTime,
    zone: row.zone,
    dueAt: toInstant(row.dueAt),
    state: row.state as ReminderInfo['state'],
    doneAt: toInstantOrNull(row.doneAt),
  }));
}

/** When the next reminder is due, or null. One in the past means that nobody sweeps. */
export async function nextReminderAt(db: Database): Promise<Instant | null> {
  const row = await db.client.reminder.findFirst({ where: { state: 'pending' }, orderBy: { dueAt: 'asc' } });
  return row ? toInstant(row.dueAt) : null;
}
