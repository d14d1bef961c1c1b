import { addDays, addMinutes, type Instant, type LocalDate } from '../../../kernel/src/index.ts';
import type { Database } from '../database.ts';
import { toDate } from '../moments.ts';
import { getSeasonById } from '../season.repository.ts';
import { dateToDatabase } from '../season-tables.ts';
import { loadVisitFacts } from '../visit-facts.ts';
import { listIssues } from '../weather/forecasts.repository.ts';
import { briefDay, briefTimes } from './brief-times.ts';
import { lastBrief } from './visit-brief.repository.ts';
import { weatherOfSite } from './visit-weather.ts';

/** Without a newer forecast a brief is looked at again after so long: the one that it went by grows stale. */
const LOOK_AGAIN_MIN = 60;

/** A brief that was sent and may no longer hold. */
export interface BriefToCheck {
  readonly visitId: string;
  readonly briefId: string;
}

/** Visits with a brief for a day that is not decided yet, and a newer forecast since, or an hour gone by. */
export async function briefsToCheck(db: Database, now: Instant): Promise<BriefToCheck[]> {
  const today = now.slice(0, 10) as LocalDate;
  // A day of grace either way: it may still be, or already be, the day somewhere.
  const near = { gte: dateToDatabase(addDays(today, -1)), lte: dateToDatabase(addDays(today, 2)) };
  const rows = await db.client.visitBrief.findMany({
    where: { day: near, visit: { state: { in: ['planned', 'underway'] } } },
    select: { visitId: true },
    distinct: ['visitId'],
  });
  const visits = await loadVisitFacts(db.client, { id: { in: rows.map(({ visitId }) => visitId) } });
  const found: BriefToCheck[] = [];
  for (const visit of visits) {
    const day = briefDay(visit);
    if (day === null) continue;
    const season = await getSeasonById(db.client, visit.seasonId);
    const last = briefTimes(day, visit.site.zone, season.head).at(-1);
    const brief = await lastBrief(db.client, visit.id, day);
    if (!brief || !last || now >= last.usefulUntil) continue;
    const { forecasts } = await weatherOfSite(db, season, visit.site.key);
    const [newest] = await listIssues(db, {
      seriesIds: forecasts.map(({ id }) => id),
      issuedBy: now,
      limit: 1,
    });
    // By when it was issued, not fetched: one that was being written while the brief was made must not be missed.
    const newer = newest !== undefined && newest.issuedAt > (brief.forecastIssuedAt ?? '');
    if (newer || brief.checkedAt <= addMinutes(now, -LOOK_AGAIN_MIN))
      found.push({ visitId: visit.id, briefId: brief.id });
  }
  return found;
}

/** Puts off the next look at a brief that could not be made anew. */
export async function noteBriefChecked(db: Database, briefId: string, now: Instant): Promise<void> {
  await db.client.visitBrief.update({ where: { id: briefId }, data: { checkedAt: toDate(now) } });
}
