/** Something that could be worked out, with its value. */
export interface Known<Value> {
  readonly known: true;
  readonly value: Value;
}

/** Something that cannot be said, with the reason as a key and the names of what is missing. */
export interface CannotSay<Reason extends string = string> {
  readonly known: false;
  readonly reason: Reason;
  readonly missing: readonly string[];
}

/** An answer that may honestly be "cannot say". It is a result, not an error. */
export type Answer<Value, Reason extends string = string> = Known<Value> | CannotSay<Reason>;

/** Wraps a value that is known. */
export const known = <Value>(value: Value): Known<Value> => ({ known: true, value });

/** The answer "cannot say", for a stated reason; `missing` names what would be needed. */
export const cannotSay = <Reason extends string>(
  reason: Reason,
  missing: readonly string[] = [],
): CannotSay<Reason> => ({
  known: false,
  reason,
  missing,
});

/** A step that succeeded. */
export interface Ok<Value> {
  readonly ok: true;
  readonly value: Value;
}

/** A step that was refused, with what stood in the way. */
export interface Refused<Problem> {
  readonly ok: false;
  readonly problem: Problem;
}

/** The result of a step that may refuse: a value or the problem. */
export type Result<Value, Problem> = Ok<Value> | Refused<Problem>;

/** Wraps a value as a success. */
export const ok = <Value>(value: Value): Ok<Value> => ({ ok: true, value });

/** Wraps a problem as a refusal. */
export const refused = <Problem>(problem: Problem): Refused<Problem> => ({ ok: false, problem });

/** What a check found: it passed, it did not, or it could not be made. The last never counts as passed. */
export type Verdict = 'ok' | 'not ok' | 'cannot say';
