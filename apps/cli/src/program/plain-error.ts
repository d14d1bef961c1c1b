import { DryspellError } from '../../../../libs/kernel/src/index.ts';

/** An error that is told to people as one line with a next step, without a stack. */
export class PlainError extends Error {
  override readonly name = 'PlainError';
}

function factsOf(data: Readonly<Record<string, unknown>>): string {
  const facts = Object.entries(data).map(
    ([name, value]) => `${name}: ${typeof value === 'string' ? value : JSON.stringify(value)}`,
  );
  return facts.length === 0 ? '' : ` (${facts.join('; ')})`;
}

/** The line that people read for any error: without stacks, addresses or passwords. */
export function plainLine(error: unknown): string {
  if (error instanceof DryspellError) return `${error.message}${factsOf(error.data)}`;
  if (error instanceof Error) return error.message || error.name;
  return String(error);
}
