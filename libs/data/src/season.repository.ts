import { type SeasonHead, validateSeasonRow } from '../../contracts/src/index.ts';
import { DryspellError } from '../../kernel/src/index.ts';
import type { Actor } from './actor.ts';
import { writeAudit } from './audit.repository.ts';
import type { Database, Tx } from './database.ts';
import { type DatabaseRow, toDatabaseRow, toFileRow } from './season-tables.ts';

export interface SeasonInfo {
  readonly id: string;
  readonly organisationId: string;
  readonly version: number;
  /** The one row of the season file about the season itself. */
  readonly head: SeasonHead;
}

/** The seasons of an organisation, the latest first. */
export async function listSeasons(db: Database, organisationId: string): Promise<SeasonInfo[]> {
  const rows = await db.client.season.findMany({
    where: { organisationId },
    orderBy: [{ firstDay: 'desc' }, { key: 'asc' }],
  });
  return rows.map(seasonInfoOf);
}

/** Throws `not-found`, also for a season of another organisation. */
export async function getSeason(
  db: Database,
  organisationId: string,
  seasonKey: string,
): Promise<SeasonInfo> {
  const row = await db.client.season.findUnique({
    where: { organisationId_key: { organisationId, key: seasonKey } },
  });
  if (!row) throw new DryspellError('not-found', { season: seasonKey });
  return seasonInfoOf(row);
}

/** Throws `not-found`. For code that already knows that it may see the season. */
export async function getSeasonById(tx: Tx, seasonId: string): Promise<SeasonInfo> {
  const row = await tx.season.findUnique({ where: { id: seasonId } });
  if (!row) throw new DryspellError('not-found', { season: seasonId });
  return seasonInfoOf(row);
}

export interface SeasonHeadChange {
  readonly seasonId: string;
  readonly version: number;
  readonly changes: Partial<SeasonHead>;
  readonly actor: Actor;
}

/** Changes cells of the season's own row. Throws `version-conflict`, `invalid-input` with the faults. */
export async function updateSeasonHead(db: Database, input: SeasonHeadChange): Promise<SeasonInfo> {
  return db.transaction(async (tx) => {
    const before = await getSeasonById(tx, input.seasonId);
    if (before.version !== input.version)
      throw new DryspellError('version-conflict', { version: before.version });
    const head = withoutEmpty({ ...before.head, ...input.changes });
    const faults = validateSeasonRow('season', head);
    if (faults.length > 0) throw new DryspellError('invalid-input', { faults });
    const data = toDatabaseRow('season', head) as Parameters<Tx['season']['update']>[0]['data'];
    const after = seasonInfoOf(await tx.season.update({ where: { id: input.seasonId }, data }));
    if (after.version === before.version) return after;
    await writeAudit(tx, {
      actor: input.actor,
      organisationId: before.organisationId,
      seasonId: before.id,
      action: 'season.changed',
      subjectKind: 'season',
      subjectId: before.id,
      subjectKey: after.head.key,
      before: before.head,
      after: after.head,
    });
    return after;
  });
}

export function seasonInfoOf(row: DatabaseRow): SeasonInfo {
  return {
    id: row['id'] as string,
    organisationId: row['organisationId'] as string,
    version: row['version'] as number,
    head: toFileRow('season', row) as unknown as SeasonHead,
  };
}

function withoutEmpty<T extends object>(row: T): T {
  return Object.fromEntries(
    Object.entries(row).filter(([, value]) => value !== null && value !== undefined),
  ) as T;
}
