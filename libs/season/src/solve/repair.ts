import type { Rng } from '../../../kernel/src/index.ts';
import type { Operator } from '../../../search/src/index.ts';
import type { PlanState } from './plan-state.ts';

export interface RepairOptions {
  /** How many crews the regret looks at: 1 takes the cheapest insertion first, k weighs what waiting would lose. */
  readonly regret: number;
  /** Cents by which an insertion may look cheaper or dearer than it is; 0: none. */
  readonly noiseCents: number;
}

/** How far from its last date a job may be tried. */
const DATE_REACH_DAYS = 12;

interface Candidate {
  stamp: number;
  position: number;
  addedCents: number;
  rankCents: number;
}

/**
 * Regret insertion: puts jobs that are out into the plan, one at a time, each where it adds least, first the one that would lose most if
 * it had to wait. A job that costs less when it is left out stays out, and one without a valid place too.
 */
export function regretInsertion(
  state: PlanState,
  jobs: readonly number[],
  options: RepairOptions,
  rng: Rng,
): void {
  const { crewCount } = state.season;
  const left = new Set(jobs);
  state.tighten();
  const table = new Map<number, Candidate[]>(
    jobs.map((job) => [job, Array.from({ length: crewCount }, () => emptyCandidate())]),
  );
  while (left.size > 0) {
    let chosen = { job: -1, crew: -1, regret: Number.NEGATIVE_INFINITY, rankCents: Number.POSITIVE_INFINITY };
    for (const job of left) {
      const candidates = table.get(job)!;
      for (let crew = 0; crew < crewCount; crew += 1)
        refreshCandidate(state, job, crew, candidates[crew]!, options, rng);
      const offer = bestOffer(candidates, options.regret);
      if (!offer) continue;
      if (
        offer.regret > chosen.regret ||
        (offer.regret === chosen.regret && offer.rankCents < chosen.rankCents)
      ) {
        chosen = { job, ...offer };
      }
    }
    if (chosen.job < 0) return;
    const candidate = table.get(chosen.job)![chosen.crew]!;
    if (state.putIn(chosen.crew, chosen.job, candidate.position)) {
      left.delete(chosen.job);
    } else {
      candidate.addedCents = Number.POSITIVE_INFINITY;
      candidate.rankCents = Number.POSITIVE_INFINITY;
    }
  }
}

/** Repair operators for the search: over all jobs that are out. */
export function repairers(state: PlanState, noiseCents: number): Operator[] {
  const operator = (name: string, options: RepairOptions): Operator => ({
    name,
    apply: (rng) => regretInsertion(state, state.unplanned(), options, rng),
  });
  return [
    operator('cheapest', { regret: 1, noiseCents: 0 }),
    operator('cheapest with noise', { regret: 1, noiseCents }),
    operator('regret 2', { regret: 2, noiseCents: 0 }),
    operator('regret 2 with noise', { regret: 2, noiseCents }),
    operator('regret 3 with noise', { regret: 3, noiseCents }),
    {
      name: 'one on a drawn date, then regret 2',
      apply(rng) {
        putOneOnDrawnDate(state, rng);
        regretInsertion(state, state.unplanned(), { regret: 2, noiseCents: 0 }, rng);
      },
    },
  ];
}

/**
 * Puts one job that is out near a date drawn at random round its last one, wherever that is cheapest. Visits that could share a lift's
 * trip, or a day at a site near by, often have to move together; a visit on an unusual date lets the others find it.
 */
function putOneOnDrawnDate(state: PlanState, rng: Rng): void {
  const out = state.unplanned();
  if (out.length === 0) return;
  state.tighten();
  const job = rng.pick(out);
  const { dayCount, crewCount } = state.season;
  const last = state.lastStart[job]!;
  const centre =
    last < 0 ? rng.integer(0, dayCount - 1) : last + rng.integer(-DATE_REACH_DAYS, DATE_REACH_DAYS);
  state.rows.restrict(job, Math.max(0, centre - 1), Math.min(dayCount - 1, centre + 1));
  let best = { crew: -1, position: -1, addedCents: 0 };
  for (let crew = 0; crew < crewCount; crew += 1) {
    const { position, addedCents } = state.bestInsertion(crew, job);
    if (addedCents < best.addedCents) best = { crew, position, addedCents };
  }
  if (best.crew >= 0) state.putIn(best.crew, job, best.position);
  state.rows.allow(job);
}

function emptyCandidate(): Candidate {
  return {
    stamp: -1,
    position: -1,
    addedCents: Number.POSITIVE_INFINITY,
    rankCents: Number.POSITIVE_INFINITY,
  };
}

function refreshCandidate(
  state: PlanState,
  job: number,
  crew: number,
  candidate: Candidate,
  options: RepairOptions,
  rng: Rng,
): void {
  const stamp = state.insertionStamp(crew, job);
  if (candidate.stamp === stamp) return;
  const insertion = state.bestInsertion(crew, job);
  candidate.stamp = stamp;
  candidate.position = insertion.position;
  candidate.addedCents = insertion.addedCents;
  const noise = options.noiseCents === 0 ? 0 : options.noiseCents * (2 * rng.uniform() - 1);
  candidate.rankCents = insertion.addedCents + noise;
}

function bestOffer(
  candidates: readonly Candidate[],
  regretDepth: number,
): { crew: number; regret: number; rankCents: number } | null {
  let crew = -1;
  for (let at = 0; at < candidates.length; at += 1) {
    const candidate = candidates[at]!;
    // Measured against leaving the job out, which is what 0 stands for.
    if (candidate.addedCents >= 0) continue;
    if (crew < 0 || candidate.rankCents < candidates[crew]!.rankCents) crew = at;
  }
  if (crew < 0) return null;
  const least = candidates[crew]!.rankCents;
  if (regretDepth <= 1) return { crew, regret: -least, rankCents: least };
  const ranks = candidates.map((candidate) => Math.min(0, candidate.rankCents)).sort((a, b) => a - b);
  let regret = 0;
  for (let at = 1; at < regretDepth; at += 1) regret += (ranks[at] ?? 0) - least;
  return { crew, regret, rankCents: least };
}
