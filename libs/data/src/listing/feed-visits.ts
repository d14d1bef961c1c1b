import type { Instant } from '../../../kernel/src/index.ts';
import type { Prisma } from '../../generated/client.ts';
import type { Database } from '../database.ts';
import { toInstant } from '../moments.ts';
import { loadVisitFacts, type VisitFacts } from '../visit-facts.ts';

/** What a calendar follows; `id` is that of the row of the season's tables, or of the season. */
export interface FeedSubject {
  readonly kind: 'person' | 'crew' | 'site' | 'season';
  readonly id: string;
}

/** A visit and when it last changed. */
export interface FeedVisit {
  readonly facts: VisitFacts;
  readonly changedAt: Instant;
}

/** The row that a calendar is to follow, by its key in a season; null: there is none. */
export async function findFeedSubject(
  db: Database,
  input: { organisationId: string; season: string; kind: FeedSubject['kind']; key: string },
): Promise<{ id: string; seasonId: string } | null> {
  const where = { key: input.key, season: { organisationId: input.organisationId, key: input.season } };
  const select = { id: true, seasonId: true } as const;
  if (input.kind === 'person') return db.client.person.findFirst({ where, select });
  if (input.kind === 'crew') return db.client.crew.findFirst({ where, select });
  if (input.kind === 'site') return db.client.site.findFirst({ where, select });
  const season = await db.client.season.findFirst({
    where: { organisationId: input.organisationId, key: input.season },
    select: { id: true, key: true },
  });
  return season && input.key === season.key ? { id: season.id, seasonId: season.id } : null;
}

export interface Feed {
  /** Name of the person, crew, site or season. */
  readonly name: string;
  readonly seasonName: string;
  readonly workdayStart: string;
  readonly isDemo: boolean;
  /** Key of the person whose calendar it is, else null. */
  readonly person: string | null;
  readonly visits: readonly FeedVisit[];
}

/** What a calendar shows: the visits of its subject that are not cancelled; null: the subject is gone. */
export async function readFeed(db: Database, subject: FeedSubject): Promise<Feed | null> {
  const found = await subjectOf(db, subject);
  if (!found) return null;
  const season = await db.client.season.findUniqueOrThrow({ where: { id: found.seasonId } });
  const where: Prisma.VisitWhereInput = {
    AND: [{ seasonId: found.seasonId, state: { not: 'cancelled' } }, found.where],
  };
  const visits = await loadVisitFacts(db.client, where);
  const changes = await db.client.visit.findMany({ where, select: { id: true, updatedAt: true } });
  const changedAt = new Map(changes.map((row) => [row.id, toInstant(row.updatedAt)]));
  return {
    name: found.name,
    seasonName: season.name,
    workdayStart: season.workdayStart ?? '08:00',
    isDemo: season.isDemo,
    person: found.person,
    visits: visits.map((facts) => ({
      facts,
      changedAt: changedAt.get(facts.id) ?? toInstant(season.updatedAt),
    })),
  };
}

interface Found {
  readonly name: string;
  readonly seasonId: string;
  readonly person: string | null;
  readonly where: Prisma.VisitWhereInput;
}

async function subjectOf(db: Database, { kind, id }: FeedSubject): Promise<Found | null> {
  const where = { where: { id } };
  if (kind === 'person') {
    const row = await db.client.person.findUnique(where);
    const assigned = row && {
      assignments: { some: { person: row.key, state: { in: ['asked', 'accepted'] } } },
    };
    return row && { name: row.name, seasonId: row.seasonId, person: row.key, where: assigned ?? {} };
  }
  if (kind === 'crew') {
    const row = await db.client.crew.findUnique(where);
    return row && { name: row.name, seasonId: row.seasonId, person: null, where: { crew: row.key } };
  }
  if (kind === 'site') {
    const row = await db.client.site.findUnique(where);
    return (
      row && { name: row.name, seasonId: row.seasonId, person: null, where: { jobRow: { site: row.key } } }
    );
  }
  const row = await db.client.season.findUnique(where);
  return row && { name: row.name, seasonId: row.id, person: null, where: {} };
}
