import { z } from 'zod';

/** What a cell of the season file can hold. Every kind is a plain string, number or boolean in JSON. */
export type ColumnKind = 'text' | 'integer' | 'number' | 'boolean' | 'date' | 'time' | 'instant' | 'choice';

/** One column of one table: its value schema, and everything that a reader, a writer or a document must know. */
export interface Column<T = unknown, R extends boolean = boolean> {
  readonly kind: ColumnKind;
  readonly required: R;
  /** Unit of the value in words ("cents", "kilograms"), or null for values without one. */
  readonly unit: string | null;
  readonly description: string;
  /** The allowed values of a choice, else null. */
  readonly choices: readonly string[] | null;
  readonly min: number | null;
  readonly max: number | null;
  readonly maxLength: number | null;
  /** Regular expression that a text must match (source, without slashes), or null. */
  readonly pattern: string | null;
  /** Tables of which exactly one must hold this value as its key; empty when the column refers to nothing. */
  readonly refersTo: readonly string[];
  /** The column of those tables that holds the value. */
  readonly refersToColumn: string;
  /** What would be right, as the end of the sentence "... should be". */
  readonly expected: string;
  readonly schema: z.ZodType<T>;
}

export type Columns = Record<string, Column>;

type Facts = Partial<
  Pick<Column, 'unit' | 'choices' | 'min' | 'max' | 'maxLength' | 'pattern' | 'refersTo' | 'refersToColumn'>
>;

function column<T>(
  kind: ColumnKind,
  description: string,
  schema: z.ZodType<T>,
  expected: string,
  facts: Facts = {},
): Column<T, true> {
  return {
    kind,
    required: true,
    unit: null,
    description,
    choices: null,
    min: null,
    max: null,
    maxLength: null,
    pattern: null,
    refersTo: [],
    refersToColumn: 'key',
    expected,
    schema: schema.meta({ description: facts.unit ? `${description} Unit: ${facts.unit}.` : description }),
    ...facts,
  };
}

/** The same column, but the cell may be empty (null or absent). */
export function optional<T>(required: Column<T, true>): Column<T, false> {
  return { ...required, required: false };
}

function patterned(description: string, pattern: string, maxLength: number, expected: string) {
  const schema = z.string().max(maxLength).regex(new RegExp(pattern, 'u'));
  return column('text', description, schema, expected, { pattern, maxLength });
}

const keyPattern = '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$';

/** Natural key of a row: letters, digits, dot, dash, underscore; it is what other rows refer to. */
export const key = (description: string) =>
  patterned(
    description,
    keyPattern,
    64,
    'a short key of letters, digits, ".", "_" or "-" that starts with a letter or digit',
  );

/** The key of a row in another table (or in exactly one of several tables). */
export function ref(
  table: string | string[],
  description: string,
  refersToColumn = 'key',
): Column<string, true> {
  const tables = Array.isArray(table) ? table : [table];
  const expected = `the ${refersToColumn} of a row of ${tables.join(' or ')}`;
  return { ...patterned(description, keyPattern, 64, expected), refersTo: tables, refersToColumn };
}

/** One line of text, not blank, without spaces at its ends. */
export const text = (description: string, maxLength = 200) =>
  column(
    'text',
    description,
    z
      .string()
      .min(1)
      .max(maxLength)
      .regex(/^\S(?:[\s\S]*\S)?$/u)
      // PostgreSQL keeps no NUL in a text.
      .refine((value) => !value.includes('\u0000')),
    `a text of 1 to ${maxLength} characters without spaces at its ends`,
    { maxLength },
  );

/** A note of up to 4000 characters; line breaks are allowed. */
export const note = (description: string) => text(description, 4000);

export const email = (description: string) =>
  column('text', description, z.email().max(254), 'a mail address such as name@example.org', {
    maxLength: 254,
  });

export const phone = (description: string) =>
  patterned(
    description,
    '^\\+[1-9][0-9]{6,14}$',
    16,
    'a telephone number in international form such as +15065550100',
  );

export const zone = (description: string) =>
  patterned(
    description,
    '^[A-Za-z][A-Za-z0-9_+-]*(?:/[A-Za-z0-9_+-]+){0,2}$',
    64,
    'an IANA time zone name such as America/Halifax',
  );

export const language = (description: string) =>
  patterned(description, '^[a-z]{2,3}(?:-[A-Z]{2})?$', 6, 'a language tag such as en or fr-CA');

export const currency = (description: string) =>
  patterned(description, '^[A-Z]{3}$', 3, 'a three-letter ISO 4217 currency code such as CAD');

/** Seven digits, Monday first; 1 = worked. */
export const weekdays = (description: string) =>
  patterned(
    description,
    '^(?=.*1)[01]{7}$',
    7,
    'seven digits 0 or 1, Monday first, at least one 1, such as 1111100',
  );

/** Container number by ISO 6346: owner code, category U, J or Z, six digits and a check digit (checked at intake). */
export const containerNumber = (description: string) =>
  patterned(description, '^[A-Z]{3}[UJZ][0-9]{7}$', 11, 'a container number such as CSQU3054383 (ISO 6346)');

export function integer(
  description: string,
  unit: string | null,
  min: number,
  max = 2_000_000_000,
): Column<number, true> {
  const range = max === 2_000_000_000 ? `${min} or more` : `from ${min} to ${max}`;
  return column(
    'integer',
    description,
    z.int().min(min).max(max),
    `a whole number ${range}${unit ? `, in ${unit}` : ''}`,
    {
      unit,
      min,
      max,
    },
  );
}

/** Money in minor units of the season's currency. */
export const cents = (description: string, min = 0) =>
  column(
    'integer',
    description,
    z.int().min(min).max(9_000_000_000_000),
    `a whole number of cents, ${min} or more`,
    {
      unit: 'cents',
      min,
      max: 9_000_000_000_000,
    },
  );

export function number(
  description: string,
  unit: string | null,
  min: number,
  max: number,
): Column<number, true> {
  return column(
    'number',
    description,
    z.number().min(min).max(max),
    `a number from ${min} to ${max}${unit ? `, in ${unit}` : ''}`,
    { unit, min, max },
  );
}

export const share = (description: string) => number(description, 'share of 1', 0, 1);

export const latitude = (description: string) => number(description, 'degrees north', -90, 90);

export const longitude = (description: string) => number(description, 'degrees east', -180, 180);

export const flag = (description: string) => column('boolean', description, z.boolean(), 'true or false');

/** A plain local calendar date, YYYY-MM-DD. */
export const date = (description: string) =>
  column('date', description, z.iso.date(), 'a calendar date such as 2026-05-04', { maxLength: 10 });

/** A local time of day, HH:MM. */
export const time = (description: string) =>
  column(
    'time',
    description,
    z.string().regex(/^(?:[01][0-9]|2[0-3]):[0-5][0-9]$/),
    'a time of day such as 08:00',
    {
      maxLength: 5,
      pattern: '^(?:[01][0-9]|2[0-3]):[0-5][0-9]$',
    },
  );

/** A moment in UTC to the second, YYYY-MM-DDTHH:MM:SSZ. */
export const instant = (description: string) =>
  column(
    'instant',
    description,
    z.iso.datetime({ precision: 0 }),
    'a UTC moment such as 2026-05-04T12:00:00Z',
    {
      maxLength: 20,
    },
  );

export function choice<const C extends readonly [string, ...string[]]>(
  choices: C,
  description: string,
): Column<C[number], true> {
  return column(
    'choice',
    description,
    z.enum(choices) as unknown as z.ZodType<C[number]>,
    `one of ${choices.join(', ')}`,
    {
      choices,
    },
  );
}
