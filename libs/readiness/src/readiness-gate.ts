import { type Answer, cannotSay, type Day, known } from '../../kernel/src/index.ts';
import { judgeValue } from './tolerance.ts';

/** How far an item is. Claimed: said to be ready; accepted: seen and accepted by the manager; waived: given up by the manager. */
export type ReadinessState = 'open' | 'claimed' | 'accepted' | 'refused' | 'waived';

/** One thing that must be ready before a visit. Unknown is null. */
export interface ReadinessItem {
  readonly key: string;
  /** Due this many days before the visit starts. */
  readonly dueDaysBefore: number;
  /** Whether the visit may not start without it. */
  readonly mustBeTrue: boolean;
  readonly state: ReadinessState;
  /** What proves it; a number must also lie within its tolerance. */
  readonly evidence: 'tick' | 'number' | 'photo' | 'document';
  readonly value: number | null;
  readonly toleranceLow: number | null;
  readonly toleranceHigh: number | null;
  /** Day on which it is expected to be ready. */
  readonly expectedDay: Day | null;
}

/** Why an item does not pass. */
export type MissingReason = 'open' | 'claimed-not-accepted' | 'refused' | 'value-unknown' | 'value-outside';

/** Whether an item passes: accepted (with its measured value within tolerance, where a number proves it) or waived. */
export function itemMissing(item: ReadinessItem): MissingReason | null {
  if (item.state === 'waived') return null;
  if (item.state === 'open') return 'open';
  if (item.state === 'refused') return 'refused';
  if (item.evidence === 'number') {
    const verdict = judgeValue(item.value, item.toleranceLow, item.toleranceHigh);
    if (verdict === 'not ok') return 'value-outside';
    if (verdict === 'cannot say') return 'value-unknown';
  }
  return item.state === 'accepted' ? null : 'claimed-not-accepted';
}

/** Whether the way to the visit is open, and what is missing. */
export interface ReadinessGate {
  /** True only when every item that must be true passes. */
  readonly open: boolean;
  readonly missing: readonly { readonly key: string; readonly reason: MissingReason }[];
  /** Items that must be true and that the manager has given up; shown, because somebody answers for them. */
  readonly waived: readonly string[];
}

/** The readiness gate of a visit. A job without items that must be true has an open gate. */
export function readinessGate(items: readonly ReadinessItem[]): ReadinessGate {
  const gating = items.filter((item) => item.mustBeTrue);
  const missing = gating.flatMap((item) => {
    const reason = itemMissing(item);
    return reason === null ? [] : [{ key: item.key, reason }];
  });
  return {
    open: missing.length === 0,
    missing,
    waived: gating.filter((item) => item.state === 'waived').map((item) => item.key),
  };
}

/** The day on which an item is due for a visit that starts on a day. */
export function dueDay(item: Pick<ReadinessItem, 'dueDaysBefore'>, visitStart: Day): Day {
  return (visitStart - item.dueDaysBefore) as Day;
}

/** Items that do not pass and whose due day lies before `today`. */
export function overdueItems(items: readonly ReadinessItem[], visitStart: Day, today: Day): ReadinessItem[] {
  return items.filter((item) => itemMissing(item) !== null && dueDay(item, visitStart) < today);
}

/**
 * The first day on which the site can be ready: the latest expected day of the items that must be true and do not pass yet, and
 * not before `today` while any is missing; null when nothing is missing. Cannot say when an expected day is missing; names the items.
 */
export function predictedReadyDay(
  items: readonly ReadinessItem[],
  today: Day,
): Answer<Day | null, 'expected-day-unknown'> {
  const waiting = items.filter((item) => item.mustBeTrue && itemMissing(item) !== null);
  const unknown = waiting.filter((item) => item.expectedDay === null);
  if (unknown.length > 0)
    return cannotSay(
      'expected-day-unknown',
      unknown.map((item) => item.key),
    );
  if (waiting.length === 0) return known(null);
  return known(Math.max(today, ...waiting.map((item) => item.expectedDay as Day)) as Day);
}
