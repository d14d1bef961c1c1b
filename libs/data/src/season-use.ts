import type { Fault, SeasonTableName } from '../../contracts/src/index.ts';
import type { Tx } from './database.ts';

interface RemovedRow {
  readonly table: SeasonTableName;
  readonly key: string;
}

/** A fault for each row that is to be removed though a visit, an assignment or a hold of a published plan refers to it. */
export async function usedByPublished(
  tx: Tx,
  seasonId: string,
  removed: readonly RemovedRow[],
): Promise<Fault[]> {
  const used = await usedKeys(tx, seasonId);
  return removed
    .filter((row) => used.get(row.table)?.has(row.key))
    .map((row) => ({
      table: row.table,
      row: 0,
      column: 'key',
      value: row.key,
      code: 'still-used',
      message: `The file has no row "${row.key}" any more, but a published visit refers to it.`,
      expected: 'the row as it is, or a plan without it published first',
    }));
}

async function usedKeys(tx: Tx, seasonId: string): Promise<Map<SeasonTableName, Set<string>>> {
  const visits = await tx.visit.findMany({ where: { seasonId }, select: { job: true, crew: true } });
  const assignments = await tx.assignment.findMany({ where: { seasonId }, select: { person: true } });
  const lifts = await tx.liftHold.findMany({ where: { seasonId }, select: { lift: true } });
  const units = await tx.equipmentHold.findMany({ where: { seasonId }, select: { unit: true } });
  return new Map<SeasonTableName, Set<string>>([
    ['jobs', new Set(visits.map((row) => row.job))],
    ['crews', new Set(visits.map((row) => row.crew))],
    ['people', new Set(assignments.map((row) => row.person))],
    ['lifts', new Set(lifts.map((row) => row.lift))],
    ['equipmentUnits', new Set(units.map((row) => row.unit))],
  ]);
}
