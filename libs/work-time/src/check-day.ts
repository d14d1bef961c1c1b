import { DryspellError, type Verdict } from '../../kernel/src/index.ts';
import type { WorkTimeLimit, WorkTimeRuleSet } from './rule-set.ts';

/** A piece of a duty day: minutes from the start of duty, back to back. Driving counts as work too. */
export interface DutySegment {
  readonly activity: 'driving' | 'otherWork' | 'rest';
  readonly durationMin: number;
}

/** One person's duty day, from coming on duty to going off. */
export interface DutyDay {
  readonly segments: readonly DutySegment[];
  /** Unbroken rest before coming on duty; null when unknown. */
  readonly restBeforeMin: number | null;
  /** Whether one of the few longer days or shorter rests that a law allows is used for this day. */
  readonly usesException?: boolean;
}

/** One limit, checked. */
export interface LimitVerdict {
  readonly limitId: string;
  readonly verdict: Verdict;
  /** The figure that was compared, minutes; null when unknown. */
  readonly actualMin: number | null;
  readonly allowedMin: number;
  /** Minutes after coming on duty at which the limit is first broken, where that can be said. */
  readonly brokenAtMin: number | null;
}

/** A day against a rule set: `ok` only when every limit is. */
export interface DayVerdict {
  readonly ruleSet: string;
  readonly verdict: Verdict;
  readonly limits: readonly LimitVerdict[];
}

/**
 * Checks a duty day against the limits of a rule set. An unknown rest before the day makes that limit, and so the day, `cannot say`
 * unless another limit is broken. Throws `invalid-input` for a piece of negative length.
 */
export function checkDay(day: DutyDay, rules: WorkTimeRuleSet): DayVerdict {
  for (const segment of day.segments) {
    if (!(segment.durationMin >= 0)) {
      throw new DryspellError('invalid-input', {
        field: 'durationMin',
        value: segment.durationMin,
        expected: '0 or more',
      });
    }
  }
  const limits = rules.limits.map((limit) => checkLimit(day, limit));
  const verdicts = limits.map((limit) => limit.verdict);
  const verdict = verdicts.includes('not ok')
    ? 'not ok'
    : verdicts.includes('cannot say')
      ? 'cannot say'
      : 'ok';
  return { ruleSet: rules.id, verdict, limits };
}

function checkLimit(day: DutyDay, limit: WorkTimeLimit): LimitVerdict {
  switch (limit.kind) {
    case 'daily-rest': {
      const allowedMin = day.usesException && limit.reducedMin !== null ? limit.reducedMin : limit.atLeastMin;
      const rest = day.restBeforeMin;
      const verdict = rest === null ? 'cannot say' : rest >= allowedMin ? 'ok' : 'not ok';
      return {
        limitId: limit.id,
        verdict,
        actualMin: rest,
        allowedMin,
        brokenAtMin: verdict === 'not ok' ? 0 : null,
      };
    }
    case 'day-total': {
      const allowedMin =
        day.usesException && limit.extendedMin !== null ? limit.extendedMin : limit.atMostMin;
      return upTo(limit.id, allowedMin, runningTotal(day.segments, limit.of));
    }
    case 'driving-window':
      return upTo(limit.id, limit.withinMin, lastDriving(day.segments, limit.withinMin));
    case 'break-after':
      return upTo(limit.id, limit.afterMin, longestWithoutBreak(day.segments, limit));
    case 'rolling-work':
      return upTo(limit.id, limit.workMin, mostWorkInSpan(day.segments, limit));
  }
}

interface Most {
  readonly actualMin: number;
  /** When an amount was first passed, given the amount. */
  readonly passedAt: (amountMin: number) => number | null;
}

function upTo(limitId: string, allowedMin: number, most: Most): LimitVerdict {
  const broken = most.actualMin > allowedMin;
  return {
    limitId,
    verdict: broken ? 'not ok' : 'ok',
    actualMin: most.actualMin,
    allowedMin,
    brokenAtMin: broken ? most.passedAt(allowedMin) : null,
  };
}

const counts = (segment: DutySegment, of: 'driving' | 'work'): boolean =>
  of === 'driving' ? segment.activity === 'driving' : segment.activity !== 'rest';

function runningTotal(segments: readonly DutySegment[], of: 'driving' | 'work'): Most {
  const passedAt = (amountMin: number): number | null => {
    let clock = 0;
    let total = 0;
    for (const segment of segments) {
      if (counts(segment, of) && total + segment.durationMin > amountMin) return clock + (amountMin - total);
      if (counts(segment, of)) total += segment.durationMin;
      clock += segment.durationMin;
    }
    return null;
  };
  const actualMin = segments.reduce(
    (sum, segment) => sum + (counts(segment, of) ? segment.durationMin : 0),
    0,
  );
  return { actualMin, passedAt };
}

function lastDriving(segments: readonly DutySegment[], withinMin: number): Most {
  let clock = 0;
  let last = 0;
  for (const segment of segments) {
    clock += segment.durationMin;
    if (segment.activity === 'driving' && segment.durationMin > 0) last = clock;
  }
  return { actualMin: last, passedAt: () => withinMin };
}

function longestWithoutBreak(
  segments: readonly DutySegment[],
  limit: Extract<WorkTimeLimit, { kind: 'break-after' }>,
): Most {
  let clock = 0;
  let since = 0;
  let longest = 0;
  let firstPassed: number | null = null;
  let firstPieceTaken = false;
  for (const segment of pausesMerged(segments, limit)) {
    if (counts(segment, limit.of)) {
      if (firstPassed === null && since + segment.durationMin > limit.afterMin)
        firstPassed = clock + (limit.afterMin - since);
      since += segment.durationMin;
      longest = Math.max(longest, since);
    } else if (limit.brokenBy === 'rest' && segment.activity !== 'rest') {
      // Work of another kind neither counts towards the limit nor ends the count.
    } else if (breakSuffices(segment.durationMin, limit, firstPieceTaken)) {
      since = 0;
      firstPieceTaken = false;
    } else if (limit.split && segment.durationMin >= limit.split[0]) {
      firstPieceTaken = true;
    }
    clock += segment.durationMin;
  }
  return { actualMin: longest, passedAt: () => firstPassed };
}

/** Segments in which what counts as a break stands in one piece. */
function pausesMerged(
  segments: readonly DutySegment[],
  limit: Extract<WorkTimeLimit, { kind: 'break-after' }>,
): DutySegment[] {
  const merged: { activity: DutySegment['activity']; durationMin: number }[] = [];
  for (const segment of segments) {
    const pauses = limit.brokenBy === 'anything-else' && !counts(segment, limit.of);
    const activity = pauses ? 'rest' : segment.activity;
    const last = merged.at(-1);
    if (last?.activity === activity) last.durationMin += segment.durationMin;
    else merged.push({ activity, durationMin: segment.durationMin });
  }
  return merged;
}

/** Whether a pause ends the count: whole, or the second piece after a first one; any pause where the law sets no length. */
function breakSuffices(
  durationMin: number,
  limit: Extract<WorkTimeLimit, { kind: 'break-after' }>,
  firstPieceTaken: boolean,
): boolean {
  if (limit.breakMin === null) return durationMin > 0;
  return (
    durationMin >= limit.breakMin ||
    (limit.split !== null && firstPieceTaken && durationMin >= limit.split[1])
  );
}

/**
 * Most work in any span, work rounded up and rest down to whole units before it is laid out: 40 minutes of work count 45, a rest of 12
 * minutes counts nothing.
 */
function mostWorkInSpan(
  segments: readonly DutySegment[],
  limit: Extract<WorkTimeLimit, { kind: 'rolling-work' }>,
): Most {
  const unit = limit.roundToMin;
  const units: boolean[] = [];
  for (const { working, durationMin } of mergedWork(segments)) {
    const length = working ? Math.ceil(durationMin / unit) : Math.floor(durationMin / unit);
    for (let each = 0; each < length; each += 1) units.push(working);
  }
  const span = limit.spanMin / unit;
  let most = 0;
  let mostEndsAt = 0;
  for (let end = 1; end <= units.length; end += 1) {
    const work = units.slice(Math.max(0, end - span), end).filter(Boolean).length;
    if (work > most) {
      most = work;
      mostEndsAt = end;
    }
  }
  return { actualMin: most * unit, passedAt: () => mostEndsAt * unit };
}

function mergedWork(segments: readonly DutySegment[]): { working: boolean; durationMin: number }[] {
  const merged: { working: boolean; durationMin: number }[] = [];
  for (const segment of segments) {
    const working = segment.activity !== 'rest';
    const last = merged.at(-1);
    if (last && last.working === working) last.durationMin += segment.durationMin;
    else merged.push({ working, durationMin: segment.durationMin });
  }
  return merged;
}
