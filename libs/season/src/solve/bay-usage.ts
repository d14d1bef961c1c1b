import type { CompiledSeason } from '../compile/compiled-season.ts';

/** How many bays of each warehouse are used on each day, exactly, and what one more job would add. */
export class BayUsage {
  private readonly season: CompiledSeason;
  private readonly used: Int32Array;
  /** The first day on which the goods of each job are no longer there. */
  private readonly goneFrom: Int16Array;
  /**
   * A settled picture of the usage, against which marginal costs are measured while jobs are taken out and put back; without it
   * goods of jobs that are out for a moment would seem to fill the warehouse to the end of the season.
   */
  private readonly settledUsed: Int32Array;
  private readonly settledGone: Int16Array;
  /** Rises with each change of the settled picture, by warehouse. */
  readonly version: Float64Array;
  /** Rises with each change of the settled picture of any warehouse. */
  changeCount = 0;

  constructor(season: CompiledSeason) {
    this.season = season;
    this.used = new Int32Array(season.warehouses.length * season.dayCount);
    this.goneFrom = Int16Array.from(season.jobs, (job) => job.bayFrom);
    this.settledUsed = new Int32Array(this.used.length);
    this.settledGone = Int16Array.from(season.jobs, (job) => Math.min(job.bayFrom, season.dayCount));
    this.version = new Float64Array(season.warehouses.length);
    for (let job = 0; job < season.jobCount; job += 1) this.moveTo(job, season.dayCount);
  }

  /** From now on the goods of the job are gone from this day on (`dayCount`: they stay to the end). */
  moveTo(job: number, goneFrom: number): void {
    const { warehouse, bays, bayFrom } = this.season.jobs[job]!;
    if (warehouse < 0) return;
    const row = warehouse * this.season.dayCount;
    const old = this.goneFrom[job]!;
    const gone = Math.max(bayFrom, goneFrom);
    for (let day = old; day < gone; day += 1) this.used[row + day] = this.used[row + day]! + bays;
    for (let day = gone; day < old; day += 1) this.used[row + day] = this.used[row + day]! - bays;
    this.goneFrom[job] = gone;
  }

  /** Takes the present usage as the settled picture. */
  settle(): void {
    const { dayCount, warehouses } = this.season;
    for (let warehouse = 0; warehouse < warehouses.length; warehouse += 1) {
      let same = true;
      for (let at = warehouse * dayCount; at < (warehouse + 1) * dayCount; at += 1) {
        if (this.settledUsed[at] !== this.used[at]) {
          this.settledUsed[at] = this.used[at]!;
          same = false;
        }
      }
      if (!same) {
        this.version[warehouse] = this.version[warehouse]! + 1;
        this.changeCount += 1;
      }
    }
    this.settledGone.set(this.goneFrom);
  }

  /** Fills `out[d]`, d = 0..dayCount, with what the job's goods add if they are gone from day d on, measured on the settled picture. */
  marginalCents(job: number, out: Float64Array): void {
    const { warehouse, bays, bayFrom } = this.season.jobs[job]!;
    const { dayCount } = this.season;
    out.fill(0);
    let sum = 0;
    for (let day = Math.min(bayFrom, dayCount); day < dayCount; day += 1) {
      const own = day < this.settledGone[job]! ? bays : 0;
      const others = this.settledUsed[warehouse * dayCount + day]! - own;
      sum += this.dayCents(warehouse, others + bays) - this.dayCents(warehouse, others);
      out[day + 1] = sum;
    }
  }

  /** Exact cents of one warehouse: bays inside and overflow. */
  warehouseCents(warehouse: number): { inside: number; overflow: number } {
    const { dayCount, warehouses } = this.season;
    const { bays, bayDayCents, overflowCents } = warehouses[warehouse]!;
    let inside = 0;
    let overflow = 0;
    for (let day = 0; day < dayCount; day += 1) {
      const used = this.used[warehouse * dayCount + day]!;
      inside += Math.min(used, bays) * bayDayCents;
      overflow += Math.max(0, used - bays) * overflowCents;
    }
    return { inside, overflow };
  }

  private dayCents(warehouse: number, used: number): number {
    const { bays, bayDayCents, overflowCents } = this.season.warehouses[warehouse]!;
    return Math.min(used, bays) * bayDayCents + Math.max(0, used - bays) * overflowCents;
  }
}
