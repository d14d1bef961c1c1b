import { DryspellError, type LocalDate } from '../../kernel/src/index.ts';
import type { Prisma } from '../generated/client.ts';
import type { Actor } from './actor.ts';
import { writeAudit } from './audit.repository.ts';
import type { Database } from './database.ts';
import { dateToDatabase } from './season-tables.ts';
import { loadVisitFacts, type VisitFacts, type VisitState } from './visit-facts.ts';

export interface VisitQuery {
  readonly seasonId: string;
  /** Only visits that end on or after this day. */
  readonly fromDay?: LocalDate;
  /** Only visits that start on or before this day. */
  readonly toDay?: LocalDate;
  readonly crew?: string;
  readonly job?: string;
  /** Only visits on which this person is asked or has accepted. */
  readonly person?: string;
  readonly states?: readonly VisitState[];
}

/** The published visits of a season in the order of their starts; cancelled ones only when asked for. */
export async function listVisits(db: Database, query: VisitQuery): Promise<VisitFacts[]> {
  return loadVisitFacts(db.client, { seasonId: query.seasonId, ...whereOf(query) });
}

function whereOf(query: Omit<VisitQuery, 'seasonId'>): Prisma.VisitWhereInput {
  return {
    state: { in: [...(query.states ?? ['planned', 'underway', 'done'])] },
    ...(query.fromDay === undefined ? {} : { endDay: { gte: dateToDatabase(query.fromDay) } }),
    ...(query.toDay === undefined ? {} : { startDay: { lte: dateToDatabase(query.toDay) } }),
    ...(query.crew === undefined ? {} : { crew: query.crew }),
    ...(query.job === undefined ? {} : { job: query.job }),
    ...(query.person === undefined
      ? {}
      : { assignments: { some: { person: query.person, state: { in: ['asked', 'accepted'] } } } }),
  };
}

const NEXT_STATES: Readonly<Record<VisitState, readonly VisitState[]>> = {
  planned: ['underway'],
  underway: ['planned', 'done'],
  done: ['underway'],
  cancelled: [],
};

export interface VisitStateChange {
  readonly organisationId: string;
  readonly visitId: string;
  readonly version: number;
  readonly state: 'planned' | 'underway' | 'done';
  readonly actor: Actor;
}

/** A visit begins, ends, or one of these is taken back. Throws `not-found`, `version-conflict`, `state-conflict`. */
export async function setVisitState(db: Database, input: VisitStateChange): Promise<VisitFacts> {
  return db.transaction(async (tx) => {
    const [before] = await loadVisitFacts(tx, {
      id: input.visitId,
      season: { organisationId: input.organisationId },
    });
    if (!before) throw new DryspellError('not-found', { visit: input.visitId });
    if (before.version !== input.version)
      throw new DryspellError('version-conflict', { version: before.version });
    if (!NEXT_STATES[before.state].includes(input.state)) {
      throw new DryspellError('state-conflict', { state: before.state, wanted: input.state });
    }
    await tx.visit.update({ where: { id: before.id }, data: { state: input.state } });
    await writeAudit(tx, {
      actor: input.actor,
      organisationId: input.organisationId,
      seasonId: before.seasonId,
      action: `visit.${input.state}`,
      subjectKind: 'visit',
      subjectId: before.id,
      subjectKey: before.job.key,
      before: { state: before.state },
      after: { state: input.state },
    });
    const [after] = await loadVisitFacts(tx, { id: before.id });
    return after as VisitFacts;
  });
}
