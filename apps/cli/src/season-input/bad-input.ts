import type { CommandAnswer } from '../commands/command.ts';
import { PlainError } from '../program/plain-error.ts';
import { faultLines, type ReadFault } from '../season-io/read-season.ts';

/** A file that the user named cannot be used: what is wrong with it, all at once. */
export class BadInput extends Error {
  override readonly name = 'BadInput';
  readonly faults: readonly ReadFault[];

  constructor(message: string, faults: readonly ReadFault[] = []) {
    super(message);
    this.faults = faults;
  }
}

/** A season with faults, counted and named. */
export function seasonFaults(source: string, faults: readonly ReadFault[]): BadInput {
  const count = faults.length === 1 ? 'one fault' : `${faults.length} faults`;
  return new BadInput(
    `${source} has ${count}; mend ${faults.length === 1 ? 'it' : 'them'} and try again`,
    faults,
  );
}

/** The answer of a command whose input cannot be used: no fault is left out. Any other error is thrown on. */
export function badInputAnswer(error: unknown, exitCode: number): CommandAnswer {
  if (!(error instanceof BadInput) && !(error instanceof PlainError)) throw error;
  const faults = error instanceof BadInput ? error.faults : [];
  return {
    exitCode,
    facts: { outcome: 'bad-input', message: error.message, faults },
    lines: [error.message, ...faultLines(faults, Number.POSITIVE_INFINITY)],
  };
}
