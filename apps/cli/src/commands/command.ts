import type { ParseArgsConfig } from 'node:util';

export type OptionDefinitions = NonNullable<ParseArgsConfig['options']>;
export type OptionValues = Readonly<Record<string, string | boolean | (string | boolean)[] | undefined>>;

/** What a command is given. */
export interface CommandInput {
  readonly positionals: readonly string[];
  readonly values: OptionValues;
  readonly environment: Readonly<Record<string, string | undefined>>;
  /** Progress for people; goes to stderr, so that stdout holds the answer alone. */
  say(line: string): void;
}

/** The answer of a command: the same facts for a program (`--json`) and for people. */
export interface CommandAnswer {
  readonly facts: unknown;
  readonly lines: readonly string[];
  /** 0 when left out; a check that found something answers 1. */
  readonly exitCode?: number;
}

/** One `dryspell` command; `<name>.command.ts` holds it. A name of two words is written with a space. */
export interface Command {
  readonly name: string;
  /** One line for the list of commands. */
  readonly summary: string;
  /** What follows the name, such as `<season.json>`. */
  readonly usage: string;
  /** The rest of the help: one line an option, then notes. */
  readonly help: readonly string[];
  readonly options: OptionDefinitions;
  run(input: CommandInput): Promise<CommandAnswer>;
}

/** Wrong arguments: told with the command's help, exit code 2. */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}

/** The only positional argument; throws UsageError when there is none or more than one. */
export function onePositional({ positionals }: CommandInput, what: string): string {
  const [first, ...rest] = positionals;
  if (first === undefined || first === '') throw new UsageError(`say which ${what}`);
  if (rest.length > 0) throw new UsageError(`one ${what} at a time; got ${positionals.length}`);
  return first;
}

/** A text option that must be there. */
export function requiredText({ values }: CommandInput, name: string): string {
  const value = values[name];
  if (typeof value !== 'string' || value.trim() === '') throw new UsageError(`--${name} is missing`);
  return value.trim();
}

/** A text option that may be left out. */
export function optionalText({ values }: CommandInput, name: string): string | undefined {
  const value = values[name];
  return typeof value === 'string' && value !== '' ? value : undefined;
}

/** A whole number within a range, or the fallback when the option is left out. */
export function wholeNumber(
  input: CommandInput,
  name: string,
  range: { min: number; max: number; fallback: number },
): number {
  const text = optionalText(input, name);
  if (text === undefined) return range.fallback;
  const value = Number(text);
  if (!/^-?\d+$/.test(text) || value < range.min || value > range.max) {
    throw new UsageError(`--${name} is a whole number from ${range.min} to ${range.max}; got "${text}"`);
  }
  return value;
}
