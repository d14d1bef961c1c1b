import { ProblemError } from './problem-error.ts';
import { sameMark, sign } from './secret-token.ts';

/** The hidden mark of a form: only our own page for this secret address can hold it. */
export const formMark = (secret: string, token: string): string => sign(secret, 'form', token);

/** Throws `cross-site` unless the form came from our own page for this address. */
export function requireFormMark(secret: string, token: string, mark: string): void {
  if (!sameMark(mark, formMark(secret, token))) throw new ProblemError('cross-site');
}
