import type { CompiledSeason } from '../compile/compiled-season.ts';

const NOBODY = new Int16Array(0);

/** Where each job is at the moment: plain arrays by job. */
export class Placements {
  readonly season: CompiledSeason;
  /** -1: not planned. */
  readonly crewOf: Int16Array;
  readonly startOf: Int16Array;
  /** -1: none. */
  readonly liftOf: Int16Array;
  /** Unit for each of the job's equipment kinds. */
  readonly unitsOf: number[][];
  readonly casualsOf: Int16Array[];
  /** Whether the crew comes from its base; only read for planned jobs. */
  readonly fromBase: Uint8Array;
  /** The jobs of each crew in the order of their starts. */
  readonly sequences: number[][];

  constructor(season: CompiledSeason) {
    this.season = season;
    const { jobCount, crewCount } = season;
    this.crewOf = new Int16Array(jobCount).fill(-1);
    this.startOf = new Int16Array(jobCount).fill(-1);
    this.liftOf = new Int16Array(jobCount).fill(-1);
    this.unitsOf = Array.from({ length: jobCount }, () => []);
    this.casualsOf = Array.from({ length: jobCount }, () => NOBODY);
    this.fromBase = new Uint8Array(jobCount).fill(1);
    this.sequences = Array.from({ length: crewCount }, () => []);
  }

  isPlanned(job: number): boolean {
    return this.crewOf[job]! >= 0;
  }

  slotOf(job: number): number {
    const { jobCount, dayCount } = this.season;
    return (this.crewOf[job]! * jobCount + job) * dayCount + this.startOf[job]!;
  }

  releaseOf(job: number): number {
    return this.season.slots.release[this.slotOf(job)]!;
  }
}

/** A whole answer that can be kept, sent to another thread and taken up again. */
export interface PlacementSnapshot {
  readonly crewOf: Int16Array;
  readonly startOf: Int16Array;
  readonly liftOf: Int16Array;
  readonly unitsOf: readonly (readonly number[])[];
  readonly casualsOf: readonly Int16Array[];
  readonly fromBase: Uint8Array;
  readonly sequences: readonly (readonly number[])[];
}

export function snapshotOf(placements: Placements): PlacementSnapshot {
  return {
    crewOf: placements.crewOf.slice(),
    startOf: placements.startOf.slice(),
    liftOf: placements.liftOf.slice(),
    unitsOf: placements.unitsOf.slice(),
    casualsOf: placements.casualsOf.slice(),
    fromBase: placements.fromBase.slice(),
    sequences: placements.sequences.map((sequence) => sequence.slice()),
  };
}
