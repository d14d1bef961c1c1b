import type { ResourceProject } from './resource-project.ts';

/** Makes schedules of one project by placing activities one by one, each as early as its predecessors and the resources allow. */
export class SerialScheduler {
  readonly #project: ResourceProject;
  readonly #resources: number;
  readonly #free: Int32Array;
  readonly #horizon: number;
  #usedUntil = 0;

  constructor(project: ResourceProject) {
    this.#project = project;
    this.#resources = project.capacities.length;
    this.#horizon = project.durations.reduce((sum, duration) => sum + duration, 0) + 1;
    this.#free = new Int32Array(this.#horizon * this.#resources);
    this.#usedUntil = this.#horizon;
  }

  /** Places the activities in the order of `list`, which must keep every "before"; fills `starts` and gives the end of the last. */
  place(list: Int32Array, starts: Int32Array): number {
    const { durations, predecessors, demands, capacities } = this.#project;
    const resources = this.#resources;
    const free = this.#free;
    for (let time = 0; time < this.#usedUntil; time += 1)
      for (let resource = 0; resource < resources; resource += 1)
        free[time * resources + resource] = capacities[resource] as number;
    let makespan = 0;
    for (let at = 0; at < list.length; at += 1) {
      const activity = list[at] as number;
      const duration = durations[activity] as number;
      let start = 0;
      const before = predecessors[activity] as Int32Array;
      for (let nth = 0; nth < before.length; nth += 1) {
        const other = before[nth] as number;
        const end = (starts[other] as number) + (durations[other] as number);
        if (end > start) start = end;
      }
      const demand = activity * resources;
      // Looks from the back of the stretch: the last unit that is too full is the first after which it may fit.
      for (let time = start + duration - 1; time >= start; time -= 1) {
        for (let resource = 0; resource < resources; resource += 1)
          if ((free[time * resources + resource] as number) < (demands[demand + resource] as number)) {
            start = time + 1;
            time = start + duration;
            break;
          }
      }
      starts[activity] = start;
      const end = start + duration;
      for (let time = start; time < end; time += 1)
        for (let resource = 0; resource < resources; resource += 1)
          free[time * resources + resource] =
            (free[time * resources + resource] as number) - (demands[demand + resource] as number);
      if (end > makespan) makespan = end;
    }
    this.#usedUntil = makespan + 1;
    return makespan;
  }

  /** Capacity of all resources in use at each unit of a schedule, as shares summed over the resources. */
  loadOf(starts: Int32Array, makespan: number, load: Float64Array): void {
    const { durations, demands, capacities } = this.#project;
    load.fill(0, 0, makespan);
    durations.forEach((duration, activity) => {
      let share = 0;
      for (let resource = 0; resource < this.#resources; resource += 1)
        if ((capacities[resource] as number) > 0)
          share +=
            (demands[activity * this.#resources + resource] as number) / (capacities[resource] as number);
      const start = starts[activity] as number;
      for (let time = start; time < start + duration; time += 1) load[time] = (load[time] as number) + share;
    });
  }

  get horizon(): number {
    return this.#horizon;
  }
}
