import type { DatabaseRow } from '../season-tables.ts';

/** One column of an order. Empty cells come last in either direction. */
export interface OrderColumn {
  readonly name: string;
  readonly direction: 'asc' | 'desc';
  readonly nullable: boolean;
}

/** The order as Prisma takes it. */
export function orderByOf(order: readonly OrderColumn[]): DatabaseRow[] {
  return order.map(({ name, direction, nullable }) => ({
    [name]: nullable ? { sort: direction, nulls: 'last' } : direction,
  }));
}

/** The rows that come after the one with these values. The order must end in columns that tell all rows apart. */
export function afterWhere(
  order: readonly OrderColumn[],
  values: Readonly<Record<string, unknown>>,
): DatabaseRow {
  const branches: DatabaseRow[] = [];
  const same: DatabaseRow[] = [];
  for (const { name, direction, nullable } of order) {
    const value = values[name] ?? null;
    if (value !== null) {
      const beyond = { [name]: direction === 'asc' ? { gt: value } : { lt: value } };
      branches.push({ AND: [...same, nullable ? { OR: [beyond, { [name]: null }] } : beyond] });
    }
    same.push({ [name]: value });
  }
  return { OR: branches };
}
