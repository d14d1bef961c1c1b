import { createHash, createHmac, randomUUID } from 'node:crypto';
import type { Instant } from '../../kernel/src/index.ts';
import type { Database, Tx } from './database.ts';
import { toDate, toInstant, toInstantOrNull } from './moments.ts';

/** Whom a message or a link is for, in the words of the season's tables. */
export interface Recipient {
  readonly kind: 'person' | 'customer' | 'partner' | 'user';
  readonly key: string;
}

export interface LinkInput {
  readonly organisationId: string;
  readonly seasonId: string | null;
  /** `crew-assignment`, `readiness`, `partner-confirm`, `calendar-feed`. */
  readonly purpose: string;
  /** `assignment`, `visit`, `liftHold`, `deliveryRun`, `person`. */
  readonly subjectKind: string;
  readonly subjectId: string;
  readonly recipient: Recipient;
  readonly expiresAt: Instant;
}

export interface LinkInfo extends LinkInput {
  readonly id: string;
  /** When it was first answered; it serves on until it expires, so that an answer can be changed. */
  readonly usedAt: Instant | null;
}

/** The secret part of a link: derived from the server's secret, so that it can be written again and is kept nowhere. */
export function linkToken(secret: string, linkId: string): string {
  return createHmac('sha256', secret).update(`action-link:${linkId}`).digest('base64url');
}

/** What is stored of a token: its SHA-256 in lower-case hex. */
export function hashToken(token: string): string {
  return createHash('sha256').update(token).digest('hex');
}

/** A link that is to be written: its id is known before, so that messages can name it. */
export interface NewLink extends LinkInput {
  readonly id: string;
}

/**
 * Makes links; older ones of the same purpose, subject and recipient end with it. The token of each is
 * `linkToken(secret, id)`.
 */
export async function createLinks(tx: Tx, links: readonly NewLink[], secret: string): Promise<void> {
  if (links.length === 0) return;
  const same = links.map(({ purpose, subjectKind, subjectId, recipient }) => ({
    purpose,
    subjectKind,
    subjectId,
    recipientKind: recipient.kind,
    recipientKey: recipient.key,
  }));
  await tx.$executeRaw`
    UPDATE action_links AS l SET revoked_at = now()
    FROM jsonb_to_recordset(${JSON.stringify(same)}::jsonb)
      AS n(purpose text, "subjectKind" text, "subjectId" uuid, "recipientKind" text, "recipientKey" text)
    WHERE l.revoked_at IS NULL AND l.purpose = n.purpose AND l.subject_kind = n."subjectKind"
      AND l.subject_id = n."subjectId" AND l.recipient_kind = n."recipientKind" AND l.recipient_key = n."recipientKey"`;
  await tx.actionLink.createMany({
    data: links.map((link) => ({
      id: link.id,
      organisationId: link.organisationId,
      seasonId: link.seasonId,
      tokenHash: hashToken(linkToken(secret, link.id)),
      purpose: link.purpose,
      subjectKind: link.subjectKind,
      subjectId: link.subjectId,
      recipientKind: link.recipient.kind,
      recipientKey: link.recipient.key,
      expiresAt: toDate(link.expiresAt),
    })),
  });
}

/** Makes one link and returns its id. */
export async function createLink(tx: Tx, input: LinkInput, secret: string): Promise<string> {
  const id = randomUUID();
  await createLinks(tx, [{ ...input, id }], secret);
  return id;
}

/** What a link is for; null: never made, ended or expired. Reading it changes nothing. */
export async function readLink(
  db: Database | { readonly client: Tx },
  input: { tokenHash: string; now: Instant },
): Promise<LinkInfo | null> {
  const row = await db.client.actionLink.findUnique({ where: { tokenHash: input.tokenHash } });
  if (!row || row.revokedAt || row.expiresAt <= toDate(input.now)) return null;
  return linkInfoOf(row);
}

/** A living link of a purpose for one subject and recipient, to be written into another message; null: there is none. */
export async function findLink(
  tx: Tx,
  input: { purpose: string; subjectKind: string; subjectId: string; recipient: Recipient; now: Instant },
): Promise<LinkInfo | null> {
  const row = await tx.actionLink.findFirst({
    where: {
      purpose: input.purpose,
      subjectKind: input.subjectKind,
      subjectId: input.subjectId,
      recipientKind: input.recipient.kind,
      recipientKey: input.recipient.key,
      revokedAt: null,
      expiresAt: { gt: toDate(input.now) },
    },
    orderBy: { createdAt: 'desc' },
  });
  return row ? linkInfoOf(row) : null;
}

interface LinkRow {
  id: string;
  organisationId: string;
  seasonId: string | null;
  purpose: string;
  subjectKind: string;
  subjectId: string;
  recipientKind: string;
  recipientKey: string;
  expiresAt: Date;
  usedAt: Date | null;
}

function linkInfoOf(row: LinkRow): LinkInfo {
  return {
    id: row.id,
    organisationId: row.organisationId,
    seasonId: row.seasonId,
    purpose: row.purpose,
    subjectKind: row.subjectKind,
    subjectId: row.subjectId,
    recipient: { kind: row.recipientKind as Recipient['kind'], key: row.recipientKey },
    expiresAt: toInstant(row.expiresAt),
    usedAt: toInstantOrNull(row.usedAt),
  };
}
