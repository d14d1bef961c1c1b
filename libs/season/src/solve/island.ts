import { rngFromSeed } from '../../../kernel/src/index.ts';
import {
  afterDuration,
  afterIterations,
  firstOf,
  type MillisecondClock,
  NeighbourhoodSearch,
  type SearchObserver,
  type StopRule,
  simulatedAnnealing,
  whenStopped,
} from '../../../search/src/index.ts';
import type { CompiledSeason } from '../compile/compiled-season.ts';
import { destroyers } from './destroy.ts';
import { firstComeOrder, placeFirstCome, placePublished } from './first-come.ts';
import type { PlacementSnapshot } from './placements.ts';
import { PlanState } from './plan-state.ts';
import { regretInsertion, repairers } from './repair.ts';

/** Shares of the first plan's cost: temperature at the start and the end, and noise of the repairs. */
const START_TEMPERATURE = 0.002;
const END_TEMPERATURE = 0.00005;
const NOISE = 0.003;

export interface IslandAnswer {
  readonly island: number;
  readonly cents: number;
  readonly iterations: number;
  readonly snapshot: PlacementSnapshot;
}

export interface IslandOptions {
  readonly season: CompiledSeason;
  /** An answer that holds all pinned and frozen jobs. */
  readonly seated: PlacementSnapshot;
  readonly seed: number;
  readonly index: number;
  /** Budget of this island alone; the first limit ends it. */
  readonly iterations?: number;
  readonly clock?: MillisecondClock;
  readonly durationMs?: number;
  readonly isStopped?: () => boolean;
  readonly observer?: SearchObserver;
}

/**
 * One search with a random stream of its own. Several islands search the same problem side by side, each the same whichever thread runs it;
 * at fixed points those that lag behind go on from the best answer so far.
 */
export class Island {
  readonly index: number;
  private readonly search: NeighbourhoodSearch<PlacementSnapshot>;
  private readonly stop: StopRule;
  private readonly clock: MillisecondClock;
  private usedMs = 0;
  private resumedMs = 0;

  constructor(options: IslandOptions) {
    const { season, seated, seed, index } = options;
    this.index = index;
    this.clock = options.clock ?? (() => 0);
    this.resumedMs = this.clock();
    this.stop = this.stopRule(options);
    const rng = rngFromSeed(seed).derive(`island ${index}`);
    const state = new PlanState(season);
    state.restore(seated);
    // Islands start apart: the first from the plain construction, the others from noisy ones.
    const noiseCents = index === 0 ? 0 : leftOutCents(season) * 0.002;
    regretInsertion(state, state.unplanned(), { regret: 1 + ((index + 1) % 3), noiseCents }, rng);
    if (index === 0) {
      takeIfCheaper(state, seated, () => placeFirstCome(state, firstComeOrder(state)));
      takeIfCheaper(state, seated, () => {
        placePublished(state);
        regretInsertion(state, state.unplanned(), { regret: 2, noiseCents: 0 }, rng);
      });
    }
    const first = Math.max(1, state.cost());
    this.search = new NeighbourhoodSearch({
      workspace: state,
      destroyers: destroyers(state),
      repairers: repairers(state, first * NOISE),
      acceptance: simulatedAnnealing({
        startTemperature: first * START_TEMPERATURE,
        endTemperature: Math.max(0.01, first * END_TEMPERATURE),
      }),
      rng,
      ...(options.observer ? { observer: options.observer } : {}),
    });
    this.usedMs = this.clock() - this.resumedMs;
  }

  /** Searches until this share of the island's budget is used. */
  run(untilFraction: number): IslandAnswer {
    this.resumedMs = this.clock();
    this.search.run(this.stop, untilFraction);
    this.usedMs += this.clock() - this.resumedMs;
    this.resumedMs = this.clock();
    return this.answer();
  }

  answer(): IslandAnswer {
    const { best, bestCost, iterations } = this.search;
    return { island: this.index, cents: bestCost, iterations, snapshot: best };
  }

  adopt(snapshot: PlacementSnapshot): void {
    this.search.adopt(snapshot);
  }

  /** The island's clock stands still while others run in its thread. */
  private stopRule(options: IslandOptions): StopRule {
    const { iterations, durationMs, isStopped } = options;
    const ownClock = (): number => this.usedMs + this.clock() - this.resumedMs;
    return firstOf(
      ...(iterations === undefined ? [] : [afterIterations(iterations)]),
      ...(durationMs === undefined ? [] : [afterDuration(ownClock, durationMs)]),
      ...(isStopped ? [whenStopped(isStopped)] : []),
    );
  }
}

/**
 * Builds another first answer and takes it if it is cheaper: first come, first served, so that no plan is ever dearer than the yardstick that
 * it is measured by; and the published places, so that planning anew starts from what people have been told.
 */
function takeIfCheaper(state: PlanState, seated: PlacementSnapshot, build: () => void): void {
  const before = state.save();
  const cents = state.cost();
  state.restore(seated);
  build();
  if (!(state.cost() < cents)) state.restore(before);
}

function leftOutCents(season: CompiledSeason): number {
  return season.jobs.reduce((sum, job) => sum + job.notPlannedCents, 0);
}

/** The best of several answers; of equal ones that of the lowest island. */
export function bestAnswer(answers: readonly IslandAnswer[]): IslandAnswer {
  return answers.reduce((best, answer) =>
    answer.cents < best.cents || (answer.cents === best.cents && answer.island < best.island) ? answer : best,
  );
}

/** At which shares of the budget islands compare notes. */
export const EXCHANGE_POINTS: readonly number[] = [0.3, 0.6, 0.8, 1];

/** The islands that go on from the best answer after an exchange: those in the worse half. */
export function laggards(answers: readonly IslandAnswer[]): number[] {
  const ranked = [...answers].sort((a, b) => a.cents - b.cents || a.island - b.island);
  return ranked.slice(Math.ceil(ranked.length / 2)).map((answer) => answer.island);
}
