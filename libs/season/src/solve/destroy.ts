import type { Rng } from '../../../kernel/src/index.ts';
import type { Operator } from '../../../search/src/index.ts';
import { jobCents } from './exact-cost.ts';
import type { PlanState } from './plan-state.ts';

/** The ways in which the search takes part of a plan out. Jobs with one possible place only are never touched. */
export function destroyers(state: PlanState): Operator[] {
  const movable = movableJobs(state);
  const operator = (
    name: string,
    choose: (jobs: number[], count: number, rng: Rng) => number[],
  ): Operator => ({
    name,
    apply(rng) {
      state.holds.bays.settle();
      const planned = movable.filter((job) => state.placements.isPlanned(job));
      if (planned.length === 0) return;
      const most = Math.min(planned.length, Math.max(3, Math.min(10, Math.round(planned.length * 0.35))));
      const count = Math.min(planned.length, 1 + Math.floor(rng.uniform() ** 1.5 * most));
      for (const job of choose(planned, count, rng)) state.takeOut(job);
    },
  });
  return [
    operator('at random', (jobs, count, rng) => rng.shuffle(jobs).slice(0, count)),
    operator('near in place', (jobs, count, rng) =>
      nearest(state, jobs, count, rng, { place: 1, time: 0.15 }),
    ),
    operator('near in time', (jobs, count, rng) => nearest(state, jobs, count, rng, { place: 0.1, time: 1 })),
    operator('near in place and time', (jobs, count, rng) =>
      nearest(state, jobs, count, rng, { place: 1, time: 1 }),
    ),
    operator('dearest', (jobs, count, rng) => dearest(state, jobs, count, rng)),
    operator('same goods', (jobs, count, rng) => sharing(state, jobs, count, rng, 'goods')),
    operator('same lift', (jobs, count, rng) => sharing(state, jobs, count, rng, 'lift')),
    operator('stretch of a crew', (jobs, count, rng) => stretch(state, jobs, count, rng)),
    operator('whole crew', (jobs, _count, rng) => wholeCrew(state, jobs, rng)),
  ];
}

function movableJobs(state: PlanState): number[] {
  const { season } = state;
  const movable: number[] = [];
  for (let job = 0; job < season.jobCount; job += 1) {
    let open = 0;
    for (let crew = 0; crew < season.crewCount && open < 2; crew += 1) {
      const row = (crew * season.jobCount + job) * season.dayCount;
      for (let start = 0; start < season.dayCount; start += 1)
        if (season.slots.bar[row + start] === 0) open += 1;
    }
    if (open > 1) movable.push(job);
  }
  return movable;
}

/** Takes mostly the front of an ordered list: rank r with a chance that falls steeply. */
function pickByRank(ordered: number[], count: number, rng: Rng): number[] {
  const left = [...ordered];
  const picked: number[] = [];
  while (picked.length < count && left.length > 0) {
    const at = Math.floor(rng.uniform() ** 4 * left.length);
    picked.push(...left.splice(at, 1));
  }
  return picked;
}

function nearest(
  state: PlanState,
  jobs: number[],
  count: number,
  rng: Rng,
  weights: { place: number; time: number },
): number[] {
  const seed = rng.pick(jobs);
  const { season, placements } = state;
  const from = season.jobs[seed]!.site * season.placeCount;
  const longest = jobs.reduce((most, job) => Math.max(most, season.km[from + season.jobs[job]!.site]!), 1);
  const distance = (job: number): number =>
    (weights.place * season.km[from + season.jobs[job]!.site]!) / longest +
    (weights.time * Math.abs(placements.startOf[job]! - placements.startOf[seed]!)) / season.dayCount;
  const ordered = jobs
    .filter((job) => job !== seed)
    .map((job) => ({ job, distance: distance(job) }))
    .sort((a, b) => a.distance - b.distance || a.job - b.job)
    .map((entry) => entry.job);
  return [seed, ...pickByRank(ordered, count - 1, rng)];
}

function dearest(state: PlanState, jobs: number[], count: number, rng: Rng): number[] {
  const ordered = jobs
    .map((job) => ({ job, cents: jobCents(state.placements, job) + detourCents(state, job) }))
    .sort((a, b) => b.cents - a.cents || a.job - b.job)
    .map((entry) => entry.job);
  return pickByRank(ordered, count, rng);
}

/** Roughly what the way to and from a job costs: its legs less the leg that would replace them. */
function detourCents(state: PlanState, job: number): number {
  const { season, placements } = state;
  const crew = season.crews[placements.crewOf[job]!]!;
  const sequence = placements.sequences[placements.crewOf[job]!]!;
  const at = sequence.indexOf(job);
  const next = sequence[at + 1];
  const from = placements.fromBase[job] ? crew.base : season.jobs[sequence[at - 1]!]!.site;
  const to = next === undefined || placements.fromBase[next] ? crew.base : season.jobs[next]!.site;
  const site = season.jobs[job]!.site;
  const leg = (a: number, b: number): number => crew.legCents[a * season.placeCount + b]!;
  return leg(from, site) + leg(site, to) - leg(from, to);
}

/** Jobs that stand in one warehouse or hold one type of lift, those near in time to one of them first. */
function sharing(
  state: PlanState,
  jobs: number[],
  count: number,
  rng: Rng,
  what: 'goods' | 'lift',
): number[] {
  const { season, placements } = state;
  const groupOf = (job: number): number =>
    what === 'goods' ? season.jobs[job]!.warehouse : season.jobs[job]!.liftType;
  const inGroup = jobs.filter((job) => groupOf(job) >= 0);
  if (inGroup.length === 0) return rng.shuffle(jobs).slice(0, count);
  const seed = rng.pick(inGroup);
  const apart = (job: number): number =>
    what === 'goods'
      ? Math.abs(season.jobs[job]!.bayFrom - season.jobs[seed]!.bayFrom)
      : Math.abs(placements.startOf[job]! - placements.startOf[seed]!);
  const ordered = inGroup
    .filter((job) => groupOf(job) === groupOf(seed))
    .sort((a, b) => apart(a) - apart(b) || a - b);
  return pickByRank(ordered, count, rng);
}

function stretch(state: PlanState, jobs: number[], count: number, rng: Rng): number[] {
  const movable = new Set(jobs);
  const sequence = state.placements.sequences[state.placements.crewOf[rng.pick(jobs)]!]!.filter((job) =>
    movable.has(job),
  );
  const length = Math.min(sequence.length, count);
  const from = rng.integer(0, sequence.length - length);
  return sequence.slice(from, from + length);
}

function wholeCrew(state: PlanState, jobs: number[], rng: Rng): number[] {
  const crew = state.placements.crewOf[rng.pick(jobs)]!;
  const own = jobs.filter((job) => state.placements.crewOf[job] === crew);
  // A very long sequence is taken apart in half of its jobs: repairing all of them takes long and is seldom kept.
  return own.length <= 14 ? own : rng.shuffle(own).slice(0, 14);
}
