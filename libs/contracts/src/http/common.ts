import { z } from 'zod';

/** Root of the versioned interface. */
export const API = '/api/v1';

/** Natural key of a row, as in the season file. */
export const keySchema = z.string().regex(/^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/u);
export const idSchema = z.uuid();
export const instantSchema = z.iso.datetime().meta({ description: 'A moment in UTC' });
export const dateSchema = z.iso.date().meta({ description: 'A local calendar date' });
export const centsSchema = z.int().meta({ description: 'Minor units of the currency (cents)' });
export const versionSchema = z
  .int()
  .min(1)
  .meta({ description: 'Grows by one with each change; the ETag is made of it' });

/** Secret in a path: 32 random bytes in base64url. */
export const secretSchema = z.string().regex(/^[A-Za-z0-9_-]{43}$/u);

/** A reason, a note or a name written by a person: one to `max` characters, no blanks at the ends. */
export const writtenText = (max: number) => z.string().trim().min(1).max(max);

export const DEFAULT_LIMIT = 50;
export const MAX_LIMIT = 200;

/** Members of the query of every growing list. */
export const pageQuery = {
  limit: z.coerce
    .number()
    .int()
    .min(1)
    .max(MAX_LIMIT)
    .default(DEFAULT_LIMIT)
    .meta({ description: `How many at most (1 to ${MAX_LIMIT})` }),
  cursor: z.string().max(1000).optional().meta({
    description:
      'The nextCursor of the page before; leave out for the first page. Keep the other parameters as they were.',
  }),
};

/** One page of a list. */
export const pageOf = <T extends z.ZodType>(item: T) =>
  z.object({
    items: z.array(item),
    nextCursor: z
      .string()
      .nullable()
      .meta({ description: 'Hand this in as cursor for the next page; null: this is the last' }),
  });

export interface Page<T> {
  readonly items: readonly T[];
  readonly nextCursor: string | null;
}

/** A yes or no in a query. */
export const yesNo = z.enum(['true', 'false']).transform((text) => text === 'true');
