import type { BriefCore, BriefInput } from '../../../intake/src/index.ts';
import type { Instant, LocalDate } from '../../../kernel/src/index.ts';
import type { ForecastKind, LeadCase } from '../../../weather/src/index.ts';
import type { Database } from '../database.ts';
import { toDate } from '../moments.ts';
import { dateToDatabase } from '../season-tables.ts';

/** One forecast of one site day that has passed, and what came. */
export interface NewForecastCase {
  readonly visitId: string;
  readonly seriesId: string;
  readonly day: LocalDate;
  readonly leadDays: number;
  readonly kind: ForecastKind;
  readonly issuedAt: Instant;
  readonly forecastShare: number;
  /** Null: there were no records from before the forecast. */
  readonly recordShare: number | null;
  readonly good: boolean;
}

/** Keeps cases; one that is there already is written over, for hours may have come in since. */
export async function keepForecastCases(
  db: Database,
  cases: readonly NewForecastCase[],
  now: Instant,
): Promise<void> {
  for (const { visitId, seriesId, day, leadDays, issuedAt, ...facts } of cases) {
    const key = { visitId, seriesId, day: dateToDatabase(day), leadDays };
    const data = { ...facts, issuedAt: toDate(issuedAt), madeAt: toDate(now) };
    await db.client.forecastCase.upsert({
      where: { visitId_seriesId_day_leadDays: key },
      create: { ...key, ...data },
      update: data,
    });
  }
}

/** The cases of an organisation by how the forecast was made, oldest first; those without records are left out. */
export async function leadCases(
  db: Database,
  organisationId: string,
): Promise<Record<ForecastKind, LeadCase[]>> {
  const rows = await db.client.forecastCase.findMany({
    where: { series: { organisationId }, recordShare: { not: null } },
    orderBy: [{ day: 'asc' }, { visitId: 'asc' }, { seriesId: 'asc' }, { leadDays: 'asc' }],
  });
  const of = (kind: ForecastKind) =>
    rows
      .filter((row) => row.kind === kind)
      .map(({ leadDays, forecastShare, recordShare, good }) => ({
        leadDays,
        forecastShare,
        recordShare: recordShare as number,
        good,
      }));
  return { single: of('single'), ensemble: of('ensemble') };
}

/** What a forecast counts by its lead, for this organisation: fitted from its cases, else the stated defaults. */
export async function leadWeights(
  db: Database,
  core: Pick<BriefCore, 'fitLeadWeights'>,
  organisationId: string,
): Promise<BriefInput['weights']> {
  const cases = await leadCases(db, organisationId);
  return {
    single: core.fitLeadWeights(cases.single, 'single'),
    ensemble: core.fitLeadWeights(cases.ensemble, 'ensemble'),
  };
}
