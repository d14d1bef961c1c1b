import type { Prisma } from '../../generated/client.ts';
import type { Database } from '../database.ts';
import { getSeasonById, type SeasonInfo } from '../season.repository.ts';
import { loadVisitFacts, type VisitFacts } from '../visit-facts.ts';

/** What an answer can be about, as links name it. */
export type LinkSubjectKind = 'assignment' | 'visit' | 'liftHold' | 'deliveryRun';

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
