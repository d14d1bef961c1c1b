import { DryspellError, type Instant } from '../../kernel/src/index.ts';
import type { Prisma } from '../generated/client.ts';
import type { Actor } from './actor.ts';
import { writeAudit } from './audit.repository.ts';
import type { Database } from './database.ts';
import { toInstant } from './moments.ts';

export type AccountRole = 'manager' | 'crew' | 'customer' | 'partner';

/** An account in one organisation. `id` is that of the membership: one person may have several roles. */
export interface Account {
  readonly id: string;
  readonly userId: string;
  readonly organisationId: string;
  readonly name: string;
  readonly email: string;
  readonly language: string;
  readonly role: AccountRole;
  /** Key of the person, customer or partner for whom it stands; null for a manager. */
  readonly subjectKey: string | null;
  readonly active: boolean;
  readonly createdAt: Instant;
  readonly version: number;
}

export interface InviteInput {
  readonly organisationId: string;
  readonly email: string;
  readonly name: string;
  readonly role: AccountRole;
  readonly subjectKey: string | null;
  readonly language?: string;
  readonly actor: Actor;
}

type Row = Prisma.MembershipGetPayload<{ include: { user: true } }>;

/** Mail addresses are compared and kept in lower case. */
export function normalEmail(email: string): string {
  return email.trim().toLowerCase();
}

/** Makes an account, and the user if the address is new. Throws `already-exists` for the same address and role. */
export async function inviteUser(db: Database, input: InviteInput): Promise<Account> {
  return db.transaction(async (tx) => {
    const email = normalEmail(input.email);
    const user = await tx.user.upsert({
      where: { email },
      update: {},
      create: { email, name: input.name, language: input.language ?? 'en' },
    });
    const key = { userId: user.id, organisationId: input.organisationId, role: input.role };
    const old = await tx.membership.findUnique({ where: { userId_organisationId_role: key } });
    if (old && old.revokedAt === null) throw new DryspellError('already-exists', { email, role: input.role });
    const row = old
      ? await tx.membership.update({
          where: { id: old.id },
          data: { revokedAt: null, subjectKey: input.subjectKey },
          include: { user: true },
        })
      : await tx.membership.create({
          data: { ...key, subjectKey: input.subjectKey },
          include: { user: true },
        });
    await auditAccount(tx, row, 'account.invited', input.actor);
    return accountOf(row);
  });
}

export interface AccountQuery {
  readonly organisationId: string;
  readonly role?: AccountRole;
  readonly afterId?: string | null;
  readonly limit: number;
}

/** A page of the accounts of an organisation, the oldest first. */
export async function listUsers(db: Database, query: AccountQuery): Promise<Account[]> {
  const rows = await db.client.membership.findMany({
    where: {
      organisationId: query.organisationId,
      ...(query.role === undefined ? {} : { role: query.role }),
    },
    include: { user: true },
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
    take: query.limit,
    ...(query.afterId ? { cursor: { id: query.afterId }, skip: 1 } : {}),
  });
  return rows.map(accountOf);
}

/** Throws `not-found`, also for an account of another organisation. */
export async function getUser(db: Database, organisationId: string, id: string): Promise<Account> {
  const row = await db.client.membership.findFirst({
    where: { id, organisationId },
    include: { user: true },
  });
  if (!row) throw new DryspellError('not-found', { account: id });
  return accountOf(row);
}

/** The active accounts of a mail address, over all organisations, the oldest first; empty when there is none. */
export async function findAccountsByEmail(db: Database, email: string): Promise<Account[]> {
  const rows = await db.client.membership.findMany({
    where: { revokedAt: null, user: { email: normalEmail(email), disabledAt: null } },
    include: { user: true },
    orderBy: { createdAt: 'asc' },
  });
  return rows.map(accountOf);
}

/** Shuts an account: its sessions and sign-in links end. Throws `not-found`, `version-conflict`. */
export async function revokeUser(
  db: Database,
  input: { organisationId: string; id: string; version: number; actor: Actor },
): Promise<Account> {
  return db.transaction(async (tx) => {
    const before = await tx.membership.findFirst({
      where: { id: input.id, organisationId: input.organisationId },
    });
    if (!before) throw new DryspellError('not-found', { account: input.id });
    if (before.version !== input.version)
      throw new DryspellError('version-conflict', { version: before.version });
    const now = new Date();
    const row = await tx.membership.update({
      where: { id: input.id },
      data: { revokedAt: before.revokedAt ?? now },
      include: { user: true },
    });
    await tx.session.updateMany({ where: { membershipId: row.id, endedAt: null }, data: { endedAt: now } });
    const others = await tx.membership.count({ where: { userId: row.userId, revokedAt: null } });
    if (others === 0) {
      await tx.signInLink.updateMany({
        where: { userId: row.userId, usedAt: null, revokedAt: null },
        data: { revokedAt: now },
      });
    }
    await tx.apiToken.updateMany({
      where: { userId: row.userId, organisationId: row.organisationId, revokedAt: null },
      data: { revokedAt: now },
    });
    await auditAccount(tx, row, 'account.revoked', input.actor);
    return accountOf(row);
  });
}

async function auditAccount(
  tx: Parameters<typeof writeAudit>[0],
  row: Row,
  action: string,
  actor: Actor,
): Promise<void> {
  await writeAudit(tx, {
    actor,
    organisationId: row.organisationId,
    action,
    subjectKind: 'account',
    subjectId: row.id,
    subjectKey: row.user.email,
    after: { role: row.role, subjectKey: row.subjectKey, active: row.revokedAt === null },
  });
}

export function accountOf(row: Row): Account {
  return {
    id: row.id,
    userId: row.userId,
    organisationId: row.organisationId,
    name: row.user.name,
    email: row.user.email,
    language: row.user.language,
    role: row.role as AccountRole,
    subjectKey: row.subjectKey,
    active: row.revokedAt === null && row.user.disabledAt === null,
    createdAt: toInstant(row.createdAt),
    version: row.version,
  };
}
