import { z } from 'zod';
import { season } from './season.ts';
import type { RowOf } from './table.ts';
import { type SeasonRow, type SeasonTableName, seasonTable, seasonTableNames } from './tables.ts';

export const seasonFileFormat = 'dryspell-season';
export const seasonFileVersion = 1;

/** The one row about the season itself. */
export type SeasonHead = RowOf<typeof season.columns>;

/** A whole season: flat tables whose rows refer to each other by key. */
export type SeasonFile = {
  format: typeof seasonFileFormat;
  formatVersion: typeof seasonFileVersion;
  season: SeasonHead;
} & { [N in SeasonTableName]: SeasonRow<N>[] };

const tableShape = Object.fromEntries(
  seasonTableNames.map((name) => [
    name,
    z
      .array(seasonTable(name).rowSchema)
      .default([])
      .meta({ title: seasonTable(name).sheet, description: seasonTable(name).about }),
  ]),
);

/**
 * Row schemas of the whole file; an absent table is an empty one. Keys and references between rows are not in it:
 * `validateSeasonFile` checks those too.
 */
export const seasonFileSchema = z.strictObject({
  format: z.literal(seasonFileFormat),
  formatVersion: z.literal(seasonFileVersion),
  season: season.rowSchema,
  ...tableShape,
}) as unknown as z.ZodType<SeasonFile>;

/** JSON Schema (draft 2020-12) of what a season file may hold. */
export function seasonFileJsonSchema(): Record<string, unknown> {
  const schema = z.toJSONSchema(seasonFileSchema, { target: 'draft-2020-12', io: 'input' });
  return { ...schema, title: 'Dryspell season file', $id: 'urn:dryspell:season-file:1' };
}

/**
 * The file in one agreed form: empty cells left out, columns in their fixed order, rows sorted by key. Two files that
 * mean the same are deeply equal in this form.
 */
export function canonicalSeasonFile(file: SeasonFile): SeasonFile {
  const tables = seasonTableNames.map((name) => {
    const table = seasonTable(name);
    const rows = (file[name] as Record<string, unknown>[]).map((row) =>
      canonicalRow(row, Object.keys(table.columns)),
    );
    const order = (row: Record<string, unknown>) =>
      JSON.stringify(table.key.map((column) => sortable(row[column])));
    return [
      name,
      rows
        .map((row) => [order(row), row] as const)
        .sort(byFirst)
        .map(([, row]) => row),
    ];
  });
  return {
    format: seasonFileFormat,
    formatVersion: seasonFileVersion,
    season: canonicalRow(file.season, Object.keys(season.columns)),
    ...Object.fromEntries(tables),
  };
}

/** One row without its empty cells, columns in the given order. */
export function canonicalRow<T extends object>(row: T, columnNames: readonly string[]): T {
  const cells = columnNames.map((name) => [name, (row as Record<string, unknown>)[name]] as const);
  return Object.fromEntries(cells.filter(([, value]) => value !== null && value !== undefined)) as T;
}

function sortable(value: unknown): string {
  return typeof value === 'number' ? String(value).padStart(12, '0') : String(value ?? '');
}

function byFirst(a: readonly [string, unknown], b: readonly [string, unknown]): number {
  return a[0] < b[0] ? -1 : a[0] > b[0] ? 1 : 0;
}
