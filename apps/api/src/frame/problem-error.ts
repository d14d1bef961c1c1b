import type { Fault } from '../../../../libs/contracts/src/errors/problem.ts';
import type { ProblemCode } from '../../../../libs/contracts/src/errors/problem-codes.ts';

export interface ProblemErrorDetails {
  readonly detail?: string;
  readonly nextStep?: string;
  readonly errors?: readonly Fault[];
  readonly facts?: Readonly<Record<string, unknown>>;
  readonly headers?: Readonly<Record<string, string>>;
}

/** Thrown at the HTTP edge; the exception filter turns it into problem details. */
export class ProblemError extends Error {
  readonly code: ProblemCode;
  readonly details: ProblemErrorDetails;

  constructor(code: ProblemCode, details: ProblemErrorDetails = {}, cause?: unknown) {
    super(code, cause === undefined ? undefined : { cause });
    this.name = 'ProblemError';
    this.code = code;
    this.details = details;
  }
}
