import type { SeasonFile, SeasonRow, SeasonTableName } from '../../contracts/src/index.ts';

/** A row with the number that a fault names: 1 for the first. */
export interface NumberedRow<N extends SeasonTableName> {
  readonly row: SeasonRow<N>;
  readonly number: number;
}

/** The rows of a table with their numbers. */
export function numbered<N extends SeasonTableName>(file: SeasonFile, table: N): NumberedRow<N>[] {
  return (file[table] as SeasonRow<N>[]).map((row, index) => ({ row, number: index + 1 }));
}

/** Items in groups by a key, groups and items in the order of the list. */
export function groupBy<Item>(items: readonly Item[], keyOf: (item: Item) => string): Map<string, Item[]> {
  const groups = new Map<string, Item[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group) group.push(item);
    else groups.set(key, [item]);
  }
  return groups;
}

/** Rows by their `key` column. */
export function byKey<Row extends { key: string }>(rows: readonly Row[]): Map<string, Row> {
  return new Map(rows.map((row) => [row.key, row]));
}
