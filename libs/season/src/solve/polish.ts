import type { PlanState } from './plan-state.ts';

/** Rounds over all jobs before polishing stops even if it still gains. */
const MOST_ROUNDS = 10;

/**
 * Small exact improvements to a finished answer: each crew is timed anew, and each job is tried in every crew and out of the plan; a change
 * is kept only if the exact cost of the whole plan falls.
 */
export function polish(state: PlanState): void {
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const before = state.cost();
    state.holds.bays.settle();
    for (let crew = 0; crew < state.season.crewCount; crew += 1) {
      keepIfCheaper(state, () => state.retime(crew, state.placements.sequences[crew]!));
    }
    for (let job = 0; job < state.season.jobCount; job += 1) moveOne(state, job);
    if (state.cost() >= before) return;
  }
}

function moveOne(state: PlanState, job: number): void {
  for (let crew = 0; crew < state.season.crewCount; crew += 1) {
    keepIfCheaper(state, () => {
      if (state.placements.isPlanned(job)) state.takeOut(job);
      const insertion = state.bestInsertion(crew, job);
      return insertion.position >= 0 && state.putIn(crew, job, insertion.position);
    });
  }
  if (state.placements.isPlanned(job) && !state.season.jobs[job]!.mandatory) {
    keepIfCheaper(state, () => {
      state.takeOut(job);
      return true;
    });
  }
}

function keepIfCheaper(state: PlanState, change: () => boolean): void {
  const before = state.save();
  const cents = state.cost();
  if (!change() || !(state.cost() < cents)) state.restore(before);
}
