import type { DayClock } from './site-day.ts';
import type { OutsideStep } from './site-day-work.ts';
import type { StepHours } from './step-hours.ts';

/** The work cannot be closed on that day, whenever it begins. */
export const NEVER_CLOSES = Number.NEGATIVE_INFINITY;

/** Places the steps of a day from the last to the first, each as late as it can be; unknown hours are not workable. */
export class LatestClose {
  readonly #hours: StepHours;
  readonly #start: Int32Array;
  readonly #end: Int32Array;

  constructor(hours: StepHours) {
    this.#hours = hours;
    this.#start = new Int32Array(hours.steps.length);
    this.#end = new Int32Array(hours.steps.length);
  }

  /**
   * The latest minute at which the work may begin and still be closed that day. Open times are not looked at while placing; null where the result
   * breaks one: then the answer has to be searched for.
   */
  startOf(day: number, clock: DayClock): number | null {
    const { steps } = this.#hours;
    let latestEnd = clock.shiftToMin;
    for (let at = steps.length - 1; at >= 0; at -= 1) {
      if (!this.#place(at, day, clock, latestEnd)) return NEVER_CLOSES;
      latestEnd = (this.#start[at] as number) - (steps[at] as OutsideStep).lagMin;
    }
    for (let at = 1; at < steps.length; at += 1) {
      const { maxLagMin } = steps[at] as OutsideStep;
      if (maxLagMin !== null && (this.#start[at] as number) - (this.#end[at - 1] as number) > maxLagMin)
        return null;
    }
    return this.#start[0] as number;
  }

  #place(at: number, day: number, clock: DayClock, latestEnd: number): boolean {
    const step = this.#hours.steps[at] as OutsideStep;
    const { needsDaylight } = step.limits;
    const from = needsDaylight ? Math.max(clock.shiftFromMin, clock.lightFromMin) : clock.shiftFromMin;
    let end = needsDaylight ? Math.min(latestEnd, clock.lightToMin) : latestEnd;
    while (end - step.durationMin >= from) {
      const earlier = this.#earlierEnd(at, day, end, from);
      if (earlier === end) {
        this.#end[at] = end;
        return true;
      }
      end = earlier;
    }
    return false;
  }

  /** The same end where the step can be done up to it, with its start kept; else the next earlier end worth trying. */
  #earlierEnd(at: number, day: number, end: number, from: number): number {
    const { durationMin, dryAfterMin, interruptible } = this.#hours.steps[at] as OutsideStep;
    for (let minute = end; minute < end + dryAfterMin; minute = (Math.floor(minute / 60) + 1) * 60)
      if (!this.#hours.dry(at, hourOf(day, minute), true)) return Math.floor(minute / 60) * 60 - dryAfterMin;
    let left = durationMin;
    let minute = end;
    while (left > 0) {
      const hourStart = Math.floor((minute - 1) / 60) * 60;
      const workable = this.#hours.workable(at, hourOf(day, minute - 1), true);
      if (!workable && (!interruptible || left === durationMin)) return hourStart;
      const piece = workable ? Math.min(left, minute - Math.max(hourStart, from)) : 0;
      left -= piece;
      minute = workable && left === 0 ? minute - piece : Math.max(hourStart, from);
      if (left > 0 && minute <= from) return NEVER_CLOSES;
    }
    this.#start[at] = minute;
    return end;
  }
}

function hourOf(day: number, minute: number): number {
  return day * 24 + Math.floor(minute / 60);
}
