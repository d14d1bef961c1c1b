import type { Rng } from '../../kernel/src/index.ts';
import {
  criticalPathLength,
  type ProjectSchedule,
  type ResourceProject,
  reversed,
  tailLengths,
} from './resource-project.ts';
import { SerialScheduler } from './serial-schedule.ts';

/** How long to search. One schedule is one placing of all activities, forward or backward. */
export interface ProjectSearchOptions {
  readonly schedules: number;
  readonly rng: Rng;
  /** Asked now and then; true ends the search with the best so far. */
  readonly stop?: () => boolean;
}

/** The best schedule found, and what is known of how good it is. */
export interface ProjectSearchResult extends ProjectSchedule {
  /** No schedule is shorter than this: the longest chain, or the work of the busiest resource. */
  readonly lowerBound: number;
  readonly schedules: number;
}

interface Individual {
  readonly starts: Int32Array;
  makespan: number;
}

/**
 * Searches for a short schedule with two populations in turn, one made from the start of the project and one from its end: each child is placed
 * against the direction of its parents, so that every placing also presses the schedule together (forward-backward improvement). A child keeps
 * the order of its mother in the stretch where her resources are busiest, and that of its father elsewhere. Same project, seed and number of
 * schedules: same result. Literature: Debels and Vanhoucke, Operations Research 55 (2007), 457-469; Valls, Ballestin and Quintanilla, EJOR 165
 * (2005), 375-386.
 */
export function searchProject(project: ResourceProject, options: ProjectSearchOptions): ProjectSearchResult {
  return new ProjectSearch(project, options).run();
}

/** The longest chain, or the work of the busiest resource shared out over its capacity, whichever is longer. */
export function projectLowerBound(project: ResourceProject): number {
  const { durations, demands, capacities } = project;
  let bound = criticalPathLength(project);
  capacities.forEach((capacity, resource) => {
    let work = 0;
    durations.forEach((duration, activity) => {
      work += duration * (demands[activity * capacities.length + resource] as number);
    });
    if (capacity > 0) bound = Math.max(bound, Math.ceil(work / capacity));
  });
  return bound;
}

/** By trial on the public instances of 30 and 120 activities at fifty thousand schedules; fewer where the budget is small. */
const populationFor = (schedules: number): number => Math.max(8, Math.min(40, Math.round(schedules / 250)));
const QUIET_GENERATIONS = 20;
const MUTATION_CHANCE = 0.05;

const bestOf = (population: readonly Individual[]): number =>
  population.reduce((best, { makespan }) => Math.min(best, makespan), Number.POSITIVE_INFINITY);

class ProjectSearch {
  readonly #projects: readonly [ResourceProject, ResourceProject];
  readonly #schedulers: readonly [SerialScheduler, SerialScheduler];
  readonly #rng: Rng;
  readonly #budget: number;
  readonly #stop: () => boolean;
  readonly #count: number;
  readonly #lowerBound: number;
  readonly #load: Float64Array;
  readonly #keys: Float64Array;
  readonly #list: Int32Array;
  readonly #waiting: Int32Array;
  readonly #heap: Int32Array;
  #best: ProjectSchedule | null = null;
  #schedules = 0;

  constructor(project: ResourceProject, { schedules, rng, stop = () => false }: ProjectSearchOptions) {
    this.#projects = [project, reversed(project)];
    this.#schedulers = [new SerialScheduler(this.#projects[0]), new SerialScheduler(this.#projects[1])];
    this.#rng = rng;
    this.#budget = schedules;
    this.#stop = stop;
    this.#count = project.durations.length;
    this.#lowerBound = projectLowerBound(project);
    this.#load = new Float64Array(this.#schedulers[0].horizon);
    this.#keys = new Float64Array(this.#count);
    this.#list = new Int32Array(this.#count);
    this.#waiting = new Int32Array(this.#count);
    this.#heap = new Int32Array(this.#count);
  }

  run(): ProjectSearchResult {
    const size = populationFor(this.#budget);
    let parents = this.#firstPopulation(size);
    let direction: 0 | 1 = 0;
    let roundBest = bestOf(parents);
    let quiet = 0;
    while (!this.#done()) {
      parents = this.#generation(parents, direction);
      direction = direction === 0 ? 1 : 0;
      const best = bestOf(parents);
      quiet = best < roundBest ? 0 : quiet + 1;
      roundBest = Math.min(roundBest, best);
      if (quiet <= QUIET_GENERATIONS || this.#done()) continue;
      // A population that has come to rest breeds its like; a new one may find another way.
      parents = this.#firstPopulation(size);
      direction = 0;
      roundBest = bestOf(parents);
      quiet = 0;
    }
    const best = this.#best as ProjectSchedule;
    return { ...best, lowerBound: this.#lowerBound, schedules: this.#schedules };
  }

  #done(): boolean {
    return (
      this.#schedules >= this.#budget ||
      (this.#best !== null && this.#best.makespan <= this.#lowerBound) ||
      (this.#best !== null && this.#schedules % 64 === 0 && this.#stop())
    );
  }

  /** Schedules from the start, by long tails first with a good deal of chance. */
  #firstPopulation(size: number): Individual[] {
    const tails = tailLengths(this.#projects[0]);
    const longest = Math.max(1, ...tails);
    const first: Individual[] = [];
    for (let nth = 0; nth < size && !this.#done(); nth += 1) {
      const spread = nth === 0 ? 0 : 0.15 + 0.5 * this.#rng.uniform();
      for (let activity = 0; activity < this.#count; activity += 1)
        this.#keys[activity] = -(tails[activity] as number) / longest + spread * this.#rng.uniform();
      first.push(this.#placed(0));
    }
    return first;
  }

  /** Children of all parents, placed against their direction. */
  #generation(parents: readonly Individual[], direction: 0 | 1): Individual[] {
    const against: 0 | 1 = direction === 0 ? 1 : 0;
    const children: Individual[] = [];
    for (const father of parents) {
      if (this.#done()) break;
      const mother = this.#tournament(parents);
      const one = this.#child(mother, father, direction, against);
      const two = this.#done() ? one : this.#child(father, mother, direction, against);
      children.push(two.makespan < one.makespan ? two : one);
    }
    return children.length === 0 ? [...parents] : children;
  }

  #tournament(parents: readonly Individual[]): Individual {
    const [a, b] = [this.#rng.pick(parents), this.#rng.pick(parents)];
    return a.makespan <= b.makespan ? a : b;
  }

  #child(mother: Individual, father: Individual, direction: 0 | 1, against: 0 | 1): Individual {
    const { durations } = this.#projects[0];
    const [from, to] = this.#busiest(mother, direction);
    const far = 2 * (mother.makespan + father.makespan);
    for (let activity = 0; activity < this.#count; activity += 1) {
      const duration = durations[activity] as number;
      const motherEnd = (mother.starts[activity] as number) + duration;
      const middle = motherEnd - duration / 2;
      const fatherEnd = (father.starts[activity] as number) + duration;
      // Read from the other end, the last to finish comes first.
      this.#keys[activity] =
        middle >= from && middle <= to ? -motherEnd : -(fatherEnd + (middle < from ? -far : far));
    }
    if (mother === father || this.#rng.uniform() < MUTATION_CHANCE) this.#mutate();
    return this.#placed(against);
  }

  /** Swaps the keys of a few pairs; the order that results is mended where it breaks a "before". */
  #mutate(): void {
    const swaps = 1 + this.#rng.integer(0, Math.max(1, this.#count >> 4));
    for (let swap = 0; swap < swaps; swap += 1) {
      const [a, b] = [this.#rng.integer(0, this.#count - 1), this.#rng.integer(0, this.#count - 1)];
      const key = this.#keys[a] as number;
      this.#keys[a] = this.#keys[b] as number;
      this.#keys[b] = key;
    }
  }

  /** A stretch of a random part of a schedule, laid where the resources are busiest. */
  #busiest({ starts, makespan }: Individual, direction: 0 | 1): [number, number] {
    const load = this.#load;
    this.#schedulers[direction].loadOf(starts, makespan, load);
    const length = Math.max(1, Math.round(makespan * (0.25 + 0.5 * this.#rng.uniform())));
    let sum = 0;
    for (let time = 0; time < length; time += 1) sum += load[time] as number;
    let [most, from] = [sum, 0];
    for (let time = length; time < makespan; time += 1) {
      sum += (load[time] as number) - (load[time - length] as number);
      if (sum > most) [most, from] = [sum, time - length + 1];
    }
    return [from, from + length];
  }

  /** Places all activities by their keys, lowest first, never before what must come before. */
  #placed(direction: 0 | 1): Individual {
    this.#listByKeys(this.#projects[direction]);
    const starts = new Int32Array(this.#count);
    const makespan = this.#schedulers[direction].place(this.#list, starts);
    this.#schedules += 1;
    if (this.#best === null || makespan < this.#best.makespan)
      this.#best = { makespan, starts: direction === 0 ? starts.slice() : this.#turned(starts, makespan) };
    return { starts, makespan };
  }

  #turned(starts: Int32Array, makespan: number): Int32Array {
    const { durations } = this.#projects[0];
    return starts.map((start, activity) => makespan - start - (durations[activity] as number));
  }

  #listByKeys({ predecessors, successors }: ResourceProject): void {
    const keys = this.#keys;
    const heap = this.#heap;
    let size = 0;
    const push = (activity: number): void => {
      let at = size;
      size += 1;
      while (at > 0) {
        const parent = (at - 1) >> 1;
        const above = heap[parent] as number;
        if ((keys[above] as number) <= (keys[activity] as number)) break;
        heap[at] = above;
        at = parent;
      }
      heap[at] = activity;
    };
    const pop = (): number => {
      const top = heap[0] as number;
      size -= 1;
      const last = heap[size] as number;
      let at = 0;
      for (;;) {
        let child = 2 * at + 1;
        if (child >= size) break;
        if (
          child + 1 < size &&
          (keys[heap[child + 1] as number] as number) < (keys[heap[child] as number] as number)
        )
          child += 1;
        if ((keys[heap[child] as number] as number) >= (keys[last] as number)) break;
        heap[at] = heap[child] as number;
        at = child;
      }
      heap[at] = last;
      return top;
    };
    for (let activity = 0; activity < this.#count; activity += 1) {
      const before = (predecessors[activity] as Int32Array).length;
      this.#waiting[activity] = before;
      if (before === 0) push(activity);
    }
    for (let at = 0; at < this.#count; at += 1) {
      const activity = pop();
      this.#list[at] = activity;
      for (const after of successors[activity] as Int32Array) {
        this.#waiting[after] = (this.#waiting[after] as number) - 1;
        if (this.#waiting[after] === 0) push(after);
      }
    }
  }
}
