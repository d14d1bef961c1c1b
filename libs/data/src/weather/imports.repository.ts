import { addMinutes, DryspellError, type Instant } from '../../../kernel/src/index.ts';
import type { Prisma } from '../../generated/client.ts';
import type { WeatherImportModel } from '../../generated/models/WeatherImport.ts';
import type { Actor } from '../actor.ts';
import { writeAudit } from '../audit.repository.ts';
import type { Database, Tx } from '../database.ts';
import { toDate, toInstant, toInstantOrNull } from '../moments.ts';
import { writeOutbox } from '../outbox.repository.ts';

export type WeatherImportState = 'receiving' | 'queued' | 'running' | 'done' | 'failed';

/** A weather file that is being read in, or was. */
export interface WeatherImport {
  readonly id: string;
  readonly organisationId: string;
  readonly seriesId: string | null;
  readonly targetKind: 'station' | 'site';
  readonly targetKey: string;
  readonly season: string;
  readonly fileName: string;
  readonly options: unknown;
  readonly state: WeatherImportState;
  readonly bytesTotal: number | null;
  readonly bytesDone: number;
  readonly linesDone: number;
  readonly badLineCount: number;
  /** The first 200 of them. */
  readonly badLines: unknown;
  readonly warnings: unknown;
  readonly result: unknown;
  readonly fault: string | null;
  readonly requestedBy: string;
  readonly attempts: number;
  readonly createdAt: Instant;
  readonly startedAt: Instant | null;
  readonly finishedAt: Instant | null;
  readonly version: number;
}

/** What was found in a file, as the run shows it. */
export interface ImportFindings {
  readonly linesDone: number;
  readonly badLineCount: number;
  readonly badLines: readonly unknown[];
  readonly warnings: readonly unknown[];
}

const MOST_BAD_LINES = 200;
/** Runs are shown for so long. */
const KEPT_DAYS = 90;

const runEntry = (id: string, mark: number) => ({
  key: `weather.import-${id}-${mark}`,
  topic: 'weather.import',
  payload: { importId: id },
});

/** Opens a run that takes a file in; its bytes follow by `addImportPart`. */
export async function openImport(
  db: Database,
  input: Pick<
    WeatherImport,
    'organisationId' | 'targetKind' | 'targetKey' | 'season' | 'fileName' | 'bytesTotal'
  > & {
    readonly options: unknown;
    readonly actor: Actor;
    readonly now: Instant;
  },
): Promise<WeatherImport> {
  const { actor, now, options, bytesTotal, ...facts } = input;
  return db.transaction(async (tx) => {
    const row = await tx.weatherImport.create({
      data: {
        ...facts,
        options: options as Prisma.InputJsonValue,
        bytesTotal: bytesTotal === null ? null : BigInt(bytesTotal),
        requestedBy: actor.name,
        heartbeatAt: toDate(now),
      },
    });
    const subject = { subjectKind: 'weatherImport', subjectId: row.id };
    const { organisationId, ...after } = facts;
    await writeAudit(tx, { actor, organisationId, action: 'weatherImport.requested', ...subject, after });
    return importOf(row);
  });
}

/** All bytes are here: receiving -> queued, with the outbox row that gets the reading going. Throws `state-conflict`. */
export async function queueImport(
  db: Database,
  input: { readonly id: string; readonly now: Instant },
): Promise<WeatherImport> {
  return db.transaction(async (tx) => {
    const { count } = await tx.weatherImport.updateMany({
      where: { id: input.id, state: 'receiving' },
      // From here on the bytes count as they are read.
      data: { state: 'queued', heartbeatAt: toDate(input.now) },
    });
    if (count === 0) throw new DryspellError('state-conflict', { weatherImport: input.id });
    const row = await tx.weatherImport.findUniqueOrThrow({ where: { id: input.id } });
    await tx.weatherImport.update({
      where: { id: row.id },
      data: { bytesTotal: row.bytesDone, bytesDone: 0 },
    });
    await writeOutbox(tx, runEntry(row.id, 1));
    return importOf(await tx.weatherImport.findUniqueOrThrow({ where: { id: input.id } }));
  });
}

/** Takes a queued run. Null: somebody else has it, or it is over. */
export async function startImport(
  db: Database,
  input: { readonly id: string; readonly now: Instant },
): Promise<WeatherImport | null> {
  const now = toDate(input.now);
  const { count } = await db.client.weatherImport.updateMany({
    where: { id: input.id, state: 'queued' },
    data: {
      state: 'running',
      startedAt: now,
      heartbeatAt: now,
      attempts: { increment: 1 },
      bytesDone: 0,
      linesDone: 0,
    },
  });
  if (count === 0) return null;
  return importOf(await db.client.weatherImport.findUniqueOrThrow({ where: { id: input.id } }));
}

/** Says how far a run is and that it lives; false: the run is no longer this worker's (`attempt`). */
export async function reportImport(
  db: Database,
  input: {
    readonly id: string;
    readonly attempt: number;
    readonly bytesDone: number;
    readonly linesDone: number;
    readonly now: Instant;
  },
): Promise<boolean> {
  const { id, attempt, bytesDone, linesDone, now } = input;
  const { count } = await db.client.weatherImport.updateMany({
    where: { id, state: 'running', attempts: attempt },
    data: { bytesDone, linesDone, heartbeatAt: toDate(now) },
  });
  return count > 0;
}

export interface ImportEnd {
  readonly id: string;
  /** The number that `startImport` gave; left out where the run never started. */
  readonly attempt?: number;
  readonly findings?: ImportFindings;
  readonly seriesId?: string | null;
  readonly result?: unknown;
  /** Why it failed, with the next step; left out when it was done. */
  readonly fault?: string;
  readonly actor: Actor;
  readonly now: Instant;
}

/** Ends a run; its bytes go. Throws `state-conflict` when it is over, or another worker's. */
export async function endImport(db: Database, end: ImportEnd): Promise<WeatherImport> {
  return db.transaction((tx) => endIn(tx, end));
}

async function endIn(tx: Tx, end: ImportEnd): Promise<WeatherImport> {
  const { id, attempt, findings, fault, actor } = end;
  const now = toDate(end.now);
  const { count } = await tx.weatherImport.updateMany({
    where: {
      id,
      ...(attempt === undefined ? { finishedAt: null } : { state: 'running', attempts: attempt }),
    },
    data: {
      state: fault === undefined ? 'done' : 'failed',
      ...(fault === undefined ? {} : { fault: fault.slice(0, 2000) }),
      ...(findings
        ? {
            linesDone: findings.linesDone,
            badLineCount: findings.badLineCount,
            badLines: findings.badLines.slice(0, MOST_BAD_LINES) as Prisma.InputJsonValue,
            warnings: findings.warnings as Prisma.InputJsonValue,
          }
        : {}),
      ...(end.seriesId ? { seriesId: end.seriesId } : {}),
      ...(end.result === undefined ? {} : { result: end.result as Prisma.InputJsonValue }),
      finishedAt: now,
      keptUntil: toDate(addMinutes(end.now, KEPT_DAYS * 1440)),
    },
  });
  if (count === 0) throw new DryspellError('state-conflict', { weatherImport: id });
  await tx.weatherImportPart.deleteMany({ where: { importId: id } });
  const row = await tx.weatherImport.findUniqueOrThrow({ where: { id } });
  if (fault === undefined && row.bytesTotal !== null && row.bytesDone !== row.bytesTotal) {
    await tx.weatherImport.update({ where: { id }, data: { bytesDone: row.bytesTotal } });
  }
  await writeAudit(tx, {
    actor,
    organisationId: row.organisationId,
    action: fault === undefined ? 'weatherImport.done' : 'weatherImport.failed',
    subjectKind: 'weatherImport',
    subjectId: id,
    after: { fault: fault ?? null, result: end.result ?? null },
  });
  return importOf(await tx.weatherImport.findUniqueOrThrow({ where: { id } }));
}

/** Throws `not-found`, also for a run of another organisation. */
export async function getImport(db: Database, organisationId: string, id: string): Promise<WeatherImport> {
  const row = await db.client.weatherImport.findFirst({ where: { id, organisationId } });
  if (!row) throw new DryspellError('not-found', { weatherImport: id });
  return importOf(row);
}

const UPLOAD_STOPPED = 'The upload stopped on the way. Nothing was changed; upload the file again.';
const READING_STOPPED =
  'Reading the file took several workers with it. Nothing was changed; report it, with the file.';

/**
 * Gets lost runs going again: a run whose worker fell silent is queued again (and fails after `maxAttempts`), a queued one that nobody took gets a
 * fresh outbox row, and one whose upload stopped fails. Returns how many of each.
 */
export async function recoverImports(
  db: Database,
  input: {
    readonly now: Instant;
    readonly silentMin: number;
    readonly maxAttempts: number;
    readonly actor: Actor;
  },
): Promise<{ queued: number; failed: number }> {
  const { now, actor } = input;
  const before = toDate(addMinutes(now, -input.silentMin));
  return db.transaction(
    async (tx) => {
      const lost = await tx.$queryRaw<{ id: string; state: string; attempts: number }[]>`
        SELECT id, state, attempts FROM weather_imports
        WHERE state IN ('receiving', 'queued', 'running') AND heartbeat_at < ${before} FOR UPDATE SKIP LOCKED`;
      let queued = 0;
      for (const { id, state, attempts } of lost) {
        if (state === 'receiving') await endIn(tx, { id, fault: UPLOAD_STOPPED, actor, now });
        else if (attempts >= input.maxAttempts) await endIn(tx, { id, fault: READING_STOPPED, actor, now });
        else {
          await tx.weatherImport.update({
            where: { id },
            data: { state: 'queued', heartbeatAt: toDate(now) },
          });
          await writeOutbox(tx, runEntry(id, Date.parse(now)));
          queued += 1;
        }
      }
      return { queued, failed: lost.length - queued };
    },
    { isolation: 'readCommitted' },
  );
}

/** Removes runs that were kept long enough; returns how many. */
export async function forgetImports(db: Database, now: Instant): Promise<number> {
  const { count } = await db.client.weatherImport.deleteMany({ where: { keptUntil: { lt: toDate(now) } } });
  return count;
}

export function importOf(row: WeatherImportModel): WeatherImport {
  const { heartbeatAt: _heartbeatAt, keptUntil: _keptUntil, updatedAt: _updatedAt, ...facts } = row;
  return {
    ...facts,
    targetKind: row.targetKind as WeatherImport['targetKind'],
    state: row.state as WeatherImportState,
    bytesTotal: row.bytesTotal === null ? null : Number(row.bytesTotal),
    bytesDone: Number(row.bytesDone),
    createdAt: toInstant(row.createdAt),
    startedAt: toInstantOrNull(row.startedAt),
    finishedAt: toInstantOrNull(row.finishedAt),
  };
}
