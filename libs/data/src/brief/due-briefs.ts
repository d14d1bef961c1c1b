import type { Instant, LocalDate } from '../../../kernel/src/index.ts';
import type { Database } from '../database.ts';
import { toDate } from '../moments.ts';
import { getSeasonById } from '../season.repository.ts';
import { dateFromDatabase } from '../season-tables.ts';
import { loadVisitFacts } from '../visit-facts.ts';
import { BRIEF_PURPOSES, type BriefPurpose, type BriefTime, briefDay, briefTimes } from './brief-times.ts';

/** A brief whose moment has come. */
export interface DueBrief {
  readonly reminderId: string;
  readonly visitId: string;
  readonly purpose: BriefPurpose;
  /** Why it is not to be sent any more; null: send it. */
  readonly closeBecause: string | null;
}

/** Briefs that are due and not done, the first due first. Those that help nobody any more come with the reason. */
export async function dueBriefs(
  db: Database,
  input: { readonly now: Instant; readonly limit: number },
): Promise<DueBrief[]> {
  const { now, limit } = input;
  const rows = await db.client.reminder.findMany({
    where: { state: 'pending', purpose: { in: [...BRIEF_PURPOSES] }, dueAt: { lte: toDate(now) } },
    orderBy: [{ dueAt: 'asc' }, { id: 'asc' }],
    take: limit,
  });
  const visits = await loadVisitFacts(db.client, { id: { in: rows.map(({ visitId }) => visitId) } });
  const due: DueBrief[] = [];
  for (const row of rows) {
    const purpose = row.purpose as BriefPurpose;
    const visit = visits.find(({ id }) => id === row.visitId);
    const day = visit ? briefDay(visit) : null;
    const common = { reminderId: row.id, visitId: row.visitId, purpose };
    if (!visit || day === null || visit.state === 'cancelled' || visit.state === 'done') {
      due.push({
        ...common,
        closeBecause: `the visit is ${day === null ? 'without outside work' : visit?.state}`,
      });
      continue;
    }
    const season = await getSeasonById(db.client, visit.seasonId);
    const time = briefTimes(day, visit.site.zone, season.head).find((each) => each.purpose === purpose);
    due.push({ ...common, closeBecause: whyNot(time, dateFromDatabase(row.localDate), now) });
  }
  return due;
}

function whyNot(time: BriefTime | undefined, localDate: LocalDate, now: Instant): string | null {
  if (time?.localDate !== localDate) return 'the visit has moved to another day';
  return now >= time.usefulUntil ? `too late to help: it was of use until ${time.usefulUntil}` : null;
}

/** Closes a brief that is not sent; one that is closed already stays as it is. */
export async function closeBrief(
  db: Database,
  input: { readonly reminderId: string; readonly reason: string; readonly now: Instant },
): Promise<void> {
  await db.client.reminder.updateMany({
    where: { id: input.reminderId, state: 'pending' },
    data: { state: 'skipped', doneAt: toDate(input.now), closedReason: input.reason.slice(0, 500) },
  });
}
