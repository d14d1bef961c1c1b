import type { Rng } from '../../kernel/src/index.ts';
import type { Acceptance } from './acceptance.ts';
import { OperatorWeights, type StepResult } from './operator-weights.ts';
import type { StopRule } from './stop-rule.ts';

/** The one answer that operators change in place. */
export interface Workspace<Snapshot> {
  /** Cost of the present answer; less is better. */
  cost(): number;
  save(): Snapshot;
  restore(snapshot: Snapshot): void;
}

/** Changes the workspace: takes something out of the answer, or puts back what is missing. */
export interface Operator {
  readonly name: string;
  apply(rng: Rng): void;
}

/** Told after each step; must not change the workspace. */
export type SearchObserver = (progress: SearchProgress) => void;

export interface SearchProgress {
  readonly iterations: number;
  readonly bestCost: number;
  readonly presentCost: number;
  /** Share of the budget used, 0 to 1. */
  readonly fraction: number;
}

export interface NeighbourhoodSearchOptions<Snapshot> {
  readonly workspace: Workspace<Snapshot>;
  readonly destroyers: readonly Operator[];
  readonly repairers: readonly Operator[];
  readonly acceptance: Acceptance;
  readonly rng: Rng;
  readonly observer?: SearchObserver;
}

/**
 * Adaptive large neighbourhood search. Each step takes a part of the answer out, repairs it, and keeps or undoes the change; the
 * operators are drawn by weights that follow their success. The best answer met can be read at each moment.
 */
export class NeighbourhoodSearch<Snapshot> {
  private readonly options: NeighbourhoodSearchOptions<Snapshot>;
  private readonly destroyWeights: OperatorWeights;
  private readonly repairWeights: OperatorWeights;
  private present: Snapshot;
  private presentCost: number;
  private bestSnapshot: Snapshot;
  private lowestCost: number;
  private done = 0;

  /** Starts from what the workspace holds now. */
  constructor(options: NeighbourhoodSearchOptions<Snapshot>) {
    this.options = options;
    this.destroyWeights = new OperatorWeights(options.destroyers.length);
    this.repairWeights = new OperatorWeights(options.repairers.length);
    this.present = options.workspace.save();
    this.presentCost = options.workspace.cost();
    this.bestSnapshot = this.present;
    this.lowestCost = this.presentCost;
  }

  get best(): Snapshot {
    return this.bestSnapshot;
  }

  get bestCost(): number {
    return this.lowestCost;
  }

  get iterations(): number {
    return this.done;
  }

  /** Goes on from another answer, for instance the best of a search beside this one. */
  adopt(snapshot: Snapshot): void {
    const { workspace } = this.options;
    workspace.restore(snapshot);
    this.present = snapshot;
    this.presentCost = workspace.cost();
    if (this.presentCost < this.lowestCost) {
      this.lowestCost = this.presentCost;
      this.bestSnapshot = snapshot;
    }
  }

  /** Runs until the rule says that its budget reached `untilFraction` (1: all of it). The rule counts all iterations of this search. */
  run(stop: StopRule, untilFraction = 1): void {
    for (;;) {
      const fraction = stop.fraction(this.done);
      if (fraction >= untilFraction) return;
      this.step(fraction);
      this.options.observer?.({
        iterations: this.done,
        bestCost: this.lowestCost,
        presentCost: this.presentCost,
        fraction: Math.min(1, fraction),
      });
    }
  }

  private step(fraction: number): void {
    const { workspace, destroyers, repairers, acceptance, rng } = this.options;
    const destroyer = this.destroyWeights.pick(rng);
    const repairer = this.repairWeights.pick(rng);
    destroyers[destroyer]?.apply(rng);
    repairers[repairer]?.apply(rng);
    const cost = workspace.cost();
    let result: StepResult = 'rejected';
    if (acceptance.accepts(this.presentCost, cost, fraction, rng)) {
      result = cost < this.lowestCost ? 'best' : cost < this.presentCost ? 'better' : 'accepted';
      // An answer that came back unchanged taught nothing.
      if (cost === this.presentCost) result = 'rejected';
      this.present = workspace.save();
      this.presentCost = cost;
      if (cost < this.lowestCost) {
        this.lowestCost = cost;
        this.bestSnapshot = this.present;
      }
    } else {
      workspace.restore(this.present);
    }
    this.destroyWeights.note(destroyer, result);
    this.repairWeights.note(repairer, result);
    this.done += 1;
  }
}
