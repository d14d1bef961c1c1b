import {
  canonicalSeasonFile,
  type SeasonFile,
  seasonFileFormat,
  seasonFileVersion,
  seasonTableNames,
} from '../../contracts/src/index.ts';
import type { Database, Tx } from './database.ts';
import { getSeason, type SeasonInfo } from './season.repository.ts';
import { delegateOf, toFileRow } from './season-tables.ts';

/**
 * The whole season as a season file in canonical form, read at one moment. Importing it again changes nothing.
 * Throws `not-found`.
 */
export async function exportSeason(
  db: Database,
  organisationId: string,
  seasonKey: string,
): Promise<SeasonFile> {
  const season = await getSeason(db, organisationId, seasonKey);
  return db.transaction((tx) => readSeasonFile(tx, season));
}

/** The season file of a season within a transaction. */
export async function readSeasonFile(tx: Tx, season: SeasonInfo): Promise<SeasonFile> {
  const tables: Record<string, unknown> = {};
  for (const name of seasonTableNames) {
    const rows = await delegateOf(tx, name).findMany({ where: { seasonId: season.id } });
    tables[name] = rows.map((row) => toFileRow(name, row));
  }
  const file = { format: seasonFileFormat, formatVersion: seasonFileVersion, season: season.head, ...tables };
  return canonicalSeasonFile(file as SeasonFile);
}
