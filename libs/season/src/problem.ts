/**
 * The season problem: everything the planner is told, as plain JSON.
 *
 * A `Day` is a whole number of days since 1970-01-01 of a *local* calendar date; nothing here holds an hour or a zone.
 * A `DayMask` is a string of '0' and '1', one character a day from `firstDay` to `lastDay` of the horizon.
 * All money is in whole cents of `currency`. The exact rules and cost formulas are in `libs/season/README.md`.
 */
import type { Day } from '../../kernel/src/index.ts';

export type DayMask = string;
export type PlaceId = string;

export interface SeasonProblem {
  readonly formatVersion: 1;
  readonly name: string;
  readonly currency: string;
  /** First and last day of the horizon, both included; every day that a plan holds lies within. */
  readonly firstDay: Day;
  readonly lastDay: Day;
  /** The day on which the plan is made; only the disturbance weight reads it. */
  readonly asOfDay: Day;
  /** Days up to and including this one are frozen (rule 9); null: nothing is frozen. */
  readonly frozenUntil: Day | null;
  readonly disturbance: DisturbanceRates;
  readonly travel: TravelTable;
  readonly jobs: readonly Job[];
  readonly crews: readonly Crew[];
  /** Regular hands, members of crews. */
  readonly hands: readonly Hand[];
  readonly casualHands: readonly CasualHand[];
  readonly lifts: readonly LiftUnit[];
  readonly equipment: readonly EquipmentUnit[];
  readonly warehouses: readonly Warehouse[];
  /** By id; a job names the table of its site and pattern. */
  readonly weatherTables: Readonly<Record<string, WeatherTable>>;
}

export interface DisturbanceRates {
  readonly movedCents: number;
  readonly movedPerDayCents: number;
  readonly crewChangedCents: number;
  /** Old places nearer to `asOfDay` than this many days weigh more; >= 1. */
  readonly nearDays: number;
  /** Extra weight of an old place on `asOfDay` itself; 1 doubles the cost; >= 0. */
  readonly nearFactor: number;
}

/** Square tables over `places`; entry [i][j] is from i to j. */
export interface TravelTable {
  readonly places: readonly PlaceId[];
  readonly driveMin: readonly (readonly number[])[];
  readonly distanceKm: readonly (readonly number[])[];
}

export type VisitKind = 'survey' | 'build' | 'return' | 'service';

export interface SiteDay {
  readonly outside: boolean;
  readonly hours: number;
  /** People needed on the day. */
  readonly hands: number;
  readonly tickets: readonly TicketNeed[];
  /** Type of lift that must stand there on the day; null: none. */
  readonly liftType: string | null;
}

export interface TicketNeed {
  readonly ticket: string;
  /** Holders who must be present, >= 1. */
  readonly count: number;
}

export interface Job {
  readonly id: string;
  readonly title: string;
  readonly visitKind: VisitKind;
  readonly site: PlaceId;
  /** At least one site day, in order. */
  readonly pattern: readonly SiteDay[];
  /** Longest gap of the crew's non-working days that may lie before an inside day; >= 0. */
  readonly maxGapDays: number;
  /** Days on which the site is closed. */
  readonly siteClosedDays: readonly Day[];
  readonly siteReadyFrom: Day;
  readonly goods: GoodsNeed | null;
  /** Kinds of owned equipment; one unit of each is held for the whole stay. */
  readonly equipmentKinds: readonly string[];
  readonly promisedBy: Day | null;
  readonly lateCentsPerDay: number;
  readonly notPlannedCents: number;
  readonly pin: { readonly start: Day | null; readonly crew: string | null } | null;
  /** Where the last published plan had it; null: nowhere. */
  readonly published: { readonly start: Day; readonly crew: string } | null;
  /** Key into `weatherTables`; null: no outside day, nothing lost, nothing held back. */
  readonly weatherTable: string | null;
}

export interface GoodsNeed {
  readonly warehouse: string;
  /** First day on which the goods can leave the warehouse; also the first day on which they fill bays. */
  readonly goodsFrom: Day;
  /** Calendar days from leaving the warehouse to standing at the site; 0: the same day. */
  readonly deliveryLeadDays: number;
  /** Days before the start on which the goods may already stand at the site. */
  readonly siteStorageDays: number;
  readonly bays: number;
}

export interface Crew {
  readonly id: string;
  readonly name: string;
  readonly base: PlaceId;
  /** Days on which the crew works (weekdays less its holidays). */
  readonly works: DayMask;
  /** Regular hands and the days on which each belongs to this crew. */
  readonly members: readonly { readonly hand: string; readonly belongs: DayMask }[];
  /** Heads that sleep away; nights are paid for this many. */
  readonly heads: number;
  readonly dayCents: number;
  readonly standbyDayCents: number;
  readonly perKmCents: number;
  readonly nightPerHeadCents: number;
  readonly maxNightsAway: number;
  readonly sameDayDriveMin: number;
  /** Minutes driven on a travel day; > 0. */
  readonly driveMinPerDay: number;
}

export interface Hand {
  readonly id: string;
  readonly name: string;
  /** '0' on days of leave. */
  readonly available: DayMask;
  readonly tickets: readonly HeldTicket[];
}

export interface HeldTicket {
  readonly ticket: string;
  /** Days on which the ticket is known to hold, both included. */
  readonly validFrom: Day;
  readonly validTo: Day;
}

export interface CasualHand extends Hand {
  readonly home: PlaceId;
  readonly rangeKm: number;
  readonly dayCents: number;
  readonly travelFixedCents: number;
  readonly travelPerKmCents: number;
}

export interface LiftUnit {
  readonly id: string;
  readonly name: string;
  readonly type: string;
  readonly depot: PlaceId;
  readonly rangeKm: number;
  readonly available: DayMask;
  readonly mobiliseFixedCents: number;
  readonly mobilisePerKmCents: number;
  readonly dayCents: number;
  readonly minDays: number;
}

export interface EquipmentUnit {
  readonly id: string;
  readonly kind: string;
  readonly name: string;
  /** '0' on days on which the unit is away or its inspection is not known to hold. */
  readonly usable: DayMask;
}

export interface Warehouse {
  readonly id: string;
  readonly bays: number;
  readonly works: DayMask;
  readonly bayDayCents: number;
  readonly overflowBayDayCents: number;
}

/** One entry a day of the horizon, for an outside work that starts on that day. */
export interface WeatherTable {
  readonly expectedLostDays: readonly number[];
  /** Whole days held back. */
  readonly reserveDays: readonly number[];
}
