import { type SeasonTableName, seasonTable } from '../../../contracts/src/index.ts';
import type { Database } from '../database.ts';
import type { StoredRow } from '../season-rows.repository.ts';
import { columnsOfTable, delegateOf, toDatabaseRow, toFileRow } from '../season-tables.ts';
import { afterWhere, type OrderColumn, orderByOf } from './keyset.ts';

export interface RowPageQuery {
  readonly seasonId: string;
  readonly table: SeasonTableName;
  /** Column values that all rows have, in the words of the season file. */
  readonly filters: Readonly<Record<string, unknown>>;
  /** A column, with a minus for the largest first; the natural key when absent. */
  readonly sort?: string | undefined;
  /** The sort values of the last row of the page before. */
  readonly after: Readonly<Record<string, unknown>> | null;
  readonly limit: number;
}

/** A page of the rows of a season table, and the sort values to go on after; null: this is the last page. */
export async function pageRows(
  db: Database,
  query: RowPageQuery,
): Promise<{ rows: StoredRow[]; next: Record<string, unknown> | null }> {
  const { table, limit } = query;
  const order = orderOf(table, query.sort);
  const filters = onlyNamed(toDatabaseRow(table, query.filters), Object.keys(query.filters));
  const after = query.after && toDatabaseRow(table, query.after);
  const found = await delegateOf(db.client, table).findMany({
    where: { seasonId: query.seasonId, AND: [filters, ...(after ? [afterWhere(order, after)] : [])] },
    orderBy: orderByOf(order),
    take: limit + 1,
  });
  const rows = found.slice(0, limit).map(
    (row): StoredRow => ({
      id: row['id'] as string,
      version: row['version'] as number,
      row: toFileRow(table, row),
    }),
  );
  const last = rows.at(-1);
  const names = order.map((column) => column.name);
  return { rows, next: found.length > limit && last ? onlyNamed(last.row, names) : null };
}

function orderOf(table: SeasonTableName, sort: string | undefined): OrderColumn[] {
  const columns = new Map(columnsOfTable(table).map((column) => [column.name, column]));
  const orderColumn = (name: string, direction: 'asc' | 'desc'): OrderColumn => ({
    name,
    direction,
    nullable: columns.get(name)?.required === false,
  });
  const keys = seasonTable(table).key.map((name) => orderColumn(name, 'asc'));
  if (sort === undefined) return keys;
  const name = sort.replace(/^-/, '');
  const first = orderColumn(name, sort.startsWith('-') ? 'desc' : 'asc');
  return [first, ...keys.filter((key) => key.name !== name)];
}

function onlyNamed(
  row: Readonly<Record<string, unknown>>,
  names: readonly string[],
): Record<string, unknown> {
  return Object.fromEntries(names.map((name) => [name, row[name] ?? null]));
}
