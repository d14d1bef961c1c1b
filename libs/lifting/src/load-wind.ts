import type { Verdict } from '../../kernel/src/index.ts';

/**
 * Drag coefficients for a load on the hook, as a loader-crane operator's handbook gives them: rounded, cylinder, box, and the one
 * to take when the shape is not known.
 */
export const LOAD_DRAG = { rounded: 0.4, cylinder: 1.0, box: 2.0, unknown: 2.4 } as const;

/** A load on the hook in the wind. Unknown is null; an unknown shape is `LOAD_DRAG.unknown`. */
export interface WindLoad {
  /** Highest gust (3 s) that the chart of the machine allows, m/s. */
  readonly ratedGustMps: number | null;
  /** Mass on the hook. */
  readonly massKg: number | null;
  /** Largest area that the wind can take hold of. */
  readonly areaM2: number | null;
  readonly drag: number;
}

/** The gust up to which a load may be reckoned with, and what sets it. */
export interface WindLimit {
  /** Null when something is unknown. */
  readonly limitMps: number | null;
  /** The chart of the machine, or the area of the load. */
  readonly limitingTerm: 'machine' | 'load-area' | null;
  readonly missing: readonly string[];
}

/** Area (with drag) for each tonne that a machine's chart already allows for, m2/t: EN 13000, 1.0 m2/t with a drag of 1.2. */
const AREA_IN_CHART_M2_PER_T = 1.2;

/**
 * The highest gust for a load with a large area: rated x sqrt(1.2 m2/t x mass / (area x drag)), never above the rated gust.
 * Cannot say, with the names, when the rated gust, the mass or the area is unknown.
 * Source: FEM 5.016 and EN 13000, as the operators' handbooks of mobile cranes print them.
 */
export function loadWindLimit(load: WindLoad): WindLimit {
  const missing = (['ratedGustMps', 'massKg', 'areaM2'] as const).filter(
    (name) => load[name] === null || Number.isNaN(load[name]),
  );
  if (missing.length > 0) return { limitMps: null, limitingTerm: null, missing };
  const { ratedGustMps, massKg, areaM2, drag } = load as { [K in keyof WindLoad]: NonNullable<WindLoad[K]> };
  const factor = areaM2 === 0 ? 1 : Math.sqrt((AREA_IN_CHART_M2_PER_T * (massKg / 1000)) / (areaM2 * drag));
  return factor < 1
    ? { limitMps: ratedGustMps * factor, limitingTerm: 'load-area', missing }
    : { limitMps: ratedGustMps, limitingTerm: 'machine', missing };
}

/**
 * The 3-second gust at a height for a 10-minute mean wind at 10 m, m/s: ((z / 10)^0.14 + 0.4) x mean.
 * Source: operator's handbook of a mobile crane, p. 27; the same idea is tabled in FEM 5.016.
 */
export function gustAtHeightMps(meanWindMps: number, heightM: number): number {
  return ((heightM / 10) ** 0.14 + 0.4) * meanWindMps;
}

/** Whether a load may be reckoned with in a gust. */
export interface WindVerdict extends WindLimit {
  readonly verdict: Verdict;
  readonly cautionKey: 'lifting.wind';
}

/** Compares a gust at the height of the load with the limit; an unknown gust or limit gives `cannot say`. */
export function checkLoadInWind(load: WindLoad, gustMps: number | null): WindVerdict {
  const limit = loadWindLimit(load);
  const known = limit.limitMps !== null && gustMps !== null && !Number.isNaN(gustMps);
  const verdict: Verdict = known
    ? (gustMps as number) <= (limit.limitMps as number)
      ? 'ok'
      : 'not ok'
    : 'cannot say';
  return {
    ...limit,
    missing: gustMps === null ? [...limit.missing, 'gustMps'] : limit.missing,
    verdict,
    cautionKey: 'lifting.wind',
  };
}
