/** One step of a visit. Times in minutes of working time. */
export interface VisitStep {
  readonly key: string;
  /** Length with the most hands that help. */
  readonly durationMin: number;
  /** Fewest people who can do it. */
  readonly minHands: number;
  /** Most people who help; more make it no shorter. */
  readonly maxHands: number;
}

/** An order between two steps: the later starts at least `minLagMin`, and at most `maxLagMin`, after the end of the first. */
export interface StepOrder {
  readonly before: string;
  readonly after: string;
  readonly minLagMin: number;
  /** Null: no limit. */
  readonly maxLagMin: number | null;
}

/** Length of a step with so many hands: its work content shared out; undefined when they are too few. */
export function durationWithHands(step: VisitStep, hands: number): number | undefined {
  if (hands < step.minHands) return undefined;
  if (step.maxHands === 0) return step.durationMin;
  const helping = Math.min(hands, step.maxHands);
  return helping === 0 ? undefined : Math.ceil((step.durationMin * step.maxHands) / helping - 1e-9);
}
