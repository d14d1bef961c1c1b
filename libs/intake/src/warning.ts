import type { SeasonTableName } from '../../contracts/src/index.ts';

/**
 * What can be odd in a season file that may still be planned, and what had to be assumed for planning.
 * The list is closed; a screen may have its own words for each.
 */
export type WarningCode =
  // odd rows
  | 'zone-not-at-place'
  | 'container-number'
  | 'crew-without-members'
  | 'hand-without-crew'
  | 'promise-before-ready'
  | 'outside-season'
  | 'pin-before-ready'
  | 'published-incomplete'
  | 'actual-in-future'
  | 'value-outside-tolerance'
  | 'flatbed-without-forklift'
  | 'gate-too-narrow'
  | 'no-unit'
  | 'goods-without-warehouse'
  // assumed for planning
  | 'as-of-day-assumed'
  | 'goods-day-unknown'
  | 'goods-chain-short'
  | 'ready-day-unknown'
  | 'weather-unknown'
  | 'weather-assumed'
  | 'weather-hopeless'
  | 'weather-from-record'
  | 'weather-from-figures'
  | 'weather-record-short'
  | 'weather-record-rain'
  | 'inspection-unknown'
  | 'casual-hand-incomplete'
  | 'casual-cost-assumed'
  | 'kits-merged'
  | 'travel-estimated'
  // assumed for weather odds of a visit
  | 'day-without-steps'
  | 'lift-limit-assumed'
  | 'wind-limit-unknown'
  | 'make-safe-unknown'
  | 'step-lag-not-counted';

/** One thing that is odd or had to be assumed, in words for the operations manager. */
export interface IntakeWarning {
  readonly code: WarningCode;
  readonly table: SeasonTableName | 'season';
  /** Key of the row that it is about; several columns joined by a slash. */
  readonly key: string;
  /** A whole sentence with the next step. */
  readonly message: string;
  readonly data: Readonly<Record<string, string | number>>;
}

/** Builds a warning; `data` holds the figures that the words need. */
export function warning(
  code: WarningCode,
  table: IntakeWarning['table'],
  key: string,
  message: string,
  data: IntakeWarning['data'] = {},
): IntakeWarning {
  return { code, table, key, message, data };
}
