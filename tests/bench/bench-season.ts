import fs from 'node:fs';
import { type SeasonFile, validateSeasonFile } from '../../libs/contracts/src/index.ts';
import { systemActor } from '../../libs/data/src/actor.ts';
import { createDatabase, type Database } from '../../libs/data/src/database.ts';
import { ensureOrganisation } from '../../libs/data/src/organisation.repository.ts';
import { applyImport } from '../../libs/data/src/season-import.repository.ts';
import { createTestDatabase } from '../builders/test-database.ts';

export const benchActor = systemActor('bench');

export interface BenchSeason {
  readonly url: string;
  readonly db: Database;
  readonly organisationId: string;
  readonly seasonId: string;
  close(): Promise<void>;
}

/** The larger demo season, checked. */
export function demoSeason(): SeasonFile {
  const file = new URL('../../prisma/demo/larch-and-loon-2027.json', import.meta.url);
  const read = validateSeasonFile(JSON.parse(fs.readFileSync(file, 'utf8')));
  if (!read.ok) throw new Error(`the demo season is not valid: ${JSON.stringify(read.faults[0])}`);
  return read.value;
}

/** A migrated database of its own with one firm and the season. */
export async function openBenchSeason(file: SeasonFile): Promise<BenchSeason> {
  const { url, drop } = await createTestDatabase();
  const db = createDatabase({ url });
  const firm = { key: 'bench', name: 'Larch & Loon Domes (invented)', zone: file.season.zone, isDemo: true };
  const organisationId = (await ensureOrganisation(db, firm, benchActor)).id;
  const report = await applyImport(db, organisationId, file, benchActor);
  if (!report.ok || !report.seasonId)
    throw new Error(`the season was not read in: ${JSON.stringify(report.faults)}`);
  return {
    url,
    db,
    organisationId,
    seasonId: report.seasonId,
    close: async () => {
      await db.close();
      await drop();
    },
  };
}
