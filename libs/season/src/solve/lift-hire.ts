import type { CompiledSeason } from '../compile/compiled-season.ts';
import type { Placements } from './placements.ts';

/**
 * Who stands at each lift unit on each day, and what its hires cost. A hire is a run of visits whose held spans follow each
 * other without a free day; such visits share one mobilising trip.
 */
export class LiftHire {
  private readonly season: CompiledSeason;
  private readonly placements: Placements;
  /** Job by [unit * dayCount + day], -1: free. */
  readonly holder: Int16Array;

  constructor(placements: Placements) {
    this.season = placements.season;
    this.placements = placements;
    this.holder = new Int16Array(this.season.lifts.length * this.season.dayCount).fill(-1);
  }

  /** Marks (or with -1 frees) the held span of a slot at a unit. */
  mark(unit: number, slot: number, job: number): void {
    const { liftFrom, liftHeldTo } = this.season.slots;
    const row = unit * this.season.dayCount;
    this.holder.fill(job, row + liftFrom[slot]!, row + liftHeldTo[slot]! + 1);
  }

  /** Cost of all hires of one unit. */
  unitCents(unit: number): number {
    const { dayCount } = this.season;
    let cents = 0;
    let run: number[] = [];
    for (let day = 0; day <= dayCount; ) {
      const job = day < dayCount ? this.holder[unit * dayCount + day]! : -1;
      if (job >= 0) {
        run.push(this.placements.slotOf(job));
        day = this.season.slots.liftHeldTo[this.placements.slotOf(job)]! + 1;
        continue;
      }
      if (run.length > 0) cents += this.runCents(unit, run);
      run = [];
      day += 1;
    }
    return cents;
  }

  /**
   * What the hires of a unit cost more if it also stood at this slot; Infinity if it is not free then or not available.
   * Visits of `ignoredCrew` (-1: none) count as absent: they are about to be timed anew.
   */
  addedCents(unit: number, slot: number, ignoredCrew: number): number {
    const { slots, lifts, dayCount } = this.season;
    const from = slots.liftFrom[slot]!;
    const to = slots.liftHeldTo[slot]!;
    const available = lifts[unit]!.availableBefore;
    if (available[to + 1]! - available[from]! !== to - from + 1) return Number.POSITIVE_INFINITY;
    const row = unit * dayCount;
    for (let day = from; day <= to; day += 1) {
      if (this.holderBesides(row + day, ignoredCrew) >= 0) return Number.POSITIVE_INFINITY;
    }
    const before = from > 0 ? this.holderBesides(row + from - 1, ignoredCrew) : -1;
    const after = to + 1 < dayCount ? this.holderBesides(row + to + 1, ignoredCrew) : -1;
    if (before < 0 && after < 0) return this.aloneCents(unit, slot);
    const left: number[] = [];
    const right: number[] = [];
    for (let job = before; job >= 0; ) {
      const held = this.placements.slotOf(job);
      left.unshift(held);
      const day = slots.liftFrom[held]! - 1;
      job = day >= 0 ? this.holderBesides(row + day, ignoredCrew) : -1;
    }
    for (let job = after; job >= 0; ) {
      const held = this.placements.slotOf(job);
      right.push(held);
      const day = slots.liftHeldTo[held]! + 1;
      job = day < dayCount ? this.holderBesides(row + day, ignoredCrew) : -1;
    }
    const apart =
      (left.length > 0 ? this.runCents(unit, left) : 0) + (right.length > 0 ? this.runCents(unit, right) : 0);
    return this.runCents(unit, [...left, slot, ...right]) - apart;
  }

  /** The first other job that holds a unit within the slot's span, -1: nobody. */
  blockerOf(unit: number, slot: number, ignoredCrew: number): number {
    const { slots, dayCount } = this.season;
    for (let day = slots.liftFrom[slot]!; day <= slots.liftHeldTo[slot]!; day += 1) {
      const job = this.holderBesides(unit * dayCount + day, ignoredCrew);
      if (job >= 0) return job;
    }
    return -1;
  }

  private holderBesides(at: number, ignoredCrew: number): number {
    const job = this.holder[at]!;
    return job >= 0 && this.placements.crewOf[job] !== ignoredCrew ? job : -1;
  }

  /** Cost of a hire of one visit. */
  private aloneCents(unit: number, slot: number): number {
    const { season } = this;
    const { km, placeCount, slots } = season;
    const lift = season.lifts[unit]!;
    const site = season.jobs[Math.floor(slot / season.dayCount) % season.jobCount]!.site;
    const length = km[lift.depot * placeCount + site]! + km[site * placeCount + lift.depot]!;
    const days = slots.liftPaidTo[slot]! - slots.liftFrom[slot]! + 1;
    return (
      Math.round(lift.fixedCents + lift.perKmCents * length) + lift.dayCents * Math.max(lift.minDays, days)
    );
  }

  /** Cost of one hire whose visits are these slots, in order. */
  private runCents(unit: number, run: readonly number[]): number {
    const { season } = this;
    const { slots, km, placeCount } = season;
    const lift = season.lifts[unit]!;
    let at = lift.depot;
    let length = 0;
    for (const slot of run) {
      const site = season.jobs[Math.floor(slot / season.dayCount) % season.jobCount]!.site;
      length += km[at * placeCount + site]!;
      at = site;
    }
    length += km[at * placeCount + lift.depot]!;
    const days = slots.liftPaidTo[run[run.length - 1]!]! - slots.liftFrom[run[0]!]! + 1;
    return (
      Math.round(lift.fixedCents + lift.perKmCents * length) + lift.dayCents * Math.max(lift.minDays, days)
    );
  }
}
