import { z } from 'zod';
import { PROBLEMS, type ProblemCode } from './problem-codes.ts';

/** One fault within a request: where it is, what is wrong, what would be right. */
export const faultSchema = z
  .object({
    pointer: z
      .string()
      .meta({ description: 'JSON Pointer (RFC 6901) into {params, query, body, header}, e.g. /body/massKg' }),
    message: z.string().meta({ description: 'What is wrong, in plain words' }),
    expected: z.string().nullable().meta({ description: 'What would be right, if that can be said' }),
  })
  .meta({ id: 'Fault' });

export type Fault = z.infer<typeof faultSchema>;

/** Problem details by RFC 9457, with the closed code and the list of faults as extension members. */
export const problemSchema = z
  .object({
    type: z.string().meta({ description: 'Address of a page on this kind of problem' }),
    title: z.string(),
    status: z.int().min(400).max(599),
    detail: z.string(),
    instance: z.string().meta({ description: 'Names this one occurrence; quote it when you ask for help' }),
    code: z.enum(Object.keys(PROBLEMS) as [ProblemCode, ...ProblemCode[]]),
    nextStep: z.string(),
    errors: z.array(faultSchema).optional(),
    facts: z
      .record(z.string(), z.unknown())
      .optional()
      .meta({ description: 'Names and numbers that the problem speaks of' }),
  })
  .meta({ id: 'Problem', description: 'Problem details (RFC 9457)' });

export type Problem = z.infer<typeof problemSchema>;

/** Media type of problem details. */
export const PROBLEM_MEDIA_TYPE = 'application/problem+json';

export interface ProblemInput {
  readonly code: ProblemCode;
  readonly instance: string;
  /** What happened this time; the next step of the code when left out. */
  readonly detail?: string | undefined;
  /** What to do this time; the next step of the code when left out. */
  readonly nextStep?: string | undefined;
  readonly errors?: readonly Fault[] | undefined;
  readonly facts?: Readonly<Record<string, unknown>> | undefined;
}

/** The problem details of a code. */
export function problem(input: ProblemInput): Problem {
  const { status, title, nextStep } = PROBLEMS[input.code];
  return {
    type: `/problems/${input.code}`,
    title,
    status,
    detail: input.detail ?? title,
    instance: input.instance,
    code: input.code,
    nextStep: input.nextStep ?? nextStep,
    ...(input.errors && input.errors.length > 0 ? { errors: [...input.errors] } : {}),
    ...(input.facts && Object.keys(input.facts).length > 0 ? { facts: { ...input.facts } } : {}),
  };
}

/** Writes path segments as a JSON Pointer (RFC 6901). */
export function jsonPointer(segments: readonly PropertyKey[]): string {
  return segments
    .map((segment) => `/${String(segment).replaceAll('~', '~0').replaceAll('/', '~1')}`)
    .join('');
}

/** The faults that a schema found, with the pointer of each under `base` (such as `body`). */
export function faultsOf(error: z.ZodError, base: string): Fault[] {
  return error.issues.flatMap((issue) => {
    if (issue.code === 'unrecognized_keys') {
      return issue.keys.map((key) => ({
        pointer: jsonPointer([base, ...issue.path, key]),
        message: 'There is no field of this name here.',
        expected: 'leave it out',
      }));
    }
    return [
      { pointer: jsonPointer([base, ...issue.path]), message: issue.message, expected: expectedBy(issue) },
    ];
  });
}

function expectedBy(issue: z.core.$ZodIssue): string | null {
  switch (issue.code) {
    case 'invalid_type':
      return issue.expected;
    case 'too_small':
      return `${issue.origin} of at least ${issue.minimum}`;
    case 'too_big':
      return `${issue.origin} of at most ${issue.maximum}`;
    case 'invalid_value':
      return `one of ${issue.values.map(String).join(', ')}`;
    case 'invalid_format':
      return issue.format === 'regex' ? `text that matches ${issue.pattern}` : issue.format;
    default:
      return null;
  }
}
