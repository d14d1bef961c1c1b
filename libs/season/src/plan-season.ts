import { rngFromSeed } from '../../kernel/src/index.ts';
import type { MillisecondClock, SearchProgress } from '../../search/src/index.ts';
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

/**
 * How long to search; the first limit that is reached ends it. Without any limit the search never ends. A budget of iterations alone
 * gives the same plan for the same seed on any number of threads; one that reads a clock or a signal does not.
 */
export interface PlanBudget {
  /** Iterations of all islands together, >= 0; each island makes an equal share, rounded up. */
  readonly iterations?: number;
  /** Time from the call on, making ready included; saying what binds each date comes on top. */
  readonly time?: { readonly clock: MillisecondClock; readonly durationMs: number };
  readonly isStopped?: () => boolean;
}

export interface PlanSeasonOptions {
  /** Any safe whole number. */
  readonly seed: number;
  readonly budget: PlanBudget;
  /** How many searches share the work; part of what makes a plan reproducible. Default: `DEFAULT_ISLANDS`, or one without a budget of iterations. */
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
 * Plans a season in this thread. Refused if pinned or frozen jobs cannot be kept together. When the budget ends early the best plan
 * so far comes back; there is always one.
 */
export function planSeason(problem: SeasonProblem, options: PlanSeasonOptions): PlanOutcome {
  const { seed, budget, onProgress } = options;
  const count = options.islands ?? (budget.iterations === undefined ? 1 : DEFAULT_ISLANDS);
  const startedMs = budget.time?.clock() ?? 0;
  const prepared = prepareSeason(problem, seed);
  if (prepared.kind === 'refused') return prepared;
  const progress = new SharedProgress(count, onProgress);
  const islands = startIslands(prepared, {
    seed,
    count,
    indexes: Array.from({ length: count }, (_, index) => index),
    budget: budgetLeft(budget, startedMs),
    onProgress: (island, state) => progress.note(island, state),
  });
  let answers = islands.map((island) => island.answer());
  for (const point of EXCHANGE_POINTS) {
    answers = islands.map((island) => island.run(point));
    if (point < 1)
      for (const island of laggards(answers)) islands[island]!.adopt(bestAnswer(answers).snapshot);
  }
  return finishPlan(prepared.season, answers, { seed, islands: count });
}

/** The budget with the time that is left of it now. */
export function budgetLeft(budget: PlanBudget, startedMs: number): PlanBudget {
  if (!budget.time) return budget;
  const { clock, durationMs } = budget.time;
  return { ...budget, time: { clock, durationMs: Math.max(0, durationMs - (clock() - startedMs)) } };
}

export interface IslandsStart {
  readonly seed: number;
  /** Islands in all, here and in other threads. */
  readonly count: number;
  /** Which of them run here, one after the other. */
  readonly indexes: readonly number[];
  readonly budget: PlanBudget;
  readonly onProgress?: (island: number, progress: SearchProgress) => void;
}

/** Makes the islands that run in this thread; those that share a thread share its time equally. */
export function startIslands(
  prepared: Extract<PreparedSeason, { kind: 'ready' }>,
  start: IslandsStart,
): Island[] {
  const { seed, count, indexes, budget, onProgress } = start;
  return indexes.map(
    (index) =>
      new Island({
        season: prepared.season,
        seated: prepared.seated,
        seed,
        index,
        ...(budget.iterations === undefined ? {} : { iterations: Math.ceil(budget.iterations / count) }),
        ...(budget.time
          ? { clock: budget.time.clock, durationMs: budget.time.durationMs / indexes.length }
          : {}),
        ...(budget.isStopped ? { isStopped: budget.isStopped } : {}),
        ...(onProgress ? { observer: (progress) => onProgress(index, progress) } : {}),
      }),
  );
}

/** Adds up what the islands report. */
export class SharedProgress {
  private readonly iterations: number[];
  private readonly fractions: number[];
  private readonly onProgress: ((progress: PlanProgress) => void) | undefined;
  private bestCents = Number.POSITIVE_INFINITY;

  constructor(count: number, onProgress?: (progress: PlanProgress) => void) {
    this.iterations = new Array<number>(count).fill(0);
    this.fractions = new Array<number>(count).fill(0);
    this.onProgress = onProgress;
  }

  note(island: number, progress: Pick<SearchProgress, 'iterations' | 'bestCost' | 'fraction'>): void {
    this.iterations[island] = progress.iterations;
    this.fractions[island] = progress.fraction;
    this.bestCents = Math.min(this.bestCents, progress.bestCost);
    this.onProgress?.({
      iterations: this.iterations.reduce((sum, each) => sum + each, 0),
      bestCents: this.bestCents,
      fraction: this.fractions.reduce((sum, each) => sum + each, 0) / this.fractions.length,
    });
  }
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
