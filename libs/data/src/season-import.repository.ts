import {
  canonicalRow,
  type Fault,
  type SeasonFile,
  type SeasonTableName,
  seasonTable,
  seasonTableNames,
  validateSeasonFile,
} from '../../contracts/src/index.ts';
import { canonicalJson, DryspellError } from '../../kernel/src/index.ts';
import type { Actor } from './actor.ts';
import { type AuditEntry, writeAudit } from './audit.repository.ts';
import type { Database, Tx } from './database.ts';
import { type SeasonInfo, seasonInfoOf } from './season.repository.ts';
import { delegateOf, type FileRow, keyTextOf, toDatabaseRow, toFileRow } from './season-tables.ts';
import { usedByPublished } from './season-use.ts';

/** Which rows of one table an import adds, changes, removes; the lists hold their natural keys. */
export interface TableChange {
  readonly added: readonly string[];
  readonly changed: readonly string[];
  readonly removed: readonly string[];
  readonly unchanged: number;
}

export interface ImportReport {
  /** False: there are faults, and nothing can be or was imported. */
  readonly ok: boolean;
  readonly faults: readonly Fault[];
  /** What was understood differently from what the file says. */
  readonly notes: readonly string[];
  /** Id of the season; null when it would be new. */
  readonly seasonId: string | null;
  readonly seasonState: 'added' | 'changed' | 'unchanged';
  readonly tables: Readonly<Partial<Record<SeasonTableName, TableChange>>>;
}

interface Change {
  readonly table: SeasonTableName;
  readonly key: string;
  readonly id: string | null;
  readonly before: FileRow | null;
  readonly after: FileRow | null;
}

interface Prepared {
  readonly report: ImportReport;
  readonly season: SeasonInfo | null;
  readonly file: SeasonFile | null;
  readonly changes: readonly Change[];
}

/** What importing the file would change. Changes nothing; an unsound file comes back with its faults. */
export async function planImport(db: Database, organisationId: string, file: unknown): Promise<ImportReport> {
  return db.transaction(async (tx) => (await prepare(tx, organisationId, file)).report);
}

/**
 * Makes the season in the database equal to the file, all or nothing. Rows that the file lacks are removed; where
 * something published refers to one, the import is refused. The same file again changes nothing at all.
 * Throws `season-file-invalid` with `data.faults`.
 */
export async function applyImport(
  db: Database,
  organisationId: string,
  file: unknown,
  actor: Actor,
): Promise<ImportReport> {
  return db.transaction(
    async (tx) => {
      const prepared = await prepare(tx, organisationId, file);
      if (!prepared.report.ok || !prepared.file) {
        throw new DryspellError('season-file-invalid', { faults: prepared.report.faults });
      }
      const season = await writeHead(tx, organisationId, prepared, actor);
      await writeRows(tx, season, prepared.changes, actor);
      return { ...prepared.report, seasonId: season.id };
    },
    { timeoutMs: 300_000 },
  );
}

async function prepare(tx: Tx, organisationId: string, input: unknown): Promise<Prepared> {
  const checked = validateSeasonFile(input);
  if (!checked.ok) return { report: reportOf([], checked.faults), season: null, file: null, changes: [] };
  const head = checked.value.season;
  const row = await tx.season.findUnique({
    where: { organisationId_key: { organisationId, key: head.key } },
  });
  const season = row ? seasonInfoOf(row) : null;
  const { file, notes } = season
    ? await keepPublished(tx, season, checked.value)
    : { file: checked.value, notes: [] };
  const changes: Change[] = [];
  const tables: Partial<Record<SeasonTableName, TableChange>> = {};
  for (const name of seasonTableNames) {
    const found = season ? await delegateOf(tx, name).findMany({ where: { seasonId: season.id } }) : [];
    const tableChanges = compareTable(name, found, file[name] as unknown as FileRow[]);
    changes.push(...tableChanges);
    tables[name] = countOf(tableChanges, file[name].length);
  }
  const removed = changes.filter((change) => change.after === null);
  const faults = season && removed.length > 0 ? await usedByPublished(tx, season.id, removed) : [];
  const same = season !== null && canonicalJson(season.head) === canonicalJson(head);
  const state = season === null ? 'added' : same ? 'unchanged' : 'changed';
  const report: ImportReport = {
    ...reportOf(notes, faults),
    seasonId: season?.id ?? null,
    seasonState: state,
    tables,
  };
  return { report, season, file, changes };
}

function reportOf(notes: readonly string[], faults: readonly Fault[]): ImportReport {
  return { ok: faults.length === 0, faults, notes, seasonId: null, seasonState: 'unchanged', tables: {} };
}

/** Published places come from publishing alone: once a plan is published, the file's own are not taken over. */
async function keepPublished(
  tx: Tx,
  season: SeasonInfo,
  file: SeasonFile,
): Promise<{ file: SeasonFile; notes: string[] }> {
  const published = await tx.plan.findFirst({ where: { seasonId: season.id, status: 'published' } });
  if (!published) return { file, notes: [] };
  const stored = await tx.job.findMany({ where: { seasonId: season.id } });
  const places = new Map(stored.map((row) => [row.key, toFileRow('jobs', row as never)]));
  const columns = Object.keys(seasonTable('jobs').columns);
  let kept = 0;
  const jobs = file.jobs.map((job) => {
    const place = places.get(job.key);
    const start = (place?.['publishedStart'] as string | undefined) ?? null;
    const crew = (place?.['publishedCrew'] as string | undefined) ?? null;
    if ((job.publishedStart ?? null) !== start || (job.publishedCrew ?? null) !== crew) kept += 1;
    return canonicalRow({ ...job, publishedStart: start, publishedCrew: crew }, columns);
  });
  const note = `The published start and crew of ${kept} jobs were kept as they are: only publishing a plan changes them.`;
  return { file: { ...file, jobs }, notes: kept > 0 ? [note] : [] };
}

function compareTable(
  name: SeasonTableName,
  found: readonly Record<string, unknown>[],
  rows: readonly FileRow[],
): Change[] {
  const table = seasonTable(name);
  const columns = Object.keys(table.columns);
  const stored = new Map(found.map((row) => [keyTextOf(table, toFileRow(name, row)), row]));
  const changes: Change[] = [];
  for (const row of rows) {
    const after = canonicalRow(row, columns);
    const key = keyTextOf(table, after);
    const old = stored.get(key);
    stored.delete(key);
    if (!old) {
      changes.push({ table: name, key, id: null, before: null, after });
      continue;
    }
    const before = toFileRow(name, old);
    if (canonicalJson(before) !== canonicalJson(after)) {
      changes.push({ table: name, key, id: old['id'] as string, before, after });
    }
  }
  for (const [key, row] of stored) {
    changes.push({ table: name, key, id: row['id'] as string, before: toFileRow(name, row), after: null });
  }
  return changes;
}

function countOf(changes: readonly Change[], rows: number): TableChange {
  const added = changes.filter((change) => change.before === null).map((change) => change.key);
  const removed = changes.filter((change) => change.after === null).map((change) => change.key);
  const changed = changes.filter((change) => change.before && change.after).map((change) => change.key);
  return { added, changed, removed, unchanged: rows - added.length - changed.length };
}

async function writeHead(
  tx: Tx,
  organisationId: string,
  prepared: Prepared,
  actor: Actor,
): Promise<SeasonInfo> {
  const head = prepared.file?.season as SeasonFile['season'];
  if (prepared.season && prepared.report.seasonState === 'unchanged') return prepared.season;
  const data = toDatabaseRow('season', head) as never as Parameters<Tx['season']['update']>[0]['data'];
  const row = prepared.season
    ? await tx.season.update({ where: { id: prepared.season.id }, data })
    : await tx.season.create({ data: { ...(data as object), organisationId } as never });
  const season = seasonInfoOf(row);
  await writeAudit(tx, {
    actor,
    organisationId,
    seasonId: season.id,
    action: prepared.season ? 'season.changed' : 'season.added',
    subjectKind: 'season',
    subjectId: season.id,
    subjectKey: head.key,
    before: prepared.season?.head ?? null,
    after: head,
  });
  return season;
}

/** Removals first, so that a key may move from one table to another; references are checked when all is there. */
async function writeRows(
  tx: Tx,
  season: SeasonInfo,
  changes: readonly Change[],
  actor: Actor,
): Promise<void> {
  if (changes.length === 0) return;
  await tx.$executeRaw`SET CONSTRAINTS ALL DEFERRED`;
  for (const name of [...seasonTableNames].reverse()) {
    const ids = changes
      .filter((change) => change.table === name && change.after === null)
      .map((change) => change.id);
    if (ids.length > 0) await delegateOf(tx, name).deleteMany({ where: { id: { in: ids } } });
  }
  for (const name of seasonTableNames) {
    const added = changes.filter((change) => change.table === name && change.before === null);
    if (added.length > 0) {
      const data = added.map((change) => ({
        seasonId: season.id,
        ...toDatabaseRow(name, change.after as FileRow),
      }));
      await delegateOf(tx, name).createMany({ data });
    }
    for (const change of changes.filter(({ table, before, after }) => table === name && before && after)) {
      await delegateOf(tx, name).update({
        where: { id: change.id },
        data: toDatabaseRow(name, change.after as FileRow),
      });
    }
  }
  await tx.$executeRaw`SET CONSTRAINTS ALL IMMEDIATE`;
  await writeAudit(tx, ...changes.map((change) => auditOf(season, change, actor)));
}

function auditOf(season: SeasonInfo, change: Change, actor: Actor): AuditEntry {
  const what = change.before === null ? 'added' : change.after === null ? 'removed' : 'changed';
  return {
    actor,
    organisationId: season.organisationId,
    seasonId: season.id,
    action: `${change.table}.${what}`,
    subjectKind: change.table,
    subjectId: change.id,
    subjectKey: change.key,
    before: change.before,
    after: change.after,
  };
}
