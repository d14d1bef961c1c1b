import { ERROR_CODES, type ErrorCode, type ErrorKind } from './error-codes.ts';

/** Facts about one error, safe to show: never a secret, never a whole record. */
export type ErrorData = Readonly<Record<string, unknown>>;

/**
 * The one error that the program throws on purpose: a code of the closed table, the facts, and what caused it.
 * The wording for people is made late, from the code and the facts.
 */
export class DryspellError extends Error {
  readonly code: ErrorCode;
  readonly data: ErrorData;

  constructor(code: ErrorCode, data: ErrorData = {}, cause?: unknown) {
    super(`${code}: ${ERROR_CODES[code].summary}`, cause === undefined ? undefined : { cause });
    this.name = 'DryspellError';
    this.code = code;
    this.data = data;
  }

  get kind(): ErrorKind {
    return ERROR_CODES[this.code].kind;
  }
}
