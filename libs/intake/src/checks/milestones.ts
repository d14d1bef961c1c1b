import type { Fault, SeasonFile } from '../../../contracts/src/index.ts';
import { byPlaceInChain } from '../build/goods-day.ts';
import { groupBy, numbered } from '../tables.ts';
import { fault } from './fault.ts';

/** Actual dates of a chain may not run backwards. */
export function checkMilestones(file: SeasonFile): Fault[] {
  const chains = groupBy(numbered(file, 'milestones'), ({ row }) =>
    row.consignment ? `consignment ${row.consignment}` : `container ${row.container}`,
  );
  return [...chains].flatMap(([chain, rows]) => {
    const happened = rows.filter(({ row }) => row.actual).sort((a, b) => byPlaceInChain(a.row, b.row));
    return happened.slice(1).flatMap((later, index) => {
      const earlier = happened[index] as (typeof happened)[number];
      if ((earlier.row.actual as string) <= (later.row.actual as string)) return [];
      const message = `In the chain of ${chain} "${later.row.kind}" happened on ${later.row.actual}, before "${earlier.row.kind}" on ${earlier.row.actual} (row ${earlier.number}).`;
      return [
        fault(
          { table: 'milestones', row: later.number, column: 'actual', value: later.row.actual },
          'wrong-order',
          message,
          `${earlier.row.actual} or later`,
        ),
      ];
    });
  });
}
