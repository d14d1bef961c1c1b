import { addDays, type Instant, type LocalDate, localToInstant } from '../../../kernel/src/index.ts';
import type { Recipient } from '../action-link.repository.ts';
import { type BriefHours, type BriefPurpose, briefDay, briefTimes } from '../brief/brief-times.ts';
import type { Tx } from '../database.ts';
import { toDate, toInstant } from '../moments.ts';
import { dateToDatabase } from '../season-tables.ts';
import type { VisitFacts } from '../visit-facts.ts';

/** Days before the visit on which the customer is reminded of the preparation of the site. */
const PREPARATION_DAYS_BEFORE = [28, 14, 7, 2];
const PARTNER_DAYS_BEFORE = 5;

export interface WantedReminder {
  readonly visitId: string;
  readonly purpose: 'customer-preparation' | 'crew-day-before' | 'partner-confirmation' | BriefPurpose;
  readonly recipient: Recipient;
  readonly localDate: LocalDate;
  readonly localTime: string;
  readonly zone: string;
  readonly dueAt: Instant;
  readonly dedupeKey: string;
  /** One that is late by the time it is written is still made until then; others are only made ahead of time. */
  readonly usefulUntil?: Instant;
}

/** Briefs go to every manager and to the lead of the visit, whoever these are by then. */
const BRIEF_READERS: Recipient = { kind: 'user', key: 'managers-and-lead' };

function briefReminders(visit: VisitFacts, hours: BriefHours): WantedReminder[] {
  const day = briefDay(visit);
  if (day === null || (visit.state !== 'planned' && visit.state !== 'underway')) return [];
  return briefTimes(day, visit.site.zone, hours).map((time) => ({
    ...time,
    visitId: visit.id,
    recipient: BRIEF_READERS,
    dedupeKey: `${time.purpose}:${visit.id}:${day}`,
  }));
}

/**
 * The reminders that a visit needs: the customer's ladder, each person the day before, each partner five days before, and the briefs of its
 * first outside day.
 */
export function remindersOf(visit: VisitFacts, hours: BriefHours): WantedReminder[] {
  const briefs = briefReminders(visit, hours);
  if (visit.state !== 'planned') return briefs;
  const make = (
    purpose: WantedReminder['purpose'],
    recipient: Recipient,
    daysBefore: number,
    localTime: string,
    zone: string,
    firstDay: LocalDate = visit.startDay,
  ): WantedReminder => {
    const localDate = addDays(firstDay, -daysBefore);
    return {
      visitId: visit.id,
      purpose,
      recipient,
      localDate,
      localTime,
      zone,
      dueAt: localToInstant({ date: localDate, time: localTime, zone }).instant,
      dedupeKey: `${purpose}:${visit.id}:${recipient.kind}:${recipient.key}:${localDate}`,
    };
  };
  const customer: Recipient = { kind: 'customer', key: visit.customer.key };
  const partners = new Map(
    [...visit.liftHolds.filter(({ state }) => state !== 'off'), ...visit.deliveryRuns.map(asPartnerWork)]
      .filter((work) => work.partner !== null)
      .map((work) => [work.partner?.key as string, work.partner?.zone as string]),
  );
  const people = visit.assignments.filter(({ state }) => state === 'asked' || state === 'accepted');
  return [
    ...briefs,
    ...PREPARATION_DAYS_BEFORE.map((days) =>
      make('customer-preparation', customer, days, '08:00', visit.site.zone),
    ),
    // The day before their own first day: a hand may come later than the rest of the crew.
    ...people.map(({ person, fromDay }) =>
      make('crew-day-before', { kind: 'person', key: person.key }, 1, '17:00', person.zone, fromDay),
    ),
    ...[...partners].map(([key, zone]) =>
      make('partner-confirmation', { kind: 'partner', key }, PARTNER_DAYS_BEFORE, '09:00', zone),
    ),
  ];
}

/**
 * Makes the waiting reminders of a season those of its visits; those that would lie in the past are left out. One that
 * was done is not done again. Returns how many now wait.
 */
export async function writeReminders(
  tx: Tx,
  input: { seasonId: string; visits: readonly VisitFacts[]; hours: BriefHours; now: Instant },
): Promise<number> {
  const wanted = new Map(
    input.visits
      .flatMap((visit) => remindersOf(visit, input.hours))
      .filter((reminder) => (reminder.usefulUntil ?? reminder.dueAt) > input.now)
      .map((reminder) => [reminder.dedupeKey, reminder]),
  );
  const known = await tx.reminder.findMany({ where: { seasonId: input.seasonId } });
  const stale = known
    .filter((row) => row.state === 'pending' && !wanted.has(row.dedupeKey))
    .map((row) => row.id);
  await tx.reminder.updateMany({ where: { id: { in: stale } }, data: { state: 'cancelled' } });
  let waiting = 0;
  for (const row of known) {
    const reminder = wanted.get(row.dedupeKey);
    if (!reminder) continue;
    wanted.delete(row.dedupeKey);
    if (row.state === 'done') continue;
    waiting += 1;
    if (row.state === 'pending' && toInstant(row.dueAt) === reminder.dueAt) continue;
    await tx.reminder.update({
      where: { id: row.id },
      data: { ...timesOf(reminder), state: 'pending', doneAt: null },
    });
  }
  await tx.reminder.createMany({
    data: [...wanted.values()].map((reminder) => ({
      seasonId: input.seasonId,
      visitId: reminder.visitId,
      purpose: reminder.purpose,
      recipientKind: reminder.recipient.kind,
      recipientKey: reminder.recipient.key,
      dedupeKey: reminder.dedupeKey,
      ...timesOf(reminder),
    })),
  });
  return waiting + wanted.size;
}

function timesOf(reminder: WantedReminder) {
  return {
    localDate: dateToDatabase(reminder.localDate),
    localTime: reminder.localTime,
    zone: reminder.zone,
    dueAt: toDate(reminder.dueAt),
  };
}

function asPartnerWork(run: VisitFacts['deliveryRuns'][number]) {
  return { partner: run.state === 'done' || run.state === 'off' ? null : run.haulier };
}
