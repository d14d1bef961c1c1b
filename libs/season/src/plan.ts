/** The season plan: what the planner decided, what it costs, and what binds each date. Days as in `problem.ts`. */
import type { Day } from '../../kernel/src/index.ts';

export interface SeasonPlan {
  readonly formatVersion: 1;
  /** Hash of the canonical JSON of the problem that was planned. */
  readonly problemHash: string;
  readonly visits: readonly PlannedVisit[];
  readonly notPlanned: readonly NotPlannedJob[];
  readonly costLines: readonly CostLine[];
  /** Sum of the cost lines. */
  readonly totalCents: number;
  /** A proven lower bound on the total of any valid plan of this problem; null: none was proved. */
  readonly bound: { readonly cents: number; readonly method: string } | null;
  readonly made: { readonly seed: number; readonly iterations: number; readonly method: string };
}

export interface PlannedVisit {
  readonly job: string;
  readonly crew: string;
  /** The site days in order; `days[0]` is the start. */
  readonly days: readonly Day[];
  /** The crew's working days held back after the last site day. */
  readonly reserve: readonly Day[];
  readonly casualHands: readonly string[];
  readonly liftUnit: string | null;
  readonly equipment: readonly string[];
  /** Day on which the goods stand at the site; null: the job needs none. */
  readonly deliveryDay: Day | null;
  /** Whether the crew comes from its base (true) or straight from its previous visit (false). */
  readonly fromBase: boolean;
  /** What keeps the start from being earlier, the tightest first. */
  readonly bindings: readonly Binding[];
}

export type BindingKind =
  | 'siteReady'
  | 'goods'
  | 'delivery'
  | 'crewBusy'
  | 'crewCalendar'
  | 'siteClosed'
  | 'hands'
  | 'tickets'
  | 'lift'
  | 'equipment'
  | 'nightsAway'
  | 'frozen'
  | 'pin'
  | 'weather'
  | 'cost'
  | 'horizon';

export interface Binding {
  readonly kind: BindingKind;
  /** Ids and numbers that the words need, such as the job that keeps the crew busy. */
  readonly data: Readonly<Record<string, string | number>>;
}

export interface NotPlannedJob {
  readonly job: string;
  readonly bindings: readonly Binding[];
}

export type CostKind =
  | 'late'
  | 'notPlanned'
  | 'standby'
  | 'km'
  | 'nights'
  | 'travelDays'
  | 'casualHands'
  | 'liftHire'
  | 'bays'
  | 'bayOverflow'
  | 'moved'
  | 'crewChanged';

export interface CostLine {
  readonly kind: CostKind;
  /** What the line belongs to: a job, crew, lift or warehouse id. */
  readonly job: string | null;
  readonly crew: string | null;
  readonly lift: string | null;
  readonly warehouse: string | null;
  readonly cents: number;
}

/** Planning is a question that may have no plan as its answer; that is a result, not an error. */
export type PlanOutcome =
  | { readonly kind: 'plan'; readonly plan: SeasonPlan }
  /** Pins or frozen days cannot all be kept (rule 9): the jobs that clash, with what stands in the way. */
  | {
      readonly kind: 'refused';
      readonly clashes: readonly {
        readonly jobs: readonly string[];
        readonly bindings: readonly Binding[];
      }[];
    };

/** One broken rule, with the numbers that show it. */
export interface Violation {
  /** The rule of `libs/season/README.md`, 1 to 9; 0: the plan does not fit the problem (unknown id, wrong shape, wrong cost line). */
  readonly rule: 0 | 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8 | 9;
  readonly code: string;
  readonly job: string | null;
  readonly day: Day | null;
  readonly message: string;
  readonly data: Readonly<Record<string, string | number>>;
}

export interface CheckResult {
  readonly valid: boolean;
  readonly violations: readonly Violation[];
  /** Recomputed from the visits alone. */
  readonly costLines: readonly CostLine[];
  readonly totalCents: number;
}
