import { DryspellError } from '../../../kernel/src/index.ts';
import type { CompiledSeason } from '../compile/compiled-season.ts';
import { CrewTiming, type TimedVisit } from './crew-timing.ts';
import { jobCents, routeCents } from './exact-cost.ts';
import { bestInsertion, type Insertion } from './insertion.ts';
import { type PlacementSnapshot, Placements, snapshotOf } from './placements.ts';
import { ResourceHolds } from './resource-holds.ts';
import { type SlotChoice, VisitRows } from './visit-rows.ts';

/** Cost that the search counts for a pinned or frozen job which is left out; such a plan is never handed out. */
export const MANDATORY_OUT_CENTS = 1e12;

/**
 * The answer that the search works on: always a valid plan of the jobs that are in it, with its exact cost. It is changed by taking jobs
 * out, by putting one in at a position of a crew, and by timing a crew anew.
 */
export class PlanState {
  readonly season: CompiledSeason;
  readonly placements: Placements;
  readonly holds: ResourceHolds;
  readonly rows: VisitRows;
  private readonly timings: CrewTiming[];
  private readonly sequenceVersion: Float64Array;
  /** Crews that lost a visit and have not been timed since: where they go home is not settled. */
  private readonly loose: Uint8Array;
  /** The start that each job had when it was last taken out, -1: never. */
  readonly lastStart: Int16Array;

  constructor(season: CompiledSeason) {
    this.season = season;
    this.placements = new Placements(season);
    this.holds = new ResourceHolds(this.placements);
    this.rows = new VisitRows(season, this.holds);
    this.timings = season.crews.map((_, crew) => new CrewTiming(season, this.rows, crew));
    this.sequenceVersion = new Float64Array(season.crewCount);
    this.loose = new Uint8Array(season.crewCount);
    this.lastStart = new Int16Array(season.jobCount).fill(-1);
  }

  /**
   * Exact cost in cents by the formulas of the README; a mandatory job that is out counts `MANDATORY_OUT_CENTS` more. Infinity if a crew
   * that lost a visit cannot be timed without it (possible where the way round is shorter than the straight one).
   */
  cost(): number {
    if (!this.tighten()) return Number.POSITIVE_INFINITY;
    const { season, placements, holds } = this;
    let cents = 0;
    for (let job = 0; job < season.jobCount; job += 1) {
      cents += jobCents(placements, job);
      if (!placements.isPlanned(job) && season.jobs[job]!.mandatory) cents += MANDATORY_OUT_CENTS;
    }
    for (let crew = 0; crew < season.crewCount; crew += 1) {
      const route = routeCents(placements, crew);
      cents += route.km + route.nights + route.travelDays;
    }
    for (let lift = 0; lift < season.lifts.length; lift += 1) cents += holds.lifts.unitCents(lift);
    for (let warehouse = 0; warehouse < season.warehouses.length; warehouse += 1) {
      const { inside, overflow } = holds.bays.warehouseCents(warehouse);
      cents += inside + overflow;
    }
    return cents;
  }

  save(): PlacementSnapshot {
    return snapshotOf(this.placements);
  }

  /** Goes back to a saved answer; what did not change keeps what was worked out from it. */
  restore(snapshot: PlacementSnapshot): void {
    const { placements, season } = this;
    const differing: number[] = [];
    for (let job = 0; job < season.jobCount; job += 1) {
      if (!samePlacement(placements, snapshot, job)) differing.push(job);
    }
    for (const job of differing) if (placements.isPlanned(job)) this.holds.change(job, -1);
    for (const job of differing) {
      placements.crewOf[job] = snapshot.crewOf[job]!;
      placements.startOf[job] = snapshot.startOf[job]!;
      placements.liftOf[job] = snapshot.liftOf[job]!;
      placements.unitsOf[job] = [...snapshot.unitsOf[job]!];
      placements.casualsOf[job] = snapshot.casualsOf[job]!;
    }
    for (const job of differing) if (placements.isPlanned(job)) this.holds.change(job, 1);
    placements.fromBase.set(snapshot.fromBase);
    this.loose.fill(0);
    for (let crew = 0; crew < season.crewCount; crew += 1) {
      const now = placements.sequences[crew]!;
      const then = snapshot.sequences[crew]!;
      if (now.length === then.length && now.every((job, at) => job === then[at])) continue;
      placements.sequences[crew] = [...then];
      this.sequenceVersion[crew] = this.sequenceVersion[crew]! + 1;
    }
  }

  /** The jobs that are not planned, in order. */
  unplanned(): number[] {
    const jobs: number[] = [];
    for (let job = 0; job < this.season.jobCount; job += 1)
      if (!this.placements.isPlanned(job)) jobs.push(job);
    return jobs;
  }

  /** Times each crew anew that lost a visit. False if one cannot be timed; it stays as it is then. */
  tighten(): boolean {
    let possible = true;
    for (let crew = 0; crew < this.season.crewCount; crew += 1) {
      if (this.loose[crew]) possible = this.retime(crew, this.placements.sequences[crew]!) && possible;
    }
    return possible;
  }

  /** Takes a planned job out; the others keep their starts until the crew is timed anew. */
  takeOut(job: number): void {
    const { placements } = this;
    const crew = placements.crewOf[job]!;
    this.holds.change(job, -1);
    this.lastStart[job] = placements.startOf[job]!;
    const sequence = placements.sequences[crew]!;
    sequence.splice(sequence.indexOf(job), 1);
    placements.crewOf[job] = -1;
    placements.startOf[job] = -1;
    placements.liftOf[job] = -1;
    placements.unitsOf[job] = [];
    placements.casualsOf[job] = new Int16Array(0);
    this.loose[crew] = 1;
    this.sequenceVersion[crew] = this.sequenceVersion[crew]! + 1;
  }

  /** The timing of a crew's present sequence, worked out anew only where something changed. */
  timing(crew: number): CrewTiming {
    this.timings[crew]!.load(this.placements.sequences[crew]!);
    return this.timings[crew]!;
  }

  /** A number that changes whenever the best insertion of the job into the crew may have changed. */
  insertionStamp(crew: number, job: number): number {
    let stamp = this.sequenceVersion[crew]! + this.rows.refresh(crew, job);
    for (const other of this.placements.sequences[crew]!) stamp += this.rows.refresh(crew, other);
    return stamp;
  }

  /** The cheapest insertion of a job into a crew's sequence and what it adds to leaving the job out; Infinity: none. */
  bestInsertion(crew: number, job: number): Insertion & { readonly addedCents: number } {
    this.rows.refresh(crew, job);
    if (this.rows.last(crew, job) < 0) return NO_INSERTION;
    const timing = this.timing(crew);
    if (timing.cents === Number.POSITIVE_INFINITY) return NO_INSERTION;
    const leftOut =
      this.rows.leftOutCents(crew, job) + (this.season.jobs[job]!.mandatory ? MANDATORY_OUT_CENTS : 0);
    const found = bestInsertion(timing, job, timing.cents + leftOut);
    return { ...found, addedCents: found.cents - timing.cents - leftOut };
  }

  /** Puts a job in at a position of the crew's sequence and times the crew anew. False, with nothing changed, if it cannot be. */
  putIn(crew: number, job: number, position: number): boolean {
    const sequence = [...this.placements.sequences[crew]!];
    sequence.splice(position, 0, job);
    return this.retime(crew, sequence);
  }

  /** Times a crew anew on this sequence, which holds its planned jobs and perhaps new ones. False, with nothing changed, if it cannot be. */
  retime(crew: number, sequence: readonly number[]): boolean {
    this.timings[crew]!.loadAhead(sequence);
    const visits = this.timings[crew]!.read();
    if (!visits) return false;
    this.take(crew, visits);
    return true;
  }

  /** Gives a crew these visits; each start must be possible beside what the other crews hold, and the sequence must be feasible. */
  take(crew: number, visits: readonly TimedVisit[]): void {
    const { placements } = this;
    const stays = visits.map(({ job, start }) => this.staysAsItIs(crew, job, start));
    const kept = new Set(visits.flatMap((visit, at) => (stays[at] ? [visit.job] : [])));
    const moved = placements.sequences[crew]!.filter((job) => !kept.has(job));
    for (const job of moved) this.holds.change(job, -1);
    for (const job of moved) placements.crewOf[job] = -1;
    placements.sequences[crew] = visits.map((visit) => visit.job);
    this.loose[crew] = 0;
    this.sequenceVersion[crew] = this.sequenceVersion[crew]! + 1;
    for (const [at, { job, start, fromBase }] of visits.entries()) {
      placements.fromBase[job] = fromBase ? 1 : 0;
      if (stays[at]) continue;
      const choice = this.rows.choose(crew, job, start, -1);
      if (!choice) throw new DryspellError('internal', { job: this.season.jobs[job]!.id, start });
      this.hold(crew, job, start, choice);
    }
  }

  /** Puts a job that is out into a crew's visits with the holds given, all others keeping theirs. */
  placeWith(
    crew: number,
    visits: readonly { readonly job: number; readonly start: number }[],
    fromBase: readonly boolean[],
    job: number,
    choice: SlotChoice,
  ): void {
    const { placements } = this;
    placements.sequences[crew] = visits.map((visit) => visit.job);
    this.loose[crew] = 0;
    this.sequenceVersion[crew] = this.sequenceVersion[crew]! + 1;
    for (const [at, visit] of visits.entries()) placements.fromBase[visit.job] = fromBase[at] ? 1 : 0;
    this.hold(crew, job, visits.find((visit) => visit.job === job)!.start, choice);
  }

  private hold(crew: number, job: number, start: number, choice: SlotChoice): void {
    const { placements } = this;
    placements.crewOf[job] = crew;
    placements.startOf[job] = start;
    placements.liftOf[job] = choice.lift;
    placements.unitsOf[job] = [...choice.units];
    placements.casualsOf[job] = choice.casuals;
    this.holds.change(job, 1);
  }

  /** Whether a visit keeps its start and no better lift or casual hands have become free for it. */
  private staysAsItIs(crew: number, job: number, start: number): boolean {
    const { placements } = this;
    if (placements.crewOf[job] !== crew || placements.startOf[job] !== start) return false;
    if (placements.liftOf[job]! < 0 && placements.casualsOf[job]!.length === 0) return true;
    const choice = this.rows.choose(crew, job, start, crew);
    return (
      choice !== null &&
      choice.lift === placements.liftOf[job] &&
      sameSet(choice.casuals, placements.casualsOf[job]!)
    );
  }
}

function sameSet(a: Int16Array, b: Int16Array): boolean {
  return a.length === b.length && a.every((member, at) => member === b[at]);
}

const NO_INSERTION = {
  cents: Number.POSITIVE_INFINITY,
  position: -1,
  addedCents: Number.POSITIVE_INFINITY,
} as const;

function samePlacement(placements: Placements, snapshot: PlacementSnapshot, job: number): boolean {
  return (
    placements.crewOf[job] === snapshot.crewOf[job] &&
    placements.startOf[job] === snapshot.startOf[job] &&
    placements.liftOf[job] === snapshot.liftOf[job] &&
    placements.unitsOf[job]!.every((unit, at) => unit === snapshot.unitsOf[job]![at]) &&
    sameSet(placements.casualsOf[job]!, snapshot.casualsOf[job]!)
  );
}
