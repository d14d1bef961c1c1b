import { DryspellError } from '../../kernel/src/index.ts';

/**
 * A project whose activities share renewable resources: each runs without a pause for its whole length, takes its demand of each resource all the while,
 * and starts after the activities before it have ended. Times are whole units.
 */
export interface ResourceProject {
  readonly durations: Int32Array;
  /** Activities that must have ended before; by activity. */
  readonly predecessors: readonly Int32Array[];
  readonly successors: readonly Int32Array[];
  /** Demand of activity i of resource r at `i * capacities.length + r`. */
  readonly demands: Int32Array;
  readonly capacities: Int32Array;
}

/** What a project is made of; successors by activity, demands by activity and resource. */
export interface ResourceProjectParts {
  readonly durations: readonly number[];
  readonly successors: readonly (readonly number[])[];
  readonly demands: readonly (readonly number[])[];
  readonly capacities: readonly number[];
}

/**
 * Checks the parts and lays them out. Throws `invalid-input` where an activity asks for more of a resource than there is, the order goes in a circle, or
 * numbers are not whole and 0 or more.
 */
export function resourceProject({
  durations,
  successors,
  demands,
  capacities,
}: ResourceProjectParts): ResourceProject {
  const count = durations.length;
  const wrong = (field: string, value: unknown, expected: string): never => {
    throw new DryspellError('invalid-input', { field, value: String(value), expected });
  };
  const whole = (value: number): boolean => Number.isInteger(value) && value >= 0;
  if (successors.length !== count || demands.length !== count)
    wrong(
      'activities',
      `${count}, ${successors.length}, ${demands.length}`,
      'as many lengths as orders and demands',
    );
  const before: number[][] = durations.map(() => []);
  durations.forEach((duration, activity) => {
    if (!whole(duration)) wrong(`duration of ${activity + 1}`, duration, 'a whole number, 0 or more');
    for (const after of successors[activity] as readonly number[]) {
      if (!(whole(after) && after < count)) wrong(`successor of ${activity + 1}`, after + 1, `1 to ${count}`);
      (before[after] as number[]).push(activity);
    }
    const own = demands[activity] as readonly number[];
    if (own.length !== capacities.length)
      wrong(`demands of ${activity + 1}`, own.length, `${capacities.length} numbers`);
    own.forEach((demand, resource) => {
      if (!whole(demand)) wrong(`demand of ${activity + 1}`, demand, 'a whole number, 0 or more');
      if (demand > (capacities[resource] as number) && duration > 0)
        wrong(
          `demand of ${activity + 1} of resource ${resource + 1}`,
          demand,
          `at most the ${capacities[resource]} there are`,
        );
    });
  });
  const project = {
    durations: Int32Array.from(durations),
    predecessors: before.map((list) => Int32Array.from(list)),
    successors: successors.map((list) => Int32Array.from(list)),
    demands: Int32Array.from(demands.flat()),
    capacities: Int32Array.from(capacities),
  };
  if (inOrder(project) === null) wrong('order', 'a circle', 'an order without circles');
  return project;
}

/** The same project read from its end: what came after comes before. */
export function reversed(project: ResourceProject): ResourceProject {
  return { ...project, predecessors: project.successors, successors: project.predecessors };
}

/** Activities in an order that keeps every "before"; null where the order goes in a circle. */
export function inOrder({ predecessors, successors }: ResourceProject): number[] | null {
  const waiting = predecessors.map((list) => list.length);
  const ready = waiting.flatMap((count, activity) => (count === 0 ? [activity] : []));
  for (let at = 0; at < ready.length; at += 1)
    for (const after of successors[ready[at] as number] as Int32Array) {
      waiting[after] = (waiting[after] as number) - 1;
      if (waiting[after] === 0) ready.push(after);
    }
  return ready.length === predecessors.length ? ready : null;
}

/** Length of the longest chain through each activity to the end of the project, itself included. */
export function tailLengths(project: ResourceProject): Int32Array {
  const tails = Int32Array.from(project.durations);
  for (const activity of (inOrder(project) as number[]).reverse()) {
    let longest = 0;
    for (const after of project.successors[activity] as Int32Array)
      longest = Math.max(longest, tails[after] as number);
    tails[activity] = (project.durations[activity] as number) + longest;
  }
  return tails;
}

/** The finish if resources were endless: no schedule is shorter. */
export function criticalPathLength(project: ResourceProject): number {
  return Math.max(0, ...tailLengths(project));
}

/** A schedule: when each activity starts, and when the last one ends. */
export interface ProjectSchedule {
  readonly starts: Int32Array;
  readonly makespan: number;
}

/** What a schedule breaks, in words; empty when nothing. Looks at every unit of time by itself and knows nothing of how schedules are made. */
export function brokenRules(project: ResourceProject, { starts, makespan }: ProjectSchedule): string[] {
  const broken: string[] = [];
  const { durations, successors, demands, capacities } = project;
  durations.forEach((duration, activity) => {
    const end = (starts[activity] as number) + duration;
    if ((starts[activity] as number) < 0) broken.push(`${activity + 1} starts before the project`);
    if (end > makespan) broken.push(`${activity + 1} ends at ${end}, after the end ${makespan}`);
    for (const after of successors[activity] as Int32Array)
      if ((starts[after] as number) < end)
        broken.push(`${after + 1} starts before ${activity + 1} has ended`);
  });
  for (let time = 0; time < makespan; time += 1)
    capacities.forEach((capacity, resource) => {
      let used = 0;
      durations.forEach((duration, activity) => {
        const start = starts[activity] as number;
        if (start <= time && time < start + duration)
          used += demands[activity * capacities.length + resource] as number;
      });
      if (used > capacity)
        broken.push(`at ${time} resource ${resource + 1} is used ${used} times of ${capacity}`);
    });
  return broken;
}
