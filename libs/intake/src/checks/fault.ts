import type { Fault, FaultCode, SeasonTableName } from '../../../contracts/src/index.ts';

/** Where a fault lies: table, row from 1, column. */
export interface FaultPlace {
  readonly table: SeasonTableName | 'season';
  readonly row: number;
  readonly column: string;
  readonly value: unknown;
}

/** Builds a fault. */
export function fault(place: FaultPlace, code: FaultCode, message: string, expected: string): Fault {
  return { ...place, code, message, expected };
}
