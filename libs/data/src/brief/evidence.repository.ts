import type { WeatherEvidenceDay } from '../../../contracts/src/http/briefs.ts';
import { addDays, addMinutes, type Instant, type LocalDate } from '../../../kernel/src/index.ts';
import type { Prisma } from '../../generated/client.ts';
import type { Database } from '../database.ts';
import { toDate } from '../moments.ts';
import { dateToDatabase } from '../season-tables.ts';

/** Hours of a day come in for so long after it; then its evidence stays as it is. */
const WAIT_DAYS = 45;
/** Evidence that lacks hours is made anew this long after it was made. */
const AGAIN_MIN = 6 * 60;

/** Keeps the evidence of a day of a visit in place of what was kept of it before. */
export async function keepEvidence(
  db: Database,
  input: {
    readonly seasonId: string;
    readonly visitId: string;
    readonly evidence: Omit<WeatherEvidenceDay, 'kept'>;
    readonly now: Instant;
  },
): Promise<void> {
  const { seasonId, visitId, evidence, now } = input;
  const key = { visitId, day: dateToDatabase(evidence.day as LocalDate) };
  const data = {
    content: evidence as unknown as Prisma.InputJsonValue,
    observed: evidence.observedHours,
    madeAt: toDate(now),
  };
  await db.client.visitWeatherEvidence.upsert({
    where: { visitId_day: key },
    create: { ...key, seasonId, ...data },
    update: data,
  });
}

/** What is kept of a visit, the first day first. */
export async function listEvidence(db: Database, visitId: string): Promise<WeatherEvidenceDay[]> {
  const rows = await db.client.visitWeatherEvidence.findMany({ where: { visitId }, orderBy: { day: 'asc' } });
  return rows.map(({ content }) => ({ ...(content as unknown as WeatherEvidenceDay), kept: true }));
}

/**
 * Visits with an outside day that has passed lately and of which nothing is kept, or not every hour and nobody looked for some hours. Whether the
 * shift is over on the clocks of the site is for the caller to see.
 */
export async function visitsWithoutEvidence(
  db: Database,
  input: { readonly now: Instant; readonly limit: number },
): Promise<string[]> {
  const { now, limit } = input;
  const today = now.slice(0, 10) as LocalDate;
  const again = toDate(addMinutes(now, -AGAIN_MIN));
  const [from, to] = [addDays(today, -WAIT_DAYS), addDays(today, 1)].map(dateToDatabase);
  const rows = await db.client.$queryRaw<{ id: string }[]>`
    SELECT v.id FROM visits v
    JOIN LATERAL (
      SELECT min(d.day) AS day FROM visit_days d WHERE d.visit_id = v.id AND d.kind = 'site' AND d.outside IS NOT FALSE
    ) AS first ON first.day IS NOT NULL
    LEFT JOIN visit_weather_evidence e ON e.visit_id = v.id AND e.day = first.day
    WHERE v.state IN ('planned', 'underway', 'done') AND first.day BETWEEN ${from}::date AND ${to}::date
      AND (e.id IS NULL OR (e.made_at < ${again} AND e.observed < jsonb_array_length(e.content -> 'evidence' -> 'hours')))
    ORDER BY first.day, v.id LIMIT ${limit}`;
  return rows.map(({ id }) => id);
}
