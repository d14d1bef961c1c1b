import { z } from 'zod';
import type { SeasonTable } from '../season-file/table.ts';

/** A row as it is answered: the columns of the season file, nothing else. */
export function rowSchemaOf(table: SeasonTable): z.ZodObject {
  const shape: Record<string, z.ZodType> = {};
  for (const [name, column] of Object.entries(table.columns)) {
    shape[name] = column.required ? column.schema : column.schema.nullable().optional();
  }
  return z.object(shape).meta({ description: table.about });
}

/** Columns that only the program itself sets. */
const SET_BY_PROGRAM: Readonly<Record<string, readonly string[]>> = {
  jobs: ['publishedStart', 'publishedCrew'],
};

/** A new row: as in the season file, less what the program sets. */
export function newRowOf(table: SeasonTable): z.ZodObject {
  const own = SET_BY_PROGRAM[table.name] ?? [];
  const shape: Record<string, z.ZodType> = {};
  for (const [name, column] of Object.entries(table.columns)) {
    if (!own.includes(name))
      shape[name] = column.required ? column.schema : column.schema.nullable().optional();
  }
  return z.strictObject(shape);
}

/** Changes to a row: any columns but its key; null empties an optional one. */
export function changesOf(table: SeasonTable): z.ZodObject {
  const own = [...table.key, ...(SET_BY_PROGRAM[table.name] ?? [])];
  const shape: Record<string, z.ZodType> = {};
  for (const [name, column] of Object.entries(table.columns)) {
    if (own.includes(name)) continue;
    shape[name] = (column.required ? column.schema : column.schema.nullable()).optional();
  }
  return z.strictObject(shape);
}

/** How an empty part of a key is written in a path. */
export const EMPTY_KEY_PART = '-';

/** The key of a row as parameters of a path, one a column. */
export function keyParamsOf(table: SeasonTable): Record<string, z.ZodType> {
  return Object.fromEntries(
    table.key.map((name) => {
      const column = table.columns[name] as SeasonTable['columns'][string];
      const part =
        column.kind === 'integer'
          ? z
              .string()
              .regex(/^-?\d+$/)
              .transform(Number)
              .pipe(column.schema as z.ZodType<unknown, number>)
          : column.schema;
      const empty = z.literal(EMPTY_KEY_PART).transform(() => null);
      return [name, column.required ? part : z.union([empty, part])];
    }),
  );
}

/** Columns by which a list of rows can be narrowed: references, choices and yes-or-no. */
export function filtersOf(table: SeasonTable): Record<string, z.ZodType> {
  const filters: Record<string, z.ZodType> = {};
  for (const [name, column] of Object.entries(table.columns)) {
    if (column.refersTo.length > 0 || column.kind === 'choice') filters[name] = column.schema.optional();
    if (column.kind === 'boolean')
      filters[name] = z
        .enum(['true', 'false'])
        .transform((text) => text === 'true')
        .optional();
  }
  return filters;
}

/** Ways in which a list of rows can be ordered: a column, or the column with a minus for the largest first. */
export function sortsOf(table: SeasonTable): [string, ...string[]] {
  const names = Object.entries(table.columns)
    .filter(([, column]) => column.kind !== 'boolean' && (column.maxLength ?? 0) <= 254)
    .map(([name]) => name);
  return names.flatMap((name) => [name, `-${name}`]) as [string, ...string[]];
}
