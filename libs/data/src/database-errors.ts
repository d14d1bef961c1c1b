import { DryspellError, type ErrorCode } from '../../kernel/src/index.ts';

interface Found {
  readonly sqlState: string | null;
  readonly prismaCode: string | null;
  readonly constraint: string | null;
  readonly detail: string | null;
}

const CODE_OF_SQLSTATE: Readonly<Record<string, ErrorCode>> = {
  '23P01': 'overlap',
  '23505': 'already-exists',
  '23503': 'in-use',
  '23514': 'invalid-input',
  '23502': 'invalid-input',
  '22P02': 'invalid-input',
  '42501': 'not-allowed',
  '57P01': 'unavailable',
  '57P03': 'unavailable',
  '53300': 'unavailable',
};

const SQLSTATE_OF_PRISMA: Readonly<Record<string, string>> = {
  P2002: '23505',
  P2003: '23503',
  P2004: '23514',
  P2011: '23502',
  P2034: '40001',
  P1001: '57P03',
  P2024: '53300',
};

/** Whether PostgreSQL gave a transaction up in favour of another, so that trying again can help. */
export function isSerializationFailure(error: unknown): boolean {
  const { sqlState } = read(error);
  return sqlState === '40001' || sqlState === '40P01';
}

/**
 * The coded error of something that the database refused: `overlap`, `already-exists`, `in-use`, `invalid-input`,
 * `version-conflict` (given up in favour of others too often), `not-found`, `unavailable`, else `internal`.
 * `data.constraint` names the constraint. A coded error comes back as it is.
 */
export function asDryspellError(error: unknown): DryspellError {
  if (error instanceof DryspellError) return error;
  const found = read(error);
  const facts = found.constraint === null ? {} : { constraint: found.constraint };
  if (isSerializationFailure(error)) return new DryspellError('version-conflict', facts, error);
  if (found.prismaCode === 'P2025') return new DryspellError('not-found', facts, error);
  if (connectionLost(error)) return new DryspellError('unavailable', { service: 'database' }, error);
  const code = found.sqlState === null ? undefined : CODE_OF_SQLSTATE[found.sqlState];
  return new DryspellError(code ?? 'internal', facts, error);
}

/** Prisma wraps the driver's error in different depths and shapes; the SQLSTATE is in one of them. */
function read(error: unknown): Found {
  let sqlState: string | null = null;
  let prismaCode: string | null = null;
  let constraint: string | null = null;
  let detail: string | null = null;
  const seen = new Set<unknown>();
  const look = (value: unknown): void => {
    if (typeof value !== 'object' || value === null || seen.has(value)) return;
    seen.add(value);
    const facts = value as Record<string, unknown>;
    for (const name of ['originalCode', 'code']) {
      const code = facts[name];
      if (typeof code !== 'string') continue;
      if (/^P\d{4}$/.test(code)) prismaCode ??= code;
      else if (/^[0-9A-Z]{5}$/.test(code)) sqlState ??= code;
    }
    constraint ??= constraintOf(facts);
    if (typeof facts['detail'] === 'string') detail ??= facts['detail'];
    for (const name of ['meta', 'driverAdapterError', 'cause']) look(facts[name]);
  };
  look(error);
  if (sqlState === null && prismaCode !== null) sqlState = SQLSTATE_OF_PRISMA[prismaCode] ?? null;
  return { sqlState, prismaCode, constraint, detail };
}

function constraintOf(facts: Record<string, unknown>): string | null {
  const given = facts['constraint'];
  if (typeof given === 'string') return given;
  if (typeof given === 'object' && given !== null) {
    const { index, fields } = given as { index?: unknown; fields?: unknown };
    if (typeof index === 'string') return index;
    if (Array.isArray(fields)) return fields.join(', ');
  }
  for (const name of ['originalMessage', 'message']) {
    const said = typeof facts[name] === 'string' ? /constraint "([^"]+)"/.exec(facts[name]) : null;
    if (said) return said[1] as string;
  }
  return null;
}

function connectionLost(error: unknown): boolean {
  const said =
    error instanceof Error ? `${error.message} ${String((error as { code?: unknown }).code ?? '')}` : '';
  return /ECONNREFUSED|ECONNRESET|ENOTFOUND|Connection terminated|Server has closed the connection|terminating connection/.test(
    said,
  );
}
