import type { Binding } from '../plan.ts';
import { timeFixedStarts, withVisit } from './fixed-starts.ts';
import type { PlanState } from './plan-state.ts';
import { barTo, fixedVisits } from './reasons.ts';

/** So many reasons are named for one job. */
const MOST_REASONS = 5;

/**
 * What keeps each visit from starting earlier with its crew, all others staying as they are, the reason nearest to the start first; and
 * for each job that is out what keeps it from every place, the most frequent reason first. By job index.
 */
export function explain(state: PlanState): Binding[][] {
  return state.season.jobs.map((_, job) =>
    state.placements.isPlanned(job) ? reasonsAgainstEarlier(state, job) : reasonsAgainstAny(state, job),
  );
}

/**
 * Moves visits to an earlier day of the same crew wherever that costs no more, all others staying where they are, until there is none.
 * After it, an earlier start that is possible always costs more.
 */
export function pullForward(state: PlanState): void {
  for (let changed = true; changed; ) {
    changed = false;
    for (let job = 0; job < state.season.jobCount; job += 1) {
      if (!state.placements.isPlanned(job)) continue;
      while (pullOne(state, job)) changed = true;
    }
  }
}

function pullOne(state: PlanState, job: number): boolean {
  const before = state.save();
  const cents = state.cost();
  const crew = state.placements.crewOf[job]!;
  const start = state.placements.startOf[job]!;
  state.takeOut(job);
  const earlier = nearestFree(state, crew, job, start);
  if (earlier >= 0) {
    placeFixed(state, crew, job, earlier);
    if (state.cost() <= cents) return true;
  }
  state.restore(before);
  return false;
}

function nearestFree(state: PlanState, crew: number, job: number, start: number): number {
  for (let day = start - 1; day >= 0; day -= 1) if (!barTo(state, crew, job, day)) return day;
  return -1;
}

/** Puts a job that is out on a free place, all others keeping their starts. */
export function placeFixed(state: PlanState, crew: number, job: number, start: number): void {
  const visits = withVisit(fixedVisits(state, crew), { job, start });
  const timing = timeFixedStarts(state.season, crew, visits);
  if (!timing) throw new RangeError('the place is not free');
  state.take(
    crew,
    visits.map((visit, at) => ({ ...visit, fromBase: timing.fromBase[at]! })),
  );
}

function reasonsAgainstEarlier(state: PlanState, job: number): Binding[] {
  const { season, placements } = state;
  const crew = placements.crewOf[job]!;
  const start = placements.startOf[job]!;
  const before = state.save();
  const cents = state.cost();
  const standbyNow = season.jobs[job]!.lostDays[start]!;
  state.takeOut(job);
  const named = new Map<string, Binding>();
  let priced = false;
  for (let day = start - 1; day >= 0 && named.size < MOST_REASONS; day -= 1) {
    const bar = barTo(state, crew, job, day);
    if (bar) {
      // Days on which the crew never works lie before most starts; they are named only if nothing else is.
      if (bar.kind !== 'crewCalendar' && !named.has(bar.kind)) named.set(bar.kind, bar);
    } else if (!priced) {
      priced = true;
      const out = state.save();
      placeFixed(state, crew, job, day);
      const extraCents = state.cost() - cents;
      state.restore(out);
      const kind = season.jobs[job]!.lostDays[day]! > standbyNow ? 'weather' : 'cost';
      named.set(kind, { kind, data: { day: season.problem.firstDay + day, extraCents } });
    }
  }
  state.restore(before);
  if (named.size > 0) return [...named.values()];
  const day = season.problem.firstDay + start - 1;
  return [{ kind: start === 0 ? 'horizon' : 'crewCalendar', data: { day, crew: season.crews[crew]!.id } }];
}

function reasonsAgainstAny(state: PlanState, job: number): Binding[] {
  const { season } = state;
  const counts = new Map<string, { binding: Binding; days: number }>();
  for (let crew = 0; crew < season.crewCount; crew += 1) {
    for (let start = 0; start < season.dayCount; start += 1) {
      const bar = barTo(state, crew, job, start) ?? dearer(state, crew, job, start);
      if (bar.kind === 'crewCalendar') continue;
      const entry = counts.get(bar.kind);
      if (!entry) counts.set(bar.kind, { binding: bar, days: 1 });
      else {
        entry.days += 1;
        if (
          bar.kind === 'cost' &&
          (bar.data['extraCents'] as number) < (entry.binding.data['extraCents'] as number)
        ) {
          entry.binding = bar;
        }
      }
    }
  }
  return [...counts.values()]
    .sort((a, b) => Number(b.binding.kind === 'cost') - Number(a.binding.kind === 'cost') || b.days - a.days)
    .slice(0, MOST_REASONS)
    .map(({ binding, days }) => ({ kind: binding.kind, data: { ...binding.data, days } }));
}

/** A place that is free, with what it would add to the plan that leaves the job out. */
function dearer(state: PlanState, crew: number, job: number, start: number): Binding {
  const before = state.save();
  const cents = state.cost();
  placeFixed(state, crew, job, start);
  const extraCents = state.cost() - cents;
  state.restore(before);
  const data = { day: state.season.problem.firstDay + start, crew: state.season.crews[crew]!.id, extraCents };
  return { kind: 'cost', data };
}
