import { ERROR_CODES, type ErrorCode, type ErrorKind, isErrorCode } from '../../../kernel/src/index.ts';

/** HTTP status, a short plain title and what to do next, for one code. */
export interface ProblemEntry {
  readonly status: number;
  readonly title: string;
  readonly nextStep: string;
}

/** The status that the kind of a kernel error stands for. */
const STATUS_OF_KIND: Readonly<Record<ErrorKind, number>> = {
  input: 422,
  'sign-in': 401,
  permission: 403,
  missing: 404,
  gone: 410,
  conflict: 409,
  limit: 429,
  unavailable: 503,
  fault: 500,
};

/** Kernel codes whose status is not that of their kind. */
const STATUS_OF_CODE: Partial<Record<ErrorCode, number>> = {
  'version-conflict': 412,
  'too-large': 413,
};

const entry = (status: number, title: string, nextStep: string): ProblemEntry => ({
  status,
  title,
  nextStep,
});

/** Codes that only an HTTP edge can meet; all others come from the kernel's table. */
const HTTP_CODES = {
  'malformed-request': entry(
    400,
    'The request cannot be read.',
    'Check that the body is well-formed JSON in UTF-8, then send it again.',
  ),
  'idempotency-key-required': entry(
    400,
    'An Idempotency-Key header is needed here.',
    'Send a fresh random key with the request, and the same key again when you repeat it.',
  ),
  'cross-site': entry(403, 'The request came from another site.', 'Open the program itself and do it there.'),
  'repeat-in-progress': entry(
    409,
    'The first request with this Idempotency-Key is still running.',
    'Wait a little, then repeat the request with the same key.',
  ),
  'media-type-not-supported': entry(
    415,
    'The body is in a format that is not read here.',
    'Send one of the media types that the description of this address names.',
  ),
  'repeat-differs': entry(
    422,
    'This Idempotency-Key was used for another request.',
    'Use a fresh key for a new request; repeat the old request unchanged to get its answer again.',
  ),
  'version-required': entry(
    428,
    'The version that you changed must be named.',
    'Load the thing again and send its ETag in an If-Match header.',
  ),
} as const satisfies Record<string, ProblemEntry>;

/** A code of the closed table of problems that the API can answer with. */
export type ProblemCode = ErrorCode | keyof typeof HTTP_CODES;

/** A kernel summary is one sentence on what is wrong, then one on what to do. */
function splitSummary(summary: string): [title: string, nextStep: string] {
  const end = summary.search(/[.] /);
  return end < 0 ? [summary, summary] : [summary.slice(0, end + 1), summary.slice(end + 2)];
}

function fromKernel(): Record<ErrorCode, ProblemEntry> {
  const entries = Object.entries(ERROR_CODES).map(([code, { kind, summary }]) => {
    const [title, nextStep] = splitSummary(summary);
    return [code, entry(STATUS_OF_CODE[code as ErrorCode] ?? STATUS_OF_KIND[kind], title, nextStep)];
  });
  return Object.fromEntries(entries) as Record<ErrorCode, ProblemEntry>;
}

/** Every problem the API can answer with, by code. */
export const PROBLEMS: Readonly<Record<ProblemCode, ProblemEntry>> = { ...fromKernel(), ...HTTP_CODES };

/** Whether a text is a code of the closed table of problems. */
export function isProblemCode(text: string): text is ProblemCode {
  return Object.hasOwn(HTTP_CODES, text) || isErrorCode(text);
}
