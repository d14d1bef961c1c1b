import type { Verdict } from '../../kernel/src/index.ts';

/** What a team may be reckoned to lift together. */
export interface TeamLift {
  readonly verdict: Verdict;
  /** What the team may be reckoned to lift; null when it cannot be said. */
  readonly capacityKg: number | null;
  /** Why it cannot be said: something unknown, nobody there, or a team for which the guideline has no figure. */
  readonly reason: 'unknown' | 'nobody' | 'assess-specifically' | null;
  readonly cautionKey: 'lifting.team';
}

/**
 * Whether a team may be reckoned to lift a load: one person, what the person can; two, two thirds of the sum of what each can
 * alone; three, half of it. There is no figure for four or more, so that cannot be said: it needs its own assessment.
 * Masses in kg; an unknown mass or capability is null and gives `cannot say`. The figure supposes good grips for all, room to move
 * and people of like height. It is a filter for a closer look, not a legal limit.
 * Source: HSE guidance L23 on the Manual Handling Operations Regulations, paragraph 120 (Great Britain).
 */
export function teamLift(massKg: number | null, capabilitiesKg: readonly (number | null)[]): TeamLift {
  const cannot = (reason: TeamLift['reason']): TeamLift => ({
    verdict: 'cannot say',
    capacityKg: null,
    reason,
    cautionKey: 'lifting.team',
  });
  if (capabilitiesKg.length === 0) return cannot('nobody');
  if (capabilitiesKg.length > 3) return cannot('assess-specifically');
  if (massKg === null || capabilitiesKg.includes(null)) return cannot('unknown');
  const sumKg = (capabilitiesKg as number[]).reduce((sum, each) => sum + each, 0);
  const capacityKg = sumKg * ([1, 2 / 3, 1 / 2][capabilitiesKg.length - 1] as number);
  return {
    verdict: massKg <= capacityKg + 1e-9 ? 'ok' : 'not ok',
    capacityKg,
    reason: null,
    cautionKey: 'lifting.team',
  };
}

/**
 * The fewest people of one capability who may be reckoned to lift a load, 1 to 3; null when three are not enough or something is
 * unknown: then a lift, or an assessment of its own.
 */
export function fewestHandsForLoad(massKg: number | null, capabilityKg: number | null): number | null {
  for (const people of [1, 2, 3]) {
    if (teamLift(massKg, new Array(people).fill(capabilityKg)).verdict === 'ok') return people;
  }
  return null;
}
