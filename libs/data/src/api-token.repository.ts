import { addMinutes, type Instant } from '../../kernel/src/index.ts';
import { type Account, accountOf } from './account.repository.ts';
import type { Actor } from './actor.ts';
import { writeAudit } from './audit.repository.ts';
import type { Database } from './database.ts';
import { toDate, toInstant, toInstantOrNull } from './moments.ts';

export interface ApiTokenInfo {
  readonly id: string;
  readonly name: string;
  readonly createdAt: Instant;
  readonly lastUsedAt: Instant | null;
  readonly expiresAt: Instant | null;
  readonly revokedAt: Instant | null;
}

export interface ApiTokenInput {
  readonly account: Account;
  readonly name: string;
  readonly tokenHash: string;
  readonly expiresAt: Instant | null;
  readonly actor: Actor;
}

/** Makes a token for a program that acts for an account. Only the hash is kept. */
export async function createApiToken(db: Database, input: ApiTokenInput): Promise<ApiTokenInfo> {
  return db.transaction(async (tx) => {
    const { organisationId, userId } = input.account;
    const row = await tx.apiToken.create({
      data: {
        organisationId,
        userId,
        name: input.name,
        tokenHash: input.tokenHash,
        expiresAt: input.expiresAt === null ? null : toDate(input.expiresAt),
      },
    });
    await writeAudit(tx, {
      actor: input.actor,
      organisationId,
      action: 'apiToken.added',
      subjectKind: 'apiToken',
      subjectId: row.id,
      subjectKey: row.name,
    });
    return tokenInfoOf(row);
  });
}

/** For whom a token acts, with the role of a manager if the user is one; null when it does not hold. */
export async function readApiToken(
  db: Database,
  input: { tokenHash: string; now: Instant },
): Promise<Account | null> {
  const row = await db.client.apiToken.findUnique({ where: { tokenHash: input.tokenHash } });
  if (!row || row.revokedAt || (row.expiresAt && row.expiresAt <= toDate(input.now))) return null;
  const memberships = await db.client.membership.findMany({
    where: { userId: row.userId, organisationId: row.organisationId, revokedAt: null },
    include: { user: true },
    orderBy: { createdAt: 'asc' },
  });
  const membership = memberships.find(({ role }) => role === 'manager') ?? memberships[0];
  if (!membership || membership.user.disabledAt) return null;
  // Not at each request: all requests of a busy program would wait for one another at this one row.
  if (!row.lastUsedAt || row.lastUsedAt < toDate(addMinutes(input.now, -10))) {
    await db.client.apiToken.update({ where: { id: row.id }, data: { lastUsedAt: toDate(input.now) } });
  }
  return accountOf(membership);
}

/** Tokens of an organisation, the newest first. */
export async function listApiTokens(db: Database, organisationId: string): Promise<ApiTokenInfo[]> {
  const rows = await db.client.apiToken.findMany({
    where: { organisationId },
    orderBy: { createdAt: 'desc' },
  });
  return rows.map(tokenInfoOf);
}

interface TokenRow {
  id: string;
  name: string;
  createdAt: Date;
  lastUsedAt: Date | null;
  expiresAt: Date | null;
  revokedAt: Date | null;
}

function tokenInfoOf(row: TokenRow): ApiTokenInfo {
  return {
    id: row.id,
    name: row.name,
    createdAt: toInstant(row.createdAt),
    lastUsedAt: toInstantOrNull(row.lastUsedAt),
    expiresAt: toInstantOrNull(row.expiresAt),
    revokedAt: toInstantOrNull(row.revokedAt),
  };
}
