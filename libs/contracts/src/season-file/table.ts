import { z } from 'zod';
import type { Column, Columns } from './column.ts';

/** "The values in `columns` are, together, the `to` columns (the same names by default) of a row in `table`." */
export interface TableReference {
  readonly columns: readonly string[];
  /** Exactly one of these tables must hold the row. One entry in all but the few polymorphic columns. */
  readonly tables: readonly string[];
  readonly to: readonly string[];
}

/** One table of the season file = one JSON array = one sheet of a workbook = one CSV file. */
export interface SeasonTable<N extends string = string, C extends Columns = Columns> {
  readonly name: N;
  /** Title of its sheet in a workbook, at most 31 characters. */
  readonly sheet: string;
  readonly about: string;
  /** Columns which together tell one row from another within a season. */
  readonly key: readonly (keyof C & string)[];
  readonly columns: C;
  readonly references: readonly TableReference[];
  /** Groups of columns whose values, where given, may not fall from left to right. */
  readonly ascending: readonly (readonly (keyof C & string)[])[];
  /** Groups of columns of which exactly one must be given in each row. */
  readonly exactlyOneOf: readonly (readonly (keyof C & string)[])[];
  /** Rows that agree in `by` may not share a day from `from` to `to` (both included; an empty end is open). */
  readonly noOverlap: NoOverlap<keyof C & string> | null;
  readonly rowSchema: z.ZodType<RowOf<C>>;
}

export interface NoOverlap<Name extends string = string> {
  readonly by: readonly Name[];
  readonly from: Name;
  readonly to: Name;
  /** Only rows with one of these values in this column count. */
  readonly only?: { readonly column: Name; readonly values: readonly string[] };
}

type Required<C extends Columns> = {
  [K in keyof C]: C[K] extends Column<unknown, true> ? K : never;
}[keyof C];
type ValueOf<X> = X extends Column<infer T, boolean> ? T : never;

/** The row type of a set of columns: an optional column may be null or absent. */
export type RowOf<C extends Columns> = { [K in Required<C>]: ValueOf<C[K]> } & {
  [K in Exclude<keyof C, Required<C>>]?: ValueOf<C[K]> | null;
};

export interface TableInput<N extends string, C extends Columns> {
  name: N;
  sheet: string;
  about: string;
  key: readonly (keyof C & string)[];
  columns: C;
  /** Composite references; those of single columns come from the columns themselves. */
  references?: readonly { columns: readonly (keyof C & string)[]; table: string; to?: readonly string[] }[];
  ascending?: readonly (readonly (keyof C & string)[])[];
  exactlyOneOf?: readonly (readonly (keyof C & string)[])[];
  noOverlap?: NoOverlap<keyof C & string>;
}

/** Makes a table description with its strict row schema from its columns. */
export function defineTable<const N extends string, C extends Columns>(
  input: TableInput<N, C>,
): SeasonTable<N, C> {
  const shape: Record<string, z.ZodType> = {};
  for (const [name, column] of Object.entries(input.columns)) {
    shape[name] = column.required ? column.schema : column.schema.nullable().optional();
  }
  const single = Object.entries(input.columns)
    .filter(([, column]) => column.refersTo.length > 0)
    .map(([name, column]) => ({ columns: [name], tables: column.refersTo, to: [column.refersToColumn] }));
  const composite = (input.references ?? []).map((reference) => ({
    columns: reference.columns,
    tables: [reference.table],
    to: reference.to ?? reference.columns,
  }));
  return {
    name: input.name,
    sheet: input.sheet,
    about: input.about,
    key: input.key,
    columns: input.columns,
    references: [...single, ...composite],
    ascending: input.ascending ?? [],
    exactlyOneOf: input.exactlyOneOf ?? [],
    noOverlap: input.noOverlap ?? null,
    rowSchema: z
      .strictObject(shape)
      .meta({ title: input.sheet, description: input.about }) as unknown as z.ZodType<RowOf<C>>,
  };
}

/** A column with its name, as readers, writers and documents want it. */
export interface NamedColumn extends Omit<Column, 'schema'> {
  readonly name: string;
}

/** The columns of a table in their fixed order. */
export function columnsOf(table: Pick<SeasonTable, 'columns'>): NamedColumn[] {
  return Object.entries(table.columns).map(([name, { schema: _schema, ...facts }]) => ({ name, ...facts }));
}
