import type { CompiledSeason } from '../compile/compiled-season.ts';
import { BayUsage } from './bay-usage.ts';
import { LiftHire } from './lift-hire.ts';
import type { Placements } from './placements.ts';

/**
 * What the planned visits hold: lift units, equipment units, casual hands, bays. Each change raises the version of what was touched,
 * so that what was worked out from it can be told to be stale.
 */
export class ResourceHolds {
  readonly lifts: LiftHire;
  readonly bays: BayUsage;
  private readonly season: CompiledSeason;
  private readonly placements: Placements;
  private readonly unitJobs: number[][];
  private readonly casualHolder: Int16Array;
  /** Versions by group: lift types, then equipment units, then casual hands as one; total and the part caused by each crew. */
  private readonly changes: Float64Array;
  private readonly changesByCrew: Float64Array;
  private readonly liftTypeCount: number;
  private touches = 0;

  constructor(placements: Placements) {
    this.season = placements.season;
    this.placements = placements;
    this.lifts = new LiftHire(placements);
    this.bays = new BayUsage(this.season);
    this.unitJobs = this.season.equipment.map(() => []);
    this.casualHolder = new Int16Array(this.season.casuals.length * this.season.dayCount).fill(-1);
    this.liftTypeCount = this.season.lifts.reduce((most, lift) => Math.max(most, lift.type + 1), 0);
    const groups = this.liftTypeCount + this.season.equipment.length + 1;
    this.changes = new Float64Array(groups);
    this.changesByCrew = new Float64Array(groups * this.season.crewCount);
  }

  /** Rises with every change of anything that a cost row can rest on. */
  get changeCount(): number {
    return this.touches + this.bays.changeCount;
  }

  /** Rises when another crew takes or leaves a lift unit of the type. */
  liftStamp(crew: number, liftType: number): number {
    return liftType < this.liftTypeCount ? this.changesBesides(liftType, crew) : 0;
  }

  /** Rises when another crew takes or leaves one of these equipment units. */
  unitStamp(crew: number, choices: readonly (readonly number[])[]): number {
    let stamp = 0;
    for (const units of choices) {
      for (const unit of units) stamp += this.changesBesides(this.liftTypeCount + unit, crew);
    }
    return stamp;
  }

  /** Rises when another crew takes or leaves a casual hand. */
  casualStamp(crew: number): number {
    return this.changesBesides(this.liftTypeCount + this.season.equipment.length, crew);
  }

  /** Holds what the job's present placement says (`sign` 1), or lets it go (`sign` -1). */
  change(job: number, sign: 1 | -1): void {
    const { placements, season } = this;
    const slot = placements.slotOf(job);
    const crew = placements.crewOf[job]!;
    const start = placements.startOf[job]!;
    const mark = sign === 1 ? job : -1;
    const lift = placements.liftOf[job]!;
    if (lift >= 0) {
      this.lifts.mark(lift, slot, mark);
      this.touch(season.lifts[lift]!.type, crew);
    }
    for (const unit of placements.unitsOf[job]!) {
      const jobs = this.unitJobs[unit]!;
      if (sign === 1) jobs.push(job);
      else jobs.splice(jobs.indexOf(job), 1);
      this.touch(this.liftTypeCount + unit, crew);
    }
    const casuals = placements.casualsOf[job]!;
    for (const casual of casuals) {
      const row = casual * season.dayCount;
      this.casualHolder.fill(mark, row + start, row + season.slots.release[slot]! + 1);
    }
    if (casuals.length > 0) this.touch(this.liftTypeCount + season.equipment.length, crew);
    if (season.jobs[job]!.warehouse >= 0) {
      this.bays.moveTo(job, sign === 1 ? season.jobs[job]!.dispatch[start]! : season.dayCount);
    }
  }

  /** Whether all casual hands of a set are free of other crews over the stay; -1 or the first job that holds one of them. */
  casualBlocker(set: Int16Array, start: number, release: number, crew: number): number {
    for (const casual of set) {
      const row = casual * this.season.dayCount;
      for (let day = start; day <= release; day += 1) {
        const job = this.casualHolder[row + day]!;
        if (job >= 0 && this.placements.crewOf[job] !== crew) return job;
      }
    }
    return -1;
  }

  /**
   * The job of another crew that keeps a unit from this stay, -1: none. Between crews the unit must have time to travel; that is asked
   * of every pair and not only of neighbours, so that taking a visit out never breaks the others.
   */
  unitBlocker(unit: number, crew: number, job: number, start: number, release: number): number {
    const { season, placements } = this;
    const site = season.jobs[job]!.site;
    for (const other of this.unitJobs[unit]!) {
      const otherCrew = placements.crewOf[other]!;
      if (otherCrew === crew) continue;
      const otherSite = season.jobs[other]!.site;
      const toThere = season.crews[crew]!.travelDays[otherSite * season.placeCount + site]!;
      if (start >= placements.releaseOf(other) + toThere + 1) continue;
      const toOther = season.crews[otherCrew]!.travelDays[site * season.placeCount + otherSite]!;
      if (placements.startOf[other]! >= release + toOther + 1) continue;
      return other;
    }
    return -1;
  }

  /**
   * The start days on which other crews keep a unit from a job: 1 where blocked. `release` is read from `base` on by start day, and no
   * stay is longer than `longestStay`. The same rule as `unitBlocker`, for all starts at once.
   */
  unitBlockedStarts(
    unit: number,
    crew: number,
    job: number,
    release: Int16Array,
    base: number,
    longestStay: number,
  ): Uint8Array {
    const { season, placements } = this;
    const blocked = new Uint8Array(season.dayCount);
    const site = season.jobs[job]!.site;
    for (const other of this.unitJobs[unit]!) {
      const otherCrew = placements.crewOf[other]!;
      if (otherCrew === crew) continue;
      const otherSite = season.jobs[other]!.site;
      const free =
        placements.releaseOf(other) +
        season.crews[crew]!.travelDays[otherSite * season.placeCount + site]! +
        1;
      const due =
        placements.startOf[other]! -
        season.crews[otherCrew]!.travelDays[site * season.placeCount + otherSite]! -
        1;
      for (let start = Math.max(0, due - longestStay); start < Math.min(free, season.dayCount); start += 1) {
        if (release[base + start]! > due) blocked[start] = 1;
      }
    }
    return blocked;
  }

  private touch(group: number, crew: number): void {
    this.touches += 1;
    this.changes[group] = this.changes[group]! + 1;
    const at = group * this.season.crewCount + crew;
    this.changesByCrew[at] = this.changesByCrew[at]! + 1;
  }

  private changesBesides(group: number, crew: number): number {
    return this.changes[group]! - this.changesByCrew[group * this.season.crewCount + crew]!;
  }
}
