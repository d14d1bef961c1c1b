import type { Instant, LocalDate } from '../../../kernel/src/index.ts';
import type { Prisma } from '../../generated/client.ts';
import type { Database } from '../database.ts';
import { toInstant } from '../moments.ts';
import { getSeasonById, type SeasonInfo } from '../season.repository.ts';
import { dateFromDatabase } from '../season-tables.ts';
import { loadVisitFacts, type VisitFacts } from '../visit-facts.ts';

/** The visit to which something asked by link belongs, with its season; null: it is no longer there. */
export async function findVisitOfSubject(
  db: Database,
  input: { organisationId: string; kind: string; id: string },
): Promise<{ visit: VisitFacts; season: SeasonInfo } | null> {
  const where = whereOf(input.kind, input.id);
  if (!where) return null;
  const [visit] = await loadVisitFacts(db.client, {
    AND: [where, { season: { organisationId: input.organisationId } }],
  });
  return visit ? { visit, season: await getSeasonById(db.client, visit.seasonId) } : null;
}

function whereOf(kind: string, id: string): Prisma.VisitWhereInput | null {
  if (kind === 'assignment') return { assignments: { some: { id } } };
  if (kind === 'visit') return { id };
  if (kind === 'liftHold') return { liftHolds: { some: { id } } };
  if (kind === 'deliveryRun') return { jobRow: { deliveryRunsByJob: { some: { id } } } };
  return null;
}

/** The last answer to one thing. */
export interface LastAnswer {
  readonly source: string;
  readonly linkId: string | null;
  readonly answer: string;
  readonly proposedDay: LocalDate | null;
  readonly note: string | null;
  readonly reference: string | null;
  readonly at: Instant;
}

/** The last answer to each of some things, by their ids; what was never answered is not in it. */
export async function lastAnswers(
  db: Database,
  input: { organisationId: string; subjectIds: readonly string[] },
): Promise<ReadonlyMap<string, LastAnswer>> {
  const rows = await db.client.confirmation.findMany({
    where: { organisationId: input.organisationId, subjectId: { in: [...input.subjectIds] } },
    orderBy: [{ at: 'desc' }, { id: 'desc' }],
    distinct: ['subjectId'],
  });
  return new Map(
    rows.map((row) => {
      const words = (row.raw ?? {}) as { note?: unknown; reference?: unknown };
      const text = (value: unknown) => (typeof value === 'string' ? value : null);
      return [
        row.subjectId,
        {
          source: row.source,
          linkId: row.linkId,
          answer: row.answer,
          proposedDay: row.proposedDay && dateFromDatabase(row.proposedDay),
          note: text(words.note),
          reference: text(words.reference),
          at: toInstant(row.at),
        },
      ];
    }),
  );
}
