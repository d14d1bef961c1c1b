import { type Rng, rngFromSeed } from '../../../kernel/src/index.ts';
import {
  NeighbourhoodSearch,
  type SearchProgress,
  simulatedAnnealing,
  type StopRule,
} from '../../../search/src/index.ts';
import type { CompiledSeason } from '../compile/compiled-season.ts';
import { destroyers } from './destroy.ts';
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

/**
 * One search with a random stream of its own. Several islands search the same problem side by side, each the same whichever thread runs it;
 * at fixed points those that lag behind go on from the best answer so far.
 */
export class Island {
  readonly index: number;
  private readonly search: NeighbourhoodSearch<PlacementSnapshot>;

  /** `seated`: an answer that holds all pinned and frozen jobs. */
  constructor(
    season: CompiledSeason,
    seated: PlacementSnapshot,
    seed: number,
    index: number,
    observer?: (progress: SearchProgress) => void,
  ) {
    this.index = index;
    const rng: Rng = rngFromSeed(seed).derive(`island ${index}`);
    const state = new PlanState(season);
    state.restore(seated);
    // Islands start apart: the first from the plain construction, the others from noisy ones.
    const scale = Math.max(1, state.cost());
    const noiseCents = index === 0 ? 0 : scale * 0.002;
    regretInsertion(state, state.unplanned(), { regret: 1 + (index % 3), noiseCents }, rng);
    state.holds.bays.settle();
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
      ...(observer ? { observer } : {}),
    });
  }

  /** Searches until the rule says that this share of the budget is used. */
  run(stop: StopRule, untilFraction: number): IslandAnswer {
    this.search.run(stop, untilFraction);
    return this.answer();
  }

  answer(): IslandAnswer {
    const { best, bestCost, iterations } = this.search;
    return { island: this.index, cents: bestCost, iterations, snapshot: best };
  }

  adopt(snapshot: PlacementSnapshot): void {
    this.search.adopt(snapshot);
  }
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
