import { DryspellError, type Instant } from '../../kernel/src/index.ts';
import type { DocumentModel } from '../generated/models/Document.ts';
import type { Actor } from './actor.ts';
import { writeAudit } from './audit.repository.ts';
import type { Database } from './database.ts';
import { toInstant } from './moments.ts';

export interface DocumentInput {
  readonly organisationId: string;
  readonly seasonId: string | null;
  /** What it belongs to: `visit`, `readinessItem`, `snag`, `site` ... */
  readonly subjectKind: string;
  readonly subjectId: string;
  /** `photo`, `document`, `signature` ... */
  readonly kind: string;
  readonly fileName: string;
  readonly mediaType: string;
  readonly byteSize: number;
  /** Lower-case hex. */
  readonly sha256: string;
  /** Where the bytes lie in the file store. They are stored before this row is written. */
  readonly storageKey: string;
  readonly actor: Actor;
}

export interface DocumentInfo extends Omit<DocumentInput, 'actor'> {
  readonly id: string;
  readonly uploadedBy: string;
  readonly createdAt: Instant;
}

/** Keeps what is known of a stored file. */
export async function addDocument(db: Database, input: DocumentInput): Promise<DocumentInfo> {
  const { actor, byteSize, ...facts } = input;
  return db.transaction(async (tx) => {
    const row = await tx.document.create({
      data: { ...facts, byteSize: BigInt(byteSize), uploadedBy: actor.name },
    });
    await writeAudit(tx, {
      actor,
      organisationId: input.organisationId,
      seasonId: input.seasonId,
      action: 'document.added',
      subjectKind: 'document',
      subjectId: row.id,
      subjectKey: row.fileName,
      after: { of: input.subjectKind, id: input.subjectId, sha256: input.sha256 },
    });
    return documentOf(row);
  });
}

/** Throws `not-found`, also for a file of another organisation. */
export async function getDocument(db: Database, organisationId: string, id: string): Promise<DocumentInfo> {
  const row = await db.client.document.findFirst({ where: { id, organisationId } });
  if (!row) throw new DryspellError('not-found', { document: id });
  return documentOf(row);
}

/** Files of one thing, the oldest first. */
export async function listDocuments(
  db: Database,
  query: { organisationId: string; subjectKind: string; subjectId: string },
): Promise<DocumentInfo[]> {
  const rows = await db.client.document.findMany({
    where: { ...query },
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
  });
  return rows.map(documentOf);
}

/** Forgets a file and says where its bytes lie, for the store to remove. Throws `not-found`. */
export async function removeDocument(
  db: Database,
  input: { organisationId: string; id: string; actor: Actor },
): Promise<DocumentInfo> {
  return db.transaction(async (tx) => {
    const row = await tx.document.findFirst({
      where: { id: input.id, organisationId: input.organisationId },
    });
    if (!row) throw new DryspellError('not-found', { document: input.id });
    await tx.document.delete({ where: { id: row.id } });
    await writeAudit(tx, {
      actor: input.actor,
      organisationId: input.organisationId,
      seasonId: row.seasonId,
      action: 'document.removed',
      subjectKind: 'document',
      subjectId: row.id,
      subjectKey: row.fileName,
      before: { of: row.subjectKind, id: row.subjectId, sha256: row.sha256 },
    });
    return documentOf(row);
  });
}

function documentOf(row: DocumentModel): DocumentInfo {
  return { ...row, byteSize: Number(row.byteSize), createdAt: toInstant(row.createdAt) };
}
