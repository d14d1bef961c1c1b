import { type Answer, DryspellError, type Instant, minutesBetween } from '../../../kernel/src/index.ts';
import { type CostLossChoice, costLossChoice } from './cost-loss.ts';

/** A limit that the forecast expects to be broken in the visit's first day; units are in the names of the limits. */
export interface BrokenLimit {
  /** What is limited: `gustMps`, `windMps`, `rainMm`, `dewPointMarginC` ... */
  readonly limit: string;
  readonly limitValue: number;
  /** The worst value expected in working hours; null when it is unknown, which counts as broken. */
  readonly expectedValue: number | null;
  readonly firstHour: Instant;
  readonly hours: number;
}

/** How good the forecast at hand is. */
export interface ForecastState {
  readonly state: 'fresh' | 'stale' | 'missing';
  readonly issuedAt: Instant | null;
  readonly ageHours: number | null;
}

/** What is known when a visit's first day must be decided on. */
export interface GoOrHoldInput {
  /** Chance that the day is good, 0 to 1. */
  readonly odds: Answer<number>;
  readonly oddsFrom: 'blend' | 'forecast' | 'records';
  readonly forecast: ForecastState;
  /** What it costs to go and fail: journey, crew, lift and lorry for nothing. Null is unknown. */
  readonly costOfFailedStartCents: number | null;
  /** What it costs to hold: moved bookings, idle crew, the following visits. Null is unknown. */
  readonly costOfHoldingCents: number | null;
  /** The last moment at which lift, lorry and beds can be called off without the fee. Null is unknown. */
  readonly decisionDeadline: Instant | null;
  /** What calling off costs on top after the deadline. Null is unknown. */
  readonly feeAfterDeadlineCents: number | null;
  readonly now: Instant;
  readonly brokenLimits: readonly BrokenLimit[];
}

/** Why the advice is what it is, with its numbers; wording comes later. */
export type GoOrHoldReason =
  | { readonly code: 'fail-chance-above-ratio' | 'fail-chance-below-ratio' | 'fail-chance-at-ratio' }
  | { readonly code: 'holding-never-pays'; readonly ratio: number }
  | { readonly code: 'odds-unknown'; readonly because: string; readonly missing: readonly string[] }
  | { readonly code: 'failed-start-cost-unknown' | 'holding-cost-unknown' | 'fee-after-deadline-unknown' }
  | {
      readonly code: 'forecast-stale';
      readonly issuedAt: Instant | null;
      readonly ageHours: number | null;
    }
  | { readonly code: 'forecast-missing' }
  | { readonly code: 'odds-from-records-only' | 'records-alone-never-say-go' }
  | { readonly code: 'odds-without-records' }
  | { readonly code: 'deadline-past'; readonly minutesPast: number; readonly feeCents: number | null }
  | { readonly code: 'deadline-unknown' };

/** The numbers of the rule: hold when failChance > holdingCents / failedStartCents. */
export interface GoOrHoldRule {
  /** 1 - odds. */
  readonly failChance: number;
  /** Cost of holding, with the fee after the deadline where it applies. */
  readonly holdingCents: number;
  readonly failedStartCents: number;
  /** holdingCents / failedStartCents; null when a failed start costs nothing. */
  readonly ratio: number | null;
  /** failChance x failedStartCents. */
  readonly expectedFailCents: number;
}

/** The advice for a visit's first day. */
export interface GoOrHoldAdvice {
  readonly advice: 'go' | 'hold' | 'cannot-say';
  /** What the advice rests on; `records-only` must be shown with it. */
  readonly basis: 'forecast' | 'records-only' | 'none';
  readonly reasons: readonly GoOrHoldReason[];
  /** Null when the rule could not be worked out. */
  readonly rule: GoOrHoldRule | null;
  /** `past` is from one moment after the deadline on; null when there is no known deadline. */
  readonly deadline: { readonly at: Instant; readonly past: boolean; readonly minutesLeft: number } | null;
  readonly brokenLimits: readonly BrokenLimit[];
  /**
   * Always shown: whether anything is lifted is decided on the day, by the competent person, from measured wind and the
   * maker's chart.
   */
  readonly cautions: readonly ['competent-person-decides-on-the-day-from-measured-wind'];
}

/**
 * Go or hold, by the cost-loss rule: hold when 1 - odds > cost of holding / cost of a failed start; at the ratio both cost
 * the same, then go, and the reason says so. Where holding costs more than a failed start it never pays. After the deadline
 * the fee is part of holding.
 *
 * `go` only from a fresh forecast. Odds of the records alone may say hold, named as such, but never go. A stale or missing
 * forecast, unknown odds or unknown costs give `cannot-say` with the reason. Throws `invalid-input` for odds outside 0..1 or
 * negative money. Source of the rule: Richardson 2000, Q. J. R. Meteorol. Soc. 126, 649-667.
 */
export function goOrHold(input: GoOrHoldInput): GoOrHoldAdvice {
  checkInput(input);
  const reasons: GoOrHoldReason[] = [];
  const { odds, forecast, brokenLimits } = input;
  const recordsOnly = input.oddsFrom === 'records';
  const deadline = deadlineOf(input);
  const priced = priceOf(input, deadline?.past === true);

  if (!odds.known) reasons.push({ code: 'odds-unknown', because: odds.reason, missing: odds.missing });
  if (forecast.state === 'missing') reasons.push({ code: 'forecast-missing' });
  if (forecast.state === 'stale') {
    reasons.push({ code: 'forecast-stale', issuedAt: forecast.issuedAt, ageHours: forecast.ageHours });
  }
  if (odds.known && recordsOnly) reasons.push({ code: 'odds-from-records-only' });
  if (odds.known && input.oddsFrom === 'forecast') reasons.push({ code: 'odds-without-records' });
  reasons.push(...priced.unknown);

  let advice: GoOrHoldAdvice['advice'] = 'cannot-say';
  let basis: GoOrHoldAdvice['basis'] = 'none';
  let rule: GoOrHoldRule | null = null;
  if (odds.known && priced.costs !== null) {
    const failChance = 1 - odds.value;
    const answer = costLossChoice({ ...priced.costs, lossChance: failChance });
    const hold = answer.choice === 'protect';
    rule = {
      failChance,
      holdingCents: priced.costs.costCents,
      failedStartCents: priced.costs.lossCents,
      ratio: answer.ratio,
      expectedFailCents: answer.expectedLossCents,
    };
    reasons.push(ruleReason(answer));
    // An unknown fee can only make holding dearer, so it leaves a go alone and takes the ground from a hold.
    const certain = !hold || priced.unknown.length === 0;
    if (recordsOnly) {
      if (hold && certain) [advice, basis] = ['hold', 'records-only'];
      else if (!hold) reasons.push({ code: 'records-alone-never-say-go' });
    } else if (forecast.state === 'fresh' && certain) {
      [advice, basis] = [hold ? 'hold' : 'go', 'forecast'];
    }
  }
  if (deadline === null) reasons.push({ code: 'deadline-unknown' });
  else if (deadline.past) {
    const feeCents = input.feeAfterDeadlineCents;
    reasons.push({ code: 'deadline-past', minutesPast: -deadline.minutesLeft, feeCents });
  }
  return {
    advice,
    basis,
    reasons,
    rule,
    deadline,
    brokenLimits,
    cautions: ['competent-person-decides-on-the-day-from-measured-wind'],
  };
}

function ruleReason(answer: CostLossChoice): GoOrHoldReason {
  if (answer.ratio !== null && answer.ratio > 1) return { code: 'holding-never-pays', ratio: answer.ratio };
  if (answer.choice === 'indifferent') return { code: 'fail-chance-at-ratio' };
  return { code: answer.choice === 'protect' ? 'fail-chance-above-ratio' : 'fail-chance-below-ratio' };
}

/** What holding and a failed start cost now; null when one is unknown. An unknown fee is named and counted as nothing. */
function priceOf(
  input: GoOrHoldInput,
  pastDeadline: boolean,
): { costs: { costCents: number; lossCents: number } | null; unknown: GoOrHoldReason[] } {
  const unknown: GoOrHoldReason[] = [];
  const { costOfFailedStartCents: lossCents, costOfHoldingCents, feeAfterDeadlineCents } = input;
  if (lossCents === null) unknown.push({ code: 'failed-start-cost-unknown' });
  if (costOfHoldingCents === null) unknown.push({ code: 'holding-cost-unknown' });
  if (pastDeadline && feeAfterDeadlineCents === null) unknown.push({ code: 'fee-after-deadline-unknown' });
  if (lossCents === null || costOfHoldingCents === null) return { costs: null, unknown };
  const fee = pastDeadline ? (feeAfterDeadlineCents ?? 0) : 0;
  return { costs: { costCents: costOfHoldingCents + fee, lossCents }, unknown };
}

function deadlineOf({ decisionDeadline: at, now }: GoOrHoldInput): GoOrHoldAdvice['deadline'] {
  if (at === null) return null;
  const minutesLeft = minutesBetween(now, at);
  return { at, past: minutesLeft < 0, minutesLeft };
}

function checkInput(input: GoOrHoldInput): void {
  const money = {
    costOfFailedStartCents: input.costOfFailedStartCents,
    costOfHoldingCents: input.costOfHoldingCents,
    feeAfterDeadlineCents: input.feeAfterDeadlineCents,
  };
  for (const [field, value] of Object.entries(money)) {
    if (value !== null && !(value >= 0 && value < Number.POSITIVE_INFINITY))
      throw new DryspellError('invalid-input', { field, value, expected: '0 or more, or null for unknown' });
  }
  if (input.odds.known && !(input.odds.value >= 0 && input.odds.value <= 1))
    throw new DryspellError('invalid-input', { field: 'odds', value: input.odds.value, expected: '0 to 1' });
}
