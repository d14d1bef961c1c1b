import type { CompiledSeason } from '../compile/compiled-season.ts';

export interface FixedVisit {
  readonly job: number;
  readonly start: number;
}

export interface FixedTiming {
  /** Legs and nights, cents, not rounded; the visits' own costs are not in it. */
  readonly cents: number;
  readonly fromBase: readonly boolean[];
}

/**
 * Whether a crew can do these visits on these starts (in their order), and where it best goes home between them; null if it cannot
 * (rules 5 and 6). What the visits hold is not looked at. `maxNights` stands in for the crew's own limit if given.
 */
export function timeFixedStarts(
  season: CompiledSeason,
  crewIndex: number,
  visits: readonly FixedVisit[],
  maxNights = season.crews[crewIndex]!.maxNights,
): FixedTiming | null {
  const crew = season.crews[crewIndex]!;
  const { placeCount, jobCount, dayCount } = season;
  const site = visits.map((visit) => season.jobs[visit.job]!.site);
  const release = visits.map(
    (visit) => season.slots.release[(crewIndex * jobCount + visit.job) * dayCount + visit.start]!,
  );
  const days = (from: number, to: number): number => crew.travelDays[from * placeCount + to]!;
  const leg = (from: number, to: number): number => crew.legCents[from * placeCount + to]!;

  /** Cheapest with the first k visits done and the crew at home, and the day from which it is. */
  const done: ({ cents: number; homeFrom: number; tourFrom: number } | null)[] = [
    { cents: 0, homeFrom: 0, tourFrom: 0 },
  ];
  for (let last = 0; last < visits.length; last += 1) {
    let best: { cents: number; homeFrom: number; tourFrom: number } | null = null;
    const back = release[last]! + days(site[last]!, crew.base);
    let way = leg(site[last]!, crew.base);
    for (let first = last; first >= 0 && back < dayCount; first -= 1) {
      if (first < last) {
        const gap = days(site[first]!, site[first + 1]!) + 1;
        if (visits[first + 1]!.start < release[first]! + gap) break;
        way += leg(site[first]!, site[first + 1]!);
      }
      const departure = visits[first]!.start - days(crew.base, site[first]!);
      const before = done[first];
      if (back - departure > maxNights || !before || departure < before.homeFrom) continue;
      const cents = before.cents + leg(crew.base, site[first]!) + way + (back - departure) * crew.nightCents;
      if (!best || cents < best.cents) best = { cents, homeFrom: back + 1, tourFrom: first };
    }
    done.push(best);
  }
  const end = done[visits.length];
  if (!end) return null;
  const fromBase = visits.map(() => false);
  for (let count = visits.length; count > 0; count = done[count]!.tourFrom)
    fromBase[done[count]!.tourFrom] = true;
  return { cents: end.cents, fromBase };
}

/** The visits of a crew with one more, in the order of their starts. */
export function withVisit(visits: readonly FixedVisit[], added: FixedVisit): FixedVisit[] {
  return [...visits, added].sort((a, b) => a.start - b.start);
}
