import type { MorningBrief } from '../../../contracts/src/http/brief-schema.ts';
import { DryspellError, type Instant, type LocalDate } from '../../../kernel/src/index.ts';
import type { Prisma } from '../../generated/client.ts';
import type { VisitBriefModel } from '../../generated/models/VisitBrief.ts';
import type { Database, Tx } from '../database.ts';
import { toDate, toInstant, toInstantOrNull } from '../moments.ts';
import { addDeliveries, type NewDelivery } from '../new-delivery.ts';
import { dateFromDatabase, dateToDatabase } from '../season-tables.ts';
import type { MadeBrief } from './make-brief.ts';

export type BriefKind = 'day-before' | 'on-the-day' | 'newer-forecast';

/** A brief as it was kept. */
export interface KeptBrief {
  readonly id: string;
  readonly visitId: string;
  readonly kind: BriefKind;
  readonly day: LocalDate;
  readonly brief: MorningBrief;
  /** What it rested on, as plain JSON. */
  readonly input: unknown;
  readonly turnedFrom: MorningBrief['advice'] | null;
  readonly madeAt: Instant;
  readonly checkedAt: Instant;
  /** When the newest forecast that it was held against was issued, of whatever service; null: there was none. */
  readonly forecastIssuedAt: Instant | null;
}

/** The last brief of a visit for a day; null: there was none. */
export async function lastBrief(tx: Tx, visitId: string, day: LocalDate): Promise<KeptBrief | null> {
  const row = await tx.visitBrief.findFirst({
    where: { visitId, day: dateToDatabase(day) },
    orderBy: [{ madeAt: 'desc' }, { id: 'desc' }],
  });
  return row && keptOf(row);
}

/**
 * Keeps a brief, writes its messages and closes its reminder, all in one: a second worker, or the same one after it died, finds the reminder
 * done and writes nothing. False: somebody else was first, or the visit has moved since the brief was made.
 */
export async function sendBrief(
  db: Database,
  input: {
    readonly reminderId: string;
    readonly kind: Exclude<BriefKind, 'newer-forecast'>;
    readonly made: MadeBrief;
    readonly now: Instant;
    readonly mailDomain: string;
  },
): Promise<boolean> {
  const { reminderId, kind, made, now, mailDomain } = input;
  return db.transaction(
    async (tx) => {
      const [taken] = await tx.$queryRaw<{ id: string }[]>`
        SELECT id FROM reminders WHERE id = ${reminderId}::uuid AND state = 'pending' FOR UPDATE`;
      const visit = await tx.visit.findUnique({ where: { id: made.visit.id }, select: { sequence: true } });
      if (!taken || visit?.sequence !== made.visit.sequence) return false;
      const day = made.brief.visit.day as LocalDate;
      const heard = await lastSentAdvice(tx, made.visit.id, day);
      const turnedFrom = heard === made.brief.advice ? null : heard;
      await keep(tx, { made, kind, reminderId, turnedFrom, now });
      await addDeliveries(tx, mailDomain, await briefMessages(tx, { made, reminderId, turnedFrom, now }));
      await tx.reminder.update({ where: { id: reminderId }, data: { state: 'done', doneAt: toDate(now) } });
      return true;
    },
    { isolation: 'readCommitted' },
  );
}

/** Notes that a newer forecast was looked at; keeps a brief of its own where the advice has changed. Returns what it turned from, or null. */
export async function noteNewerForecast(
  db: Database,
  input: { readonly made: MadeBrief; readonly seen: string; readonly now: Instant },
): Promise<MorningBrief['advice'] | null> {
  const { made, seen, now } = input;
  return db.transaction(
    async (tx) => {
      const day = made.brief.visit.day as LocalDate;
      await tx.$queryRaw`SELECT 1 AS locked FROM visit_briefs WHERE id = ${seen}::uuid FOR UPDATE`;
      const before = await lastBrief(tx, made.visit.id, day);
      if (before?.id !== seen) return null;
      if (before.brief.advice === made.brief.advice) {
        await tx.visitBrief.update({
          where: { id: before.id },
          data: { checkedAt: toDate(now), forecastIssuedAt: dateOrNull(made.newestIssuedAt) },
        });
        return null;
      }
      await keep(tx, {
        made,
        kind: 'newer-forecast',
        reminderId: null,
        turnedFrom: before.brief.advice,
        now,
      });
      return before.brief.advice;
    },
    { isolation: 'readCommitted' },
  );
}

/** What the readers were last told about the day; a turn between two briefs reached the screen only. */
async function lastSentAdvice(
  tx: Tx,
  visitId: string,
  day: LocalDate,
): Promise<MorningBrief['advice'] | null> {
  const row = await tx.visitBrief.findFirst({
    where: { visitId, day: dateToDatabase(day), purpose: { not: 'newer-forecast' } },
    orderBy: [{ madeAt: 'desc' }, { id: 'desc' }],
    select: { advice: true },
  });
  return (row?.advice ?? null) as MorningBrief['advice'] | null;
}

async function keep(
  tx: Tx,
  input: {
    readonly made: MadeBrief;
    readonly kind: BriefKind;
    readonly reminderId: string | null;
    readonly turnedFrom: MorningBrief['advice'] | null;
    readonly now: Instant;
  },
): Promise<void> {
  const { made, kind, reminderId, turnedFrom, now } = input;
  const { brief, visit } = made;
  await tx.visitBrief.create({
    data: {
      seasonId: visit.seasonId,
      visitId: visit.id,
      reminderId,
      purpose: kind,
      day: dateToDatabase(brief.visit.day as LocalDate),
      advice: brief.advice,
      turnedFrom,
      content: brief as unknown as Prisma.InputJsonValue,
      input: made.input as Prisma.InputJsonValue,
      forecastIssuedAt: dateOrNull(made.newestIssuedAt),
      madeAt: toDate(now),
      checkedAt: toDate(now),
    },
  });
}

/** A mail to each manager and to the lead, and a text to the lead where a number is known. */
async function briefMessages(
  tx: Tx,
  input: {
    readonly made: MadeBrief;
    readonly reminderId: string;
    readonly turnedFrom: MorningBrief['advice'] | null;
    readonly now: Instant;
  },
): Promise<NewDelivery[]> {
  const { made, reminderId, turnedFrom, now } = input;
  const { season, visit, brief } = made;
  const managers = await tx.membership.findMany({
    where: {
      organisationId: season.organisationId,
      role: 'manager',
      revokedAt: null,
      user: { disabledAt: null },
    },
    include: { user: true },
    orderBy: { userId: 'asc' },
  });
  const lead = visit.assignments.find(
    ({ role, state }) => role === 'lead' && (state === 'asked' || state === 'accepted'),
  )?.person;
  const message = (
    channel: 'mail' | 'text',
    recipient: NewDelivery['recipient'],
    address: string | null,
    language: string,
    reader: object,
  ): NewDelivery => ({
    organisationId: season.organisationId,
    seasonId: season.id,
    visitId: visit.id,
    reminderId,
    channel,
    recipient,
    address,
    language,
    template: 'morning-brief',
    data: {
      organisation: season.head.organisationName,
      isDemo: season.head.isDemo,
      ...reader,
      brief,
      turnedFrom,
    },
    dedupeKey: `brief:${reminderId}:${channel}:${recipient.kind}:${recipient.key}`,
    notBefore: now,
  });
  return [
    ...managers.map(({ user }) =>
      message('mail', { kind: 'user', key: user.id }, user.email, user.language, { manager: user.name }),
    ),
    ...(lead
      ? [message('mail', { kind: 'person', key: lead.key }, lead.email, lead.language, { person: lead.name })]
      : []),
    ...(lead?.phone
      ? [message('text', { kind: 'person', key: lead.key }, lead.phone, lead.language, { person: lead.name })]
      : []),
  ];
}

/** The briefs of a visit for one day, the first first. */
export async function briefsOfDay(tx: Tx, visitId: string, day: LocalDate): Promise<KeptBrief[]> {
  const rows = await tx.visitBrief.findMany({
    where: { visitId, day: dateToDatabase(day) },
    orderBy: [{ madeAt: 'asc' }, { id: 'asc' }],
  });
  return rows.map(keptOf);
}

/** Every brief of a visit that was kept, the newest first. Throws `not-found` for a visit of another organisation. */
export async function listBriefs(
  db: Database,
  input: { readonly organisationId: string; readonly visitId: string },
): Promise<KeptBrief[]> {
  const { organisationId, visitId } = input;
  const visit = await db.client.visit.findFirst({ where: { id: visitId, season: { organisationId } } });
  if (!visit) throw new DryspellError('not-found', { visit: visitId });
  const rows = await db.client.visitBrief.findMany({
    where: { visitId },
    orderBy: [{ madeAt: 'desc' }, { id: 'desc' }],
  });
  return rows.map(keptOf);
}

const dateOrNull = (instant: Instant | null): Date | null => (instant === null ? null : toDate(instant));

function keptOf(row: VisitBriefModel): KeptBrief {
  return {
    id: row.id,
    visitId: row.visitId,
    kind: row.purpose as BriefKind,
    day: dateFromDatabase(row.day),
    brief: row.content as unknown as MorningBrief,
    input: row.input,
    turnedFrom: row.turnedFrom as MorningBrief['advice'] | null,
    madeAt: toInstant(row.madeAt),
    checkedAt: toInstant(row.checkedAt),
    forecastIssuedAt: toInstantOrNull(row.forecastIssuedAt),
  };
}
