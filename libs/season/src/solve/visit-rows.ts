import type { CompiledSeason } from '../compile/compiled-season.ts';
import { allOpen } from '../compile/resources.ts';
import type { ResourceHolds } from './resource-holds.ts';

const NEVER = Number.POSITIVE_INFINITY;

/** What a visit would hold on a slot, chosen as cheap as the other crews leave it. */
export interface SlotChoice {
  readonly lift: number;
  readonly units: readonly number[];
  readonly casuals: Int16Array;
}

/**
 * For each crew and job the cost of the visit as a function of its start day, given what the *other* crews hold; Infinity where
 * the visit cannot be. Visits of one crew never meet, so within a crew these rows are exact but for hires and bays that its
 * own visits share. A row is worked out when it is asked for and kept until something that it rests on changes.
 */
export class VisitRows {
  private readonly season: CompiledSeason;
  private readonly holds: ResourceHolds;
  private readonly cents: Float64Array;
  /** Parts of a row that rest on different holds, each with the stamp that it was worked out at (-1: never). */
  private readonly coverPart: Float64Array;
  private readonly liftPart: Float64Array;
  private readonly unitPart: Float64Array;
  private readonly coverStamps: Float64Array;
  private readonly liftStamps: Float64Array;
  private readonly unitStamps: Float64Array;
  private readonly bayStamps: Float64Array;
  /** Rises when the values of a row really change. */
  private readonly versions: Float64Array;
  private readonly needsCover: Uint8Array;
  /** The change count of the holds at which a row was last found fresh. */
  private readonly checkedAt: Float64Array;
  private readonly longestStay: Int16Array;
  private readonly unitFree: Uint8Array;
  private readonly allowedFrom: Int16Array;
  private readonly allowedTo: Int16Array;
  private readonly firstOpen: Int16Array;
  private readonly lastOpen: Int16Array;
  private readonly outCents: Float64Array;
  private readonly bayCents: Float64Array;

  constructor(season: CompiledSeason, holds: ResourceHolds) {
    this.season = season;
    this.holds = holds;
    const rows = season.crewCount * season.jobCount;
    const table = (): Float64Array => new Float64Array(rows * season.dayCount);
    const stamps = (): Float64Array => new Float64Array(rows).fill(-1);
    [this.cents, this.coverPart, this.liftPart, this.unitPart] = [table(), table(), table(), table()];
    [this.coverStamps, this.liftStamps, this.unitStamps, this.bayStamps] = [
      stamps(),
      stamps(),
      stamps(),
      stamps(),
    ];
    this.versions = new Float64Array(rows);
    this.checkedAt = stamps();
    this.longestStay = new Int16Array(rows);
    this.unitFree = new Uint8Array(season.dayCount);
    this.allowedFrom = new Int16Array(season.jobCount);
    this.allowedTo = new Int16Array(season.jobCount).fill(season.dayCount - 1);
    for (let slot = 0; slot < season.slots.bar.length; slot += 1) {
      if (season.slots.bar[slot] !== 0) continue;
      const row = Math.floor(slot / season.dayCount);
      const stay = season.slots.release[slot]! - (slot % season.dayCount);
      this.longestStay[row] = Math.max(this.longestStay[row]!, stay);
    }
    this.needsCover = new Uint8Array(rows);
    for (let slot = 0; slot < season.slots.cover.length; slot += 1) {
      if (season.slots.bar[slot] === 0 && season.slots.cover[slot] !== 0) {
        this.needsCover[Math.floor(slot / season.dayCount)] = 1;
      }
    }
    this.firstOpen = new Int16Array(rows);
    this.lastOpen = new Int16Array(rows);
    this.outCents = new Float64Array(rows);
    this.bayCents = new Float64Array(season.dayCount + 1);
  }

  /** Lets a job start only on these days, both included, until `allow` is called; how the search tries out a date. */
  restrict(job: number, from: number, to: number): void {
    this.allowedFrom[job] = from;
    this.allowedTo[job] = to;
    this.forget(job);
  }

  /** Lifts the restriction of a job. */
  allow(job: number): void {
    this.restrict(job, 0, this.season.dayCount - 1);
  }

  private forget(job: number): void {
    for (let crew = 0; crew < this.season.crewCount; crew += 1) {
      const row = crew * this.season.jobCount + job;
      this.checkedAt[row] = -1;
      this.bayStamps[row] = -1;
    }
  }

  /** Costs by start day, read from `offset` on. */
  get values(): Float64Array {
    return this.cents;
  }

  /** Makes the row fresh; gives its version, which rises when its values change. */
  refresh(crew: number, job: number): number {
    const { season, holds } = this;
    const row = crew * season.jobCount + job;
    const { changeCount } = holds;
    if (this.checkedAt[row] === changeCount) return this.versions[row]!;
    this.checkedAt[row] = changeCount;
    const { liftType, equipmentChoices, warehouse } = season.jobs[job]!;
    let stale = false;
    if (this.needsCover[row]) {
      const stamp = holds.casualStamp(crew);
      if (stamp !== this.coverStamps[row]) {
        this.coverStamps[row] = stamp;
        stale = this.buildCovers(crew, row) || stale;
      }
    }
    if (liftType >= 0) {
      const stamp = holds.liftStamp(crew, liftType);
      if (stamp !== this.liftStamps[row]) {
        this.liftStamps[row] = stamp;
        stale = this.buildLifts(crew, job, row) || stale;
      }
    }
    if (equipmentChoices.length > 0) {
      const stamp = holds.unitStamp(crew, equipmentChoices);
      if (stamp !== this.unitStamps[row]) {
        this.unitStamps[row] = stamp;
        stale = this.buildUnits(crew, job, row) || stale;
      }
    }
    const bayStamp = warehouse >= 0 ? holds.bays.version[warehouse]! : 0;
    if (stale || bayStamp !== this.bayStamps[row]) {
      this.bayStamps[row] = bayStamp;
      this.sum(job, row);
      this.versions[row] = this.versions[row]! + 1;
    }
    return this.versions[row]!;
  }

  offset(crew: number, job: number): number {
    return (crew * this.season.jobCount + job) * this.season.dayCount;
  }

  /** First start day with a finite cost; after `last` if there is none. */
  first(crew: number, job: number): number {
    return this.firstOpen[crew * this.season.jobCount + job]!;
  }

  last(crew: number, job: number): number {
    return this.lastOpen[crew * this.season.jobCount + job]!;
  }

  /** Cost of leaving the job out, with its bays to the end; measured like the row. */
  leftOutCents(crew: number, job: number): number {
    return this.outCents[crew * this.season.jobCount + job]!;
  }

  /** What the visit would hold on this slot; null if it cannot be. `ignoredCrew`: whose holds count as absent. */
  choose(crew: number, job: number, start: number, ignoredCrew: number): SlotChoice | null {
    const { season, holds } = this;
    const slot = this.offset(crew, job) + start;
    if (season.slots.bar[slot] !== 0) return null;
    const release = season.slots.release[slot]!;
    const { liftType, equipmentChoices } = season.jobs[job]!;
    const list = season.covers[season.slots.cover[slot]!]!;
    const casuals = list.sets.find((set) => holds.casualBlocker(set, start, release, crew) < 0);
    if (!casuals) return null;
    const lift =
      liftType < 0 ? { unit: -1, cents: 0 } : this.cheapestLift(crew, job, start, slot, ignoredCrew);
    if (lift.cents === NEVER) return null;
    const units: number[] = [];
    for (const choices of equipmentChoices) {
      const unit = choices.find((each) => this.unitIsFree(each, crew, job, start, release));
      if (unit === undefined) return null;
      units.push(unit);
    }
    return { lift: lift.unit, units, casuals };
  }

  /** Everything that the visit could hold on this slot beside what the other crews hold; for exhaustive search. */
  allChoices(crew: number, job: number, start: number): SlotChoice[] {
    const { season, holds } = this;
    const slot = this.offset(crew, job) + start;
    if (season.slots.bar[slot] !== 0) return [];
    const release = season.slots.release[slot]!;
    const { liftType, liftUnits, equipmentChoices } = season.jobs[job]!;
    const sets = season.covers[season.slots.cover[slot]!]!.sets.filter(
      (set) => holds.casualBlocker(set, start, release, crew) < 0,
    );
    const lifts =
      liftType < 0 ? [-1] : liftUnits.filter((unit) => holds.lifts.addedCents(unit, slot, crew) !== NEVER);
    const units = equipmentChoices.reduce<number[][]>(
      (lists, choices) =>
        lists.flatMap((list) =>
          choices
            .filter((unit) => this.unitIsFree(unit, crew, job, start, release))
            .map((unit) => [...list, unit]),
        ),
      [[]],
    );
    return sets.flatMap((casuals) =>
      lifts.flatMap((lift) => units.map((list) => ({ lift, units: list, casuals }))),
    );
  }

  private sum(job: number, row: number): void {
    const { season, holds, cents, bayCents } = this;
    const { bar, ownCents } = season.slots;
    const { warehouse, dispatch, notPlannedCents } = season.jobs[job]!;
    const base = row * season.dayCount;
    if (warehouse >= 0) holds.bays.marginalCents(job, bayCents);
    let first = season.dayCount;
    let last = -1;
    for (let start = 0; start < season.dayCount; start += 1) {
      const slot = base + start;
      let value = NEVER;
      if (bar[slot] === 0 && start >= this.allowedFrom[job]! && start <= this.allowedTo[job]!) {
        value = ownCents[slot]! + this.coverPart[slot]! + this.liftPart[slot]! + this.unitPart[slot]!;
        if (warehouse >= 0) value += bayCents[dispatch[start]!]!;
        if (value !== NEVER) {
          if (last < 0) first = start;
          last = start;
        }
      }
      cents[slot] = value;
    }
    this.firstOpen[row] = first;
    this.lastOpen[row] = last;
    this.outCents[row] = notPlannedCents + (warehouse >= 0 ? bayCents[season.dayCount]! : 0);
  }

  /** These three work a part of a row out anew and say whether it changed. */
  private buildCovers(crew: number, row: number): boolean {
    const { bar, cover, release } = this.season.slots;
    const base = row * this.season.dayCount;
    let changed = false;
    for (let start = 0; start < this.season.dayCount; start += 1) {
      const slot = base + start;
      if (bar[slot] !== 0 || cover[slot] === 0) continue;
      const value = this.coverCents(slot, start, release[slot]!, crew);
      changed ||= value !== this.coverPart[slot];
      this.coverPart[slot] = value;
    }
    return changed;
  }

  private buildLifts(crew: number, job: number, row: number): boolean {
    const { season } = this;
    const { bar } = season.slots;
    const { lostDays, liftUnits } = season.jobs[job]!;
    const { standbyDayCents } = season.crews[crew]!;
    const base = row * season.dayCount;
    let changed = false;
    for (let start = 0; start < season.dayCount; start += 1) {
      const slot = base + start;
      if (bar[slot] !== 0) continue;
      let value = NEVER;
      for (let at = 0; at < liftUnits.length; at += 1) {
        const unit = liftUnits[at]!;
        const standby = Math.round(lostDays[start]! * (standbyDayCents + season.lifts[unit]!.dayCents));
        value = Math.min(value, this.holds.lifts.addedCents(unit, slot, crew) + standby);
      }
      changed ||= value !== this.liftPart[slot];
      this.liftPart[slot] = value;
    }
    return changed;
  }

  private buildUnits(crew: number, job: number, row: number): boolean {
    const { season, unitFree } = this;
    const { bar } = season.slots;
    const base = row * season.dayCount;
    let changed = false;
    unitFree.fill(1);
    for (const choices of season.jobs[job]!.equipmentChoices) this.keepWhereFree(choices, crew, job, row);
    for (let start = 0; start < season.dayCount; start += 1) {
      const slot = base + start;
      if (bar[slot] !== 0) continue;
      const value = unitFree[start] === 1 ? 0 : NEVER;
      changed ||= value !== this.unitPart[slot];
      this.unitPart[slot] = value;
    }
    return changed;
  }

  /** Clears `unitFree` on the starts on which none of these units can be had. */
  private keepWhereFree(choices: readonly number[], crew: number, job: number, row: number): void {
    const { season, unitFree } = this;
    const { bar, release } = season.slots;
    const base = row * season.dayCount;
    const free = new Uint8Array(season.dayCount);
    for (const unit of choices) {
      const before = season.equipment[unit]!.usableBefore;
      const blocked = this.holds.unitBlockedStarts(unit, crew, job, release, base, this.longestStay[row]!);
      for (let start = 0; start < season.dayCount; start += 1) {
        const slot = base + start;
        if (bar[slot] === 0 && blocked[start] === 0 && allOpen(before, start, release[slot]!))
          free[start] = 1;
      }
    }
    for (let start = 0; start < season.dayCount; start += 1)
      unitFree[start] = unitFree[start]! & free[start]!;
  }

  private coverCents(slot: number, start: number, release: number, crew: number): number {
    const list = this.season.covers[this.season.slots.cover[slot]!]!;
    for (let at = 0; at < list.sets.length; at += 1) {
      if (this.holds.casualBlocker(list.sets[at]!, start, release, crew) < 0) return list.cents[at]!;
    }
    return NEVER;
  }

  private cheapestLift(
    crew: number,
    job: number,
    start: number,
    slot: number,
    ignoredCrew: number,
  ): { unit: number; cents: number } {
    const { season } = this;
    const lost = season.jobs[job]!.lostDays[start]!;
    let unit = -1;
    let cents = NEVER;
    for (const lift of season.jobs[job]!.liftUnits) {
      const added = this.holds.lifts.addedCents(lift, slot, ignoredCrew);
      if (added === NEVER) continue;
      const standby = Math.round(lost * (season.crews[crew]!.standbyDayCents + season.lifts[lift]!.dayCents));
      if (added + standby < cents) {
        unit = lift;
        cents = added + standby;
      }
    }
    return { unit, cents };
  }

  /** Whether a unit is usable over the stay and other crews leave it. */
  unitIsFree(unit: number, crew: number, job: number, start: number, release: number): boolean {
    return (
      allOpen(this.season.equipment[unit]!.usableBefore, start, release) &&
      this.holds.unitBlocker(unit, crew, job, start, release) < 0
    );
  }
}
