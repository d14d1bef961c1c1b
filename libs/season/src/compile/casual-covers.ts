/**
 * Which casual hands could fill up a crew: all sets that suffice and could not do with one hand fewer, cheapest first.
 * Nobody who could be left out is worth paying, so other sets never lead to a better plan.
 */
import type { CoverList } from './compiled-season.ts';

/** One thing that is short on one site day: heads, or holders of a ticket. */
export interface Shortage {
  /** How many are missing, >= 1. */
  readonly missing: number;
  /** Casual hands (by index) who each take one off. */
  readonly helpers: readonly number[];
}

/** More sets than this are not kept for one slot; the cheapest stay. */
const MOST_SETS = 200;
/** Search steps for one slot; enough for four missing heads out of twenty casual hands. */
const MOST_STEPS = 20_000;

/** All minimal sets that make up every shortage. An empty list means that the casual hands cannot do it. */
export function casualCovers(shortages: readonly Shortage[], centsOf: (casual: number) => number): CoverList {
  const found = new Map<string, number[]>();
  const helps = shortages.map((shortage) => new Set(shortage.helpers));
  const covered = (set: readonly number[]): boolean =>
    shortages.every(
      (shortage, at) => set.filter((casual) => helps[at]!.has(casual)).length >= shortage.missing,
    );
  let steps = 0;

  const extend = (set: number[], barred: ReadonlySet<number>): void => {
    steps += 1;
    if (steps > MOST_STEPS) return;
    const open = shortages.findIndex(
      (shortage, at) => set.filter((casual) => helps[at]!.has(casual)).length < shortage.missing,
    );
    if (open < 0) {
      const minimal = set.every((casual) => !covered(set.filter((other) => other !== casual)));
      const sorted = [...set].sort((a, b) => a - b);
      if (minimal) found.set(sorted.join(','), sorted);
      return;
    }
    const tried = new Set(barred);
    for (const casual of shortages[open]!.helpers) {
      if (set.includes(casual) || tried.has(casual)) continue;
      extend([...set, casual], tried);
      tried.add(casual);
    }
  };
  extend([], new Set());

  const priced = [...found.values()]
    .map((set) => ({ set, cents: set.reduce((sum, casual) => sum + centsOf(casual), 0) }))
    .sort((a, b) => a.cents - b.cents || a.set.length - b.set.length || compareSets(a.set, b.set))
    .slice(0, MOST_SETS);
  return {
    sets: priced.map((entry) => Int16Array.from(entry.set)),
    cents: Float64Array.from(priced.map((entry) => entry.cents)),
  };
}

function compareSets(a: readonly number[], b: readonly number[]): number {
  for (let at = 0; at < Math.min(a.length, b.length); at += 1) {
    if (a[at] !== b[at]) return a[at]! - b[at]!;
  }
  return a.length - b.length;
}
