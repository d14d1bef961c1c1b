import type { SeasonProblem } from '../problem.ts';

/**
 * The season problem as flat tables, made once. Days are counted from `firstDay` (0) here; `dayCount` days in all.
 * A *slot* is one crew, one job and one start day; its number is `(crew * jobCount + job) * dayCount + start`.
 */
export interface CompiledSeason {
  readonly problem: SeasonProblem;
  readonly dayCount: number;
  readonly jobCount: number;
  readonly crewCount: number;
  readonly placeCount: number;
  readonly crews: readonly CompiledCrew[];
  readonly jobs: readonly CompiledJob[];
  readonly lifts: readonly CompiledLift[];
  readonly equipment: readonly CompiledUnit[];
  readonly casuals: readonly CompiledCasual[];
  readonly warehouses: readonly CompiledWarehouse[];
  readonly slots: SlotTables;
  /** Ways to fill up a crew with casual hands; the first entry is "nobody is needed". */
  readonly covers: readonly CoverList[];
  /** km, [from * placeCount + to]. */
  readonly km: Float64Array;
}

export interface CompiledCrew {
  readonly id: string;
  readonly base: number;
  /** One night of all heads, cents. */
  readonly nightCents: number;
  readonly maxNights: number;
  readonly works: Uint8Array;
  /** Travel days, [from * placeCount + to]. */
  readonly travelDays: Int16Array;
  /** km and paid travel days of a leg, cents, not rounded; [from * placeCount + to]. */
  readonly legCents: Float64Array;
  readonly dayCents: number;
  readonly perKmCents: number;
  readonly standbyDayCents: number;
}

export interface CompiledJob {
  readonly id: string;
  readonly site: number;
  readonly siteDayCount: number;
  /** Index into the lift types, -1 without need. */
  readonly liftType: number;
  /** Lift units in question: of the type and in range. */
  readonly liftUnits: readonly number[];
  /** For each equipment kind the units of it. */
  readonly equipmentChoices: readonly (readonly number[])[];
  /** Index of the warehouse, -1 without goods. */
  readonly warehouse: number;
  readonly bays: number;
  /** Day from which the goods fill bays; `dayCount` or later: never within the horizon. */
  readonly bayFrom: number;
  /** Dispatch day for each start day, -1 where there is none; empty without goods. */
  readonly dispatch: Int16Array;
  /** Cents of leaving the job out, without its bays. */
  readonly notPlannedCents: number;
  /** Pinned or frozen: must be planned. */
  readonly mandatory: boolean;
  /** Expected lost days for each start day. */
  readonly lostDays: Float64Array;
}

export interface CompiledLift {
  readonly id: string;
  readonly type: number;
  readonly depot: number;
  readonly dayCents: number;
  readonly minDays: number;
  readonly fixedCents: number;
  readonly perKmCents: number;
  /** Days available before day d, [d]; so that a span is available when the difference is its length. */
  readonly availableBefore: Int16Array;
}

export interface CompiledUnit {
  readonly id: string;
  readonly kind: string;
  readonly usableBefore: Int16Array;
}

export interface CompiledCasual {
  readonly id: string;
  readonly home: number;
}

export interface CompiledWarehouse {
  readonly id: string;
  readonly bays: number;
  readonly bayDayCents: number;
  readonly overflowCents: number;
}

/** Ways to fill up a crew, cheapest first; none can do with one hand fewer. */
export interface CoverList {
  readonly sets: readonly Int16Array[];
  readonly cents: Float64Array;
}

/** What is known of each slot whatever the rest of the plan; see `CompiledSeason` for the numbering. */
export interface SlotTables {
  /** 0: the slot is open; else the number in `SLOT_BARS` of the rule that closes it. */
  readonly bar: Uint8Array;
  readonly lastSiteDay: Int16Array;
  readonly release: Int16Array;
  readonly liftFrom: Int16Array;
  readonly liftPaidTo: Int16Array;
  readonly liftHeldTo: Int16Array;
  /** Late, moved, crew changed, and the standby of a job without lift; cents. */
  readonly ownCents: Float64Array;
  /** Number of the cover list. */
  readonly cover: Int32Array;
}

/** Why a slot is closed; the position is the code in `SlotTables.bar`. */
export const SLOT_BARS = [
  'open',
  'pin',
  'frozen',
  'siteReady',
  'goods',
  'delivery',
  'siteClosed',
  'crewCalendar',
  'horizon',
  'hands',
  'tickets',
  'lift',
  'equipment',
] as const;

export type SlotBar = (typeof SLOT_BARS)[number];

/** The code of a bar. */
export function barCode(bar: SlotBar): number {
  return SLOT_BARS.indexOf(bar);
}
