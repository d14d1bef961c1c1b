import { DryspellError, type Instant, type LocalDate } from '../../kernel/src/index.ts';
import type { VisitRecordModel } from '../generated/models/VisitRecord.ts';
import type { Actor } from './actor.ts';
import { jsonOf, writeAudit } from './audit.repository.ts';
import type { Database, Tx } from './database.ts';
import { toDate, toInstant, toInstantOrNull } from './moments.ts';
import { dateFromDatabase, dateToDatabase } from './season-tables.ts';

export interface VisitRecordInput {
  readonly kind: 'time' | 'holdPoint' | 'weatherDelay' | 'note' | 'handover';
  readonly day: LocalDate;
  /** Key of the step, where it is about one. */
  readonly step?: string | null;
  readonly startedAt?: Instant | null;
  readonly endedAt?: Instant | null;
  /** Measured value of a hold point, in `unit`. */
  readonly value?: number | null;
  readonly unit?: string | null;
  /** Whether a hold point passed; null: not judged. */
  readonly passed?: boolean | null;
  readonly text?: string | null;
  readonly data?: Readonly<Record<string, unknown>>;
  /** When it was written down on site, which may be before it got here. */
  readonly recordedAt: Instant;
  /** A UUID that the writing device makes; the same twice is one record. */
  readonly clientId: string;
}

export interface VisitRecordInfo extends Required<VisitRecordInput> {
  readonly id: string;
  readonly recordedBy: string;
}

interface ForVisit {
  readonly organisationId: string;
  readonly visitId: string;
  readonly actor: Actor;
}

/** Keeps a record of a visit; one that was sent before comes back as it is kept. Throws `not-found`. */
export async function addVisitRecord(
  db: Database,
  input: ForVisit & { readonly record: VisitRecordInput },
): Promise<VisitRecordInfo> {
  const { record, actor } = input;
  return db.transaction(async (tx) => {
    const visit = await visitOf(tx, input);
    const key = { visitId: visit.id, clientId: record.clientId };
    const old = await tx.visitRecord.findUnique({ where: { visitId_clientId: key } });
    if (old) return recordOf(old);
    const row = await tx.visitRecord.create({
      data: {
        ...key,
        seasonId: visit.seasonId,
        kind: record.kind,
        day: dateToDatabase(record.day),
        step: record.step ?? null,
        startedAt: record.startedAt ? toDate(record.startedAt) : null,
        endedAt: record.endedAt ? toDate(record.endedAt) : null,
        value: record.value ?? null,
        unit: record.unit ?? null,
        passed: record.passed ?? null,
        text: record.text ?? null,
        data: jsonOf(record.data ?? {}) as object,
        recordedBy: actor.name,
        recordedAt: toDate(record.recordedAt),
      },
    });
    await auditOn(tx, input, visit.seasonId, `visitRecord.${record.kind}`, 'visitRecord', row.id, record);
    return recordOf(row);
  });
}

/** All records of a visit in the order in which they were written down. */
export async function listVisitRecords(
  db: Database,
  input: { organisationId: string; visitId: string },
): Promise<VisitRecordInfo[]> {
  const rows = await db.client.visitRecord.findMany({
    where: { visitId: input.visitId, season: { organisationId: input.organisationId } },
    orderBy: [{ recordedAt: 'asc' }, { id: 'asc' }],
  });
  return rows.map(recordOf);
}

async function visitOf(tx: Tx, input: ForVisit): Promise<{ id: string; seasonId: string }> {
  const visit = await tx.visit.findFirst({
    where: { id: input.visitId, season: { organisationId: input.organisationId } },
    select: { id: true, seasonId: true },
  });
  if (!visit) throw new DryspellError('not-found', { visit: input.visitId });
  return visit;
}

async function auditOn(
  tx: Tx,
  input: { organisationId: string; actor: Actor },
  seasonId: string,
  action: string,
  subjectKind: string,
  subjectId: string,
  after: unknown,
): Promise<void> {
  const { organisationId, actor } = input;
  await writeAudit(tx, { actor, organisationId, seasonId, action, subjectKind, subjectId, after });
}

function recordOf(row: VisitRecordModel): VisitRecordInfo {
  return {
    id: row.id,
    kind: row.kind as VisitRecordInput['kind'],
    day: dateFromDatabase(row.day),
    step: row.step,
    startedAt: toInstantOrNull(row.startedAt),
    endedAt: toInstantOrNull(row.endedAt),
    value: row.value,
    unit: row.unit,
    passed: row.passed,
    text: row.text,
    data: row.data as Record<string, unknown>,
    recordedAt: toInstant(row.recordedAt),
    recordedBy: row.recordedBy,
    clientId: row.clientId,
  };
}
