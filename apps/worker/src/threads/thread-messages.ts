import type { IslandAnswer, PlanOutcome, SeasonProblem } from '../../../../libs/season/src/index.ts';

/** What a planner thread is started with. */
export interface ThreadStart {
  readonly problem: SeasonProblem;
  readonly seed: number;
  /** Islands in all. */
  readonly islands: number;
  /** Those that this thread runs. */
  readonly indexes: readonly number[];
  readonly iterations: number | null;
  readonly durationMs: number | null;
  /** One shared 32-bit number; not 0: stop and keep what was found. */
  readonly stopFlag: SharedArrayBuffer;
}

/** From the pool to a thread. */
export type ToThread =
  /** Search on until this share of the budget is used, the lagging islands from `adopt` on if it is given. */
  | {
      readonly kind: 'run';
      readonly until: number;
      readonly adopt: IslandAnswer | null;
      readonly laggards: readonly number[];
    }
  | { readonly kind: 'finish'; readonly answers: readonly IslandAnswer[]; readonly withYardstick: boolean };

/** From a thread to the pool. */
export type FromThread =
  | { readonly kind: 'ready' }
  | {
      readonly kind: 'progress';
      readonly island: number;
      readonly iterations: number;
      readonly bestCost: number;
      readonly fraction: number;
    }
  | { readonly kind: 'answers'; readonly answers: readonly IslandAnswer[] }
  | { readonly kind: 'outcome'; readonly outcome: PlanOutcome; readonly firstComeCents: number | null };
