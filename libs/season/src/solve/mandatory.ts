/** Pinned and frozen jobs (rule 9): seats them all, or says which of them clash and why. */
import type { Rng } from '../../../kernel/src/index.ts';
import type { Binding, PlanOutcome } from '../plan.ts';
import { timeFixedStarts, withVisit } from './fixed-starts.ts';
import { MANDATORY_OUT_CENTS, PlanState } from './plan-state.ts';
import { barTo, fixedVisits } from './reasons.ts';
import { regretInsertion } from './repair.ts';

export type Clashes = Extract<PlanOutcome, { kind: 'refused' }>['clashes'];

/** Places that the exhaustive search looks at before it gives up. */
const MOST_TRIALS = 30_000;

/**
 * Plans every pinned and frozen job in an empty state. Null: all of them are in. Otherwise the clashes: single jobs that have no place
 * at all, else pairs, else a smallest group that cannot be kept together. The search for a way out is exhaustive up to a limit; a clash found
 * at the limit carries `searched: 'in part'`.
 */
export function seatMandatory(state: PlanState, rng: Rng): Clashes | null {
  const { season } = state;
  const mandatory = season.jobs.flatMap((job, index) => (job.mandatory ? [index] : []));
  const hopeless = mandatory.filter((job) => openPlaces(state, job).length === 0);
  if (hopeless.length > 0) {
    return hopeless.map((job) => ({ jobs: [season.jobs[job]!.id], bindings: whyNowhere(state, job) }));
  }
  const empty = state.save();
  regretInsertion(state, mandatory, { regret: 2, noiseCents: 0 }, rng);
  if (state.cost() < MANDATORY_OUT_CENTS) return null;
  for (let attempt = 0; attempt < 20; attempt += 1) {
    state.restore(empty);
    regretInsertion(state, mandatory, { regret: 1, noiseCents: MANDATORY_OUT_CENTS / 10 }, rng);
    if (state.cost() < MANDATORY_OUT_CENTS) return null;
  }
  state.restore(empty);
  const all = seatAll(state, mandatory);
  if (all === 'seated') return null;
  const pairs = clashingPairs(state, mandatory);
  return pairs.length > 0 ? pairs : [smallestClash(state, mandatory, all === 'limit')];
}

interface Place {
  readonly crew: number;
  readonly start: number;
}

function openPlaces(state: PlanState, job: number): Place[] {
  const { season } = state;
  const places: Place[] = [];
  for (let start = 0; start < season.dayCount; start += 1) {
    for (let crew = 0; crew < season.crewCount; crew += 1) {
      const slot = (crew * season.jobCount + job) * season.dayCount + start;
      if (season.slots.bar[slot] === 0 && timeFixedStarts(season, crew, [{ job, start }]))
        places.push({ crew, start });
    }
  }
  return places;
}

/** Tries all places of all jobs, and all lift units, equipment units and casual hands at each, until they are seated together. */
function seatAll(state: PlanState, jobs: readonly number[]): 'seated' | 'impossible' | 'limit' {
  const options = jobs
    .map((job) => ({ job, places: openPlaces(state, job) }))
    .sort((a, b) => a.places.length - b.places.length);
  const empty = state.save();
  let trials = 0;
  const seat = (at: number): boolean => {
    if (at === options.length) return true;
    const { job, places } = options[at]!;
    for (const { crew, start } of places) {
      trials += 1;
      if (trials > MOST_TRIALS) return false;
      const visits = withVisit(fixedVisits(state, crew), { job, start });
      const timing = timeFixedStarts(state.season, crew, visits);
      if (!timing) continue;
      for (const choice of state.rows.allChoices(crew, job, start)) {
        const before = state.save();
        state.placeWith(crew, visits, timing.fromBase, job, choice);
        if (seat(at + 1)) return true;
        state.restore(before);
        trials += 1;
        if (trials > MOST_TRIALS) return false;
      }
    }
    return false;
  };
  if (seat(0)) return 'seated';
  state.restore(empty);
  return trials > MOST_TRIALS ? 'limit' : 'impossible';
}

function clashingPairs(state: PlanState, mandatory: readonly number[]): Clashes[number][] {
  const empty = state.save();
  const pairs: Clashes[number][] = [];
  for (const [at, a] of mandatory.entries()) {
    for (const b of mandatory.slice(at + 1)) {
      if (seatAll(state, [a, b]) === 'impossible') pairs.push(clashOf(state, [a, b], false));
      state.restore(empty);
    }
  }
  return pairs;
}

/** Leaves jobs out one by one as long as the rest still cannot be seated. */
function smallestClash(state: PlanState, mandatory: readonly number[], inPart: boolean): Clashes[number] {
  const empty = state.save();
  let group = [...mandatory];
  for (const job of mandatory) {
    const rest = group.filter((other) => other !== job);
    const result = seatAll(state, rest);
    state.restore(empty);
    if (result === 'impossible' || (inPart && result === 'limit')) group = rest;
  }
  return clashOf(state, group, inPart);
}

/** Names a group, with what keeps its last job from each of its places when the others are seated. */
function clashOf(state: PlanState, group: readonly number[], inPart: boolean): Clashes[number] {
  const empty = state.save();
  const last = group[group.length - 1]!;
  seatAll(state, group.slice(0, -1));
  const bindings = whyNowhere(state, last);
  state.restore(empty);
  const jobs = group.map((job) => state.season.jobs[job]!.id);
  return {
    jobs,
    bindings: inPart
      ? bindings.map((one) => ({ ...one, data: { ...one.data, searched: 'in part' } }))
      : bindings,
  };
}

function whyNowhere(state: PlanState, job: number): Binding[] {
  const { season } = state;
  const byKind = new Map<string, Binding>();
  const { pin, published } = season.problem.jobs[job]!;
  for (let crew = 0; crew < season.crewCount; crew += 1) {
    for (let start = 0; start < season.dayCount; start += 1) {
      const bar = barTo(state, crew, job, start);
      if (bar && !byKind.has(bar.kind)) byKind.set(bar.kind, bar);
    }
  }
  // Every other place is barred by the pin or the frozen days themselves; the rest says what stands in the way there.
  const others = [...byKind.values()].filter((bar) => bar.kind !== 'pin' && bar.kind !== 'frozen');
  if (others.length > 0) return others;
  const { firstDay, lastDay } = season.problem;
  const day = pin?.start ?? published?.start;
  if (day != null && (day < firstDay || day > lastDay)) return [{ kind: 'horizon', data: { day } }];
  return [...byKind.values()];
}
