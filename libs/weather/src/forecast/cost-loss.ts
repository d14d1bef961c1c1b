import { DryspellError } from '../../../kernel/src/index.ts';
import type { StatedChance } from './verification.ts';

/** What the cost-loss rule says of one decision; money in cents. */
export interface CostLossChoice {
  /** Protecting pays when the chance of the loss is above cost / loss; at the ratio itself both cost the same. */
  readonly choice: 'protect' | 'indifferent' | 'do-not-protect';
  /** cost / loss; null when nothing can be lost. Above 1 protecting never pays. */
  readonly ratio: number | null;
  /** chance x loss: what not protecting costs in the mean. */
  readonly expectedLossCents: number;
}

/**
 * The cost-loss rule: spend `costCents` for certain, or risk `lossCents` with a chance. All 0 or more, chance 0 to 1; throws
 * `invalid-input` otherwise. Source: Richardson 2000, Q. J. R. Meteorol. Soc. 126, 649-667; the rule is older.
 */
export function costLossChoice(input: {
  readonly costCents: number;
  readonly lossCents: number;
  readonly lossChance: number;
}): CostLossChoice {
  for (const [field, value] of Object.entries(input)) {
    if (!(value >= 0 && value < Number.POSITIVE_INFINITY) || (field === 'lossChance' && value > 1)) {
      throw new DryspellError('invalid-input', { field, value, expected: '0 or more; a chance at most 1' });
    }
  }
  const { costCents, lossCents, lossChance } = input;
  const expectedLossCents = lossChance * lossCents;
  const difference = expectedLossCents - costCents;
  // What floating point leaves over is not a reason.
  const even = Math.abs(difference) <= 1e-9 * Math.max(1, costCents, lossCents);
  return {
    choice: even ? 'indifferent' : difference > 0 ? 'protect' : 'do-not-protect',
    ratio: lossCents === 0 ? null : costCents / lossCents,
    expectedLossCents,
  };
}

/**
 * How often a warning at `atChance` or more came before the event (hit rate) and before no event (false alarm rate).
 * Null where there was no event, or nothing but events.
 */
export function warningRates(
  cases: readonly StatedChance[],
  atChance: number,
): { readonly hitRate: number | null; readonly falseAlarmRate: number | null } {
  const counts = { hits: 0, events: 0, falseAlarms: 0, quiet: 0 };
  for (const { chance, happened } of cases) {
    const warned = chance >= atChance ? 1 : 0;
    if (happened) {
      counts.events += 1;
      counts.hits += warned;
    } else {
      counts.quiet += 1;
      counts.falseAlarms += warned;
    }
  }
  return {
    hitRate: counts.events === 0 ? null : counts.hits / counts.events,
    falseAlarmRate: counts.quiet === 0 ? null : counts.falseAlarms / counts.quiet,
  };
}

/**
 * What warnings are worth to one who acts on them: the saving as a share of that of perfect foresight, both against knowing only
 * how often the event comes. At most 1; below 0 the warnings do harm. All inputs 0 to 1. Null where perfect foresight saves
 * nothing (event or ratio 0 or 1). Source: Richardson 2000.
 */
export function relativeValue(input: {
  readonly hitRate: number;
  readonly falseAlarmRate: number;
  readonly eventShare: number;
  readonly costLossRatio: number;
}): number | null {
  const { hitRate, falseAlarmRate, eventShare: s, costLossRatio: ratio } = input;
  const without = Math.min(ratio, s);
  const saved = without - s * ratio;
  if (saved <= 0) return null;
  return (without - falseAlarmRate * ratio * (1 - s) + hitRate * s * (1 - ratio) - s) / saved;
}
