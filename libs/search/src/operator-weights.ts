import type { Rng } from '../../kernel/src/index.ts';

/** What one use of an operator led to, from best to worst. */
export type StepResult = 'best' | 'better' | 'accepted' | 'rejected';

export interface WeightOptions {
  /** Uses after which the weights are brought up to date; >= 1. */
  readonly segment: number;
  /** How fast a weight follows its score: 0 never, 1 forgets the past at once. */
  readonly reaction: number;
  readonly scores: Readonly<Record<StepResult, number>>;
  /** No weight falls below this, so that no operator is lost; > 0. */
  readonly least: number;
}

export const DEFAULT_WEIGHT_OPTIONS: WeightOptions = {
  segment: 50,
  reaction: 0.25,
  scores: { best: 12, better: 6, accepted: 2, rejected: 0.2 },
  least: 0.15,
};

/** Roulette wheel over operators 0..count-1 whose weights follow the mean score of their recent uses. */
export class OperatorWeights {
  private readonly options: WeightOptions;
  private readonly weights: number[];
  private readonly earned: number[];
  private readonly uses: number[];
  private sinceUpdate = 0;

  constructor(count: number, options: WeightOptions = DEFAULT_WEIGHT_OPTIONS) {
    this.options = options;
    this.weights = new Array<number>(count).fill(1);
    this.earned = new Array<number>(count).fill(0);
    this.uses = new Array<number>(count).fill(0);
  }

  /** The index of the operator to use next. */
  pick(rng: Rng): number {
    const total = this.weights.reduce((sum, weight) => sum + weight, 0);
    let left = rng.uniform() * total;
    for (let index = 0; index < this.weights.length - 1; index += 1) {
      left -= this.weights[index] as number;
      if (left < 0) return index;
    }
    return this.weights.length - 1;
  }

  /** Notes what the use of an operator led to. */
  note(index: number, result: StepResult): void {
    this.earned[index] = (this.earned[index] as number) + this.options.scores[result];
    this.uses[index] = (this.uses[index] as number) + 1;
    this.sinceUpdate += 1;
    if (this.sinceUpdate < this.options.segment) return;
    this.sinceUpdate = 0;
    const { reaction, least } = this.options;
    for (let at = 0; at < this.weights.length; at += 1) {
      const uses = this.uses[at] as number;
      if (uses === 0) continue;
      const mean = (this.earned[at] as number) / uses;
      this.weights[at] = Math.max(least, (this.weights[at] as number) * (1 - reaction) + reaction * mean);
      this.earned[at] = 0;
      this.uses[at] = 0;
    }
  }

  /** The weights now, in the order of the operators. */
  current(): readonly number[] {
    return [...this.weights];
  }
}
