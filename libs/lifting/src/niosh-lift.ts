import type { Verdict } from '../../kernel/src/index.ts';

/** How well the hands hold: good handles, fair grips, poor (bulky, sharp or slack). */
export type Coupling = 'good' | 'fair' | 'poor';
/** How long the lifting lasts: up to 1 hour, up to 2, up to 8, with the recovery times of the method. */
export type LiftDuration = 'short' | 'moderate' | 'long';
/** Kilograms and centimetres, or pounds and inches. */
export type LiftUnits = 'metric' | 'us';

/** One two-handed lift by one person, measured where the load is picked up (or set down). Unknown is null. */
export interface NioshLift {
  readonly load: number | null;
  /** H: from between the ankles to the hands. */
  readonly horizontal: number | null;
  /** V: height of the hands above the floor. */
  readonly vertical: number | null;
  /** V at the origin, which the frequency table asks for; null: the same as `vertical`. */
  readonly verticalAtOrigin: number | null;
  /** D: how far up or down the load travels. */
  readonly travel: number | null;
  /** A: how far the load lies out of the mid-plane of the body. */
  readonly asymmetryDeg: number | null;
  readonly liftsPerMin: number | null;
  readonly duration: LiftDuration | null;
  readonly coupling: Coupling | null;
}

/** Names of the multipliers: horizontal, vertical, distance, asymmetry, frequency, coupling. */
export type NioshTerm = 'HM' | 'VM' | 'DM' | 'AM' | 'FM' | 'CM';

/** What the equation says of one lift. */
export interface NioshResult {
  /** `ok`: the load is at most the recommended limit. */
  readonly verdict: Verdict;
  /** Recommended weight limit, in the unit of the load; null when something is unknown. */
  readonly limit: number | null;
  /** Load over limit; Infinity where nothing may be lifted so; null when something is unknown. */
  readonly liftingIndex: number | null;
  /** The multiplier that takes most off; null when something is unknown or nothing is taken off. */
  readonly limitingTerm: NioshTerm | null;
  readonly multipliers: Readonly<Record<NioshTerm, number>> | null;
  /** Names of what is unknown. */
  readonly missing: readonly string[];
  readonly cautionKey: 'lifting.single';
}

const UNITS = {
  metric: {
    load: 23,
    reach: 25,
    reachMax: 63,
    height: 75,
    perHeight: 0.003,
    heightMax: 175,
    travel: 4.5,
    travelMin: 25,
    travelMax: 175,
  },
  us: {
    load: 51,
    reach: 10,
    reachMax: 25,
    height: 30,
    perHeight: 0.0075,
    heightMax: 70,
    travel: 1.8,
    travelMin: 10,
    travelMax: 70,
  },
} as const;

/** Table 5 of the manual: lifts a minute; for each duration the multiplier below and from knee-to-knuckle height (75 cm, 30 in) on. */
const FREQUENCY: readonly (readonly [
  number,
  readonly [number, number],
  readonly [number, number],
  readonly [number, number],
])[] = [
  [0.2, [1, 1], [0.95, 0.95], [0.85, 0.85]],
  [0.5, [0.97, 0.97], [0.92, 0.92], [0.81, 0.81]],
  [1, [0.94, 0.94], [0.88, 0.88], [0.75, 0.75]],
  [2, [0.91, 0.91], [0.84, 0.84], [0.65, 0.65]],
  [3, [0.88, 0.88], [0.79, 0.79], [0.55, 0.55]],
  [4, [0.84, 0.84], [0.72, 0.72], [0.45, 0.45]],
  [5, [0.8, 0.8], [0.6, 0.6], [0.35, 0.35]],
  [6, [0.75, 0.75], [0.5, 0.5], [0.27, 0.27]],
  [7, [0.7, 0.7], [0.42, 0.42], [0.22, 0.22]],
  [8, [0.6, 0.6], [0.35, 0.35], [0.18, 0.18]],
  [9, [0.52, 0.52], [0.3, 0.3], [0, 0.15]],
  [10, [0.45, 0.45], [0.26, 0.26], [0, 0.13]],
  [11, [0.41, 0.41], [0, 0.23], [0, 0]],
  [12, [0.37, 0.37], [0, 0.21], [0, 0]],
  [13, [0, 0.34], [0, 0], [0, 0]],
  [14, [0, 0.31], [0, 0], [0, 0]],
  [15, [0, 0.28], [0, 0], [0, 0]],
];

/**
 * The revised NIOSH lifting equation for one lift: limit = load constant x HM x VM x DM x AM x FM x CM.
 * Any unknown input gives `cannot say`. It does not cover one-handed lifts, lifts by a team, on slippery ground, in heat
 * or cold, or of loads that shift.
 * Source: Waters, Putz-Anderson, Garg, Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) 94-110.
 */
export function nioshLift(lift: NioshLift, units: LiftUnits = 'metric'): NioshResult {
  const missing = (
    [
      'load',
      'horizontal',
      'vertical',
      'travel',
      'asymmetryDeg',
      'liftsPerMin',
      'duration',
      'coupling',
    ] as const
  ).filter((name) => lift[name] === null || Number.isNaN(lift[name]));
  if (missing.length > 0) {
    return {
      verdict: 'cannot say',
      limit: null,
      liftingIndex: null,
      limitingTerm: null,
      multipliers: null,
      missing,
      cautionKey: 'lifting.single',
    };
  }
  const { load, horizontal, vertical, travel, asymmetryDeg, liftsPerMin, duration, coupling } = lift as {
    [K in keyof NioshLift]: NonNullable<NioshLift[K]>;
  };
  const unit = UNITS[units];
  const low = (lift.verticalAtOrigin ?? vertical) < unit.height;
  const multipliers: Record<NioshTerm, number> = {
    HM: horizontal > unit.reachMax ? 0 : unit.reach / Math.max(horizontal, unit.reach),
    VM: vertical < 0 || vertical > unit.heightMax ? 0 : 1 - unit.perHeight * Math.abs(vertical - unit.height),
    DM: travel > unit.travelMax ? 0 : Math.min(1, 0.82 + unit.travel / Math.max(travel, unit.travelMin)),
    AM: Math.abs(asymmetryDeg) > 135 ? 0 : 1 - 0.0032 * Math.abs(asymmetryDeg),
    FM: frequencyMultiplier(liftsPerMin, duration, low),
    CM: couplingMultiplier(coupling, vertical < unit.height),
  };
  const limit = unit.load * Object.values(multipliers).reduce((product, factor) => product * factor, 1);
  const least = (Object.entries(multipliers) as [NioshTerm, number][]).reduce((a, b) =>
    b[1] < a[1] ? b : a,
  );
  const liftingIndex = load === 0 ? 0 : load / limit;
  return {
    verdict: liftingIndex <= 1 ? 'ok' : 'not ok',
    limit,
    liftingIndex,
    limitingTerm: least[1] < 1 ? least[0] : null,
    multipliers,
    missing: [],
    cautionKey: 'lifting.single',
  };
}

/** FM: the table, linear between its rows as the manual says (p. 7); below 0.2 lifts a minute the first row, above 15 nothing. */
function frequencyMultiplier(liftsPerMin: number, duration: LiftDuration, low: boolean): number {
  const column = { short: 1, moderate: 2, long: 3 }[duration] as 1 | 2 | 3;
  const factor = (row: number): number => FREQUENCY[row]?.[column][low ? 0 : 1] as number;
  const rate = (row: number): number => FREQUENCY[row]?.[0] as number;
  const last = FREQUENCY.length - 1;
  if (liftsPerMin <= rate(0)) return factor(0);
  if (liftsPerMin > rate(last)) return 0;
  const above = FREQUENCY.findIndex(([row]) => row >= liftsPerMin);
  const share = (liftsPerMin - rate(above - 1)) / (rate(above) - rate(above - 1));
  return factor(above - 1) + share * (factor(above) - factor(above - 1));
}

function couplingMultiplier(coupling: Coupling, low: boolean): number {
  if (coupling === 'good') return 1;
  return coupling === 'poor' ? 0.9 : low ? 0.95 : 1;
}
