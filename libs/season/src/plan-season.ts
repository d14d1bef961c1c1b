import { rngFromSeed } from '../../kernel/src/index.ts';
import type { StopRule } from '../../search/src/index.ts';
import { compileSeason } from './compile/compile-season.ts';
import type { CompiledSeason } from './compile/compiled-season.ts';
import type { PlanOutcome } from './plan.ts';
import type { SeasonProblem } from './problem.ts';
import { explain, pullForward } from './solve/bindings.ts';
import { firstComeOrder, placeFirstCome } from './solve/first-come.ts';
import { bestAnswer, EXCHANGE_POINTS, Island, type IslandAnswer, laggards } from './solve/island.ts';
import { lowerBound } from './solve/lower-bound.ts';
import { type Clashes, seatMandatory } from './solve/mandatory.ts';
import type { PlacementSnapshot } from './solve/placements.ts';
import { PlanState } from './solve/plan-state.ts';
import { polish } from './solve/polish.ts';
import { writePlan } from './solve/write-plan.ts';

export interface PlanProgress {
  /** Iterations of all islands together. */
  readonly iterations: number;
  /** Cost of the best plan so far, exact. */
  readonly bestCents: number;
  /** Share of the budget used, 0 to 1. */
  readonly fraction: number;
}

export interface PlanSeasonOptions {
  /** Any safe whole number. */
  readonly seed: number;
  /**
   * Budget of each island; its iterations are counted by island. A rule that counts iterations makes the plan reproducible; one that reads a
   * clock or a signal does not.
   */
  readonly stop: StopRule;
  /** How many searches share the work; part of what makes a plan reproducible. Default `DEFAULT_ISLANDS`. */
  readonly islands?: number;
  readonly onProgress?: (progress: PlanProgress) => void;
}

export const DEFAULT_ISLANDS = 4;

/** A problem made ready for islands: compiled, with all pinned and frozen jobs seated; or the reason why they cannot be. */
export type PreparedSeason =
  | { readonly kind: 'ready'; readonly season: CompiledSeason; readonly seated: PlacementSnapshot }
  | { readonly kind: 'refused'; readonly clashes: Clashes };

/** Compiles a problem and seats what rule 9 demands. Same problem and seed, same result. Throws `invalid-input` as `compileSeason` does. */
export function prepareSeason(problem: SeasonProblem, seed: number): PreparedSeason {
  const season = compileSeason(problem);
  const state = new PlanState(season);
  const clashes = seatMandatory(state, rngFromSeed(seed).derive('mandatory'));
  return clashes ? { kind: 'refused', clashes } : { kind: 'ready', season, seated: state.save() };
}

/** Polishes the best answer, pulls visits forward where that is free, says what binds them, and writes the plan. */
export function finishPlan(
  season: CompiledSeason,
  answers: readonly IslandAnswer[],
  made: { readonly seed: number; readonly islands: number },
): PlanOutcome {
  const state = new PlanState(season);
  state.restore(bestAnswer(answers).snapshot);
  polish(state);
  pullForward(state);
  const iterations = answers.reduce((sum, answer) => sum + answer.iterations, 0);
  return {
    kind: 'plan',
    plan: writePlan(state, {
      bound: lowerBound(season),
      made: {
        seed: made.seed,
        iterations,
        method: `large neighbourhood search, ${made.islands} islands, exact timing of each crew`,
      },
      bindings: explain(state),
    }),
  };
}

/**
 * Plans a season in this thread. Refused if pinned or frozen jobs cannot be kept together. When the stop rule ends early the best plan
 * so far comes back; there is always one.
 */
export function planSeason(problem: SeasonProblem, options: PlanSeasonOptions): PlanOutcome {
  const { seed, stop, onProgress } = options;
  const count = options.islands ?? DEFAULT_ISLANDS;
  const prepared = prepareSeason(problem, seed);
  if (prepared.kind === 'refused') return prepared;
  const { season, seated } = prepared;
  const done = new Array<number>(count).fill(0);
  let best = Number.POSITIVE_INFINITY;
  const islands = done.map(
    (_, index) =>
      new Island(season, seated, seed, index, (progress) => {
        done[index] = progress.iterations;
        best = Math.min(best, progress.bestCost);
        onProgress?.({
          iterations: done.reduce((sum, iterations) => sum + iterations, 0),
          bestCents: best,
          fraction: progress.fraction,
        });
      }),
  );
  let answers = islands.map((island) => island.answer());
  for (const point of EXCHANGE_POINTS) {
    answers = islands.map((island) => island.run(stop, point));
    if (point < 1)
      for (const island of laggards(answers)) islands[island]!.adopt(bestAnswer(answers).snapshot);
  }
  return finishPlan(season, answers, { seed, islands: count });
}

/**
 * The yardstick: first come, first served. Jobs in the order of their goods (or site) and promise, each on its first valid start, on the
 * crew that can start it first, nobody making way. Pinned and frozen jobs are seated first; refused as in `planSeason`.
 */
export function firstComeFirstServed(problem: SeasonProblem): PlanOutcome {
  const prepared = prepareSeason(problem, 0);
  if (prepared.kind === 'refused') return prepared;
  const state = new PlanState(prepared.season);
  state.restore(prepared.seated);
  placeFirstCome(state, firstComeOrder(state));
  return {
    kind: 'plan',
    plan: writePlan(state, {
      bound: lowerBound(prepared.season),
      made: { seed: 0, iterations: 0, method: 'first come, first served' },
      bindings: explain(state),
    }),
  };
}
