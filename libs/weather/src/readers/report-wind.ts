/** A wind as reported, in m/s. */
export interface ReportWind {
  /** Where it comes from in degrees; null when variable or not given. */
  readonly fromDeg: number | null;
  readonly variable: boolean;
  /** Mean over ten minutes; null when not given. */
  readonly meanMps: number | null;
  /** Null when no gust was given: it is then less than 10 kt (5 m/s) above the mean, by the rule of the code. */
  readonly gustMps: number | null;
  /** The mean or the gust was given as "more than" (P99KT): the figure is the least it can be. */
  readonly atLeast: boolean;
}

const TO_MPS: Readonly<Record<string, number>> = { KT: 1852 / 3600, MPS: 1, KMH: 1 / 3.6 };
const SHAPE = /^(VRB|\d{3}|\/\/\/)(P?\d{2,3}|\/\/)(?:G(P?\d{2,3}|\/\/))?(KT|MPS|KMH)$/;

/**
 * A wind group such as `05025G37KT`, `24004MPS`, `VRB03KT`, `/////KT`: the wind, `missing` when it says nothing, null when it is no wind
 * group. A group without its unit, with a direction beyond 360 or a gust below the mean is none: it is not guessed.
 */
export function windGroup(word: string): ReportWind | 'missing' | null {
  if (/^0{0,3}\/{2,5}(KT|MPS|KMH)$/.test(word)) return 'missing';
  const parts = SHAPE.exec(word);
  if (!parts) return null;
  const [, from, mean, gust, unit] = parts as unknown as [string, string, string, string | undefined, string];
  const speed = (text: string | undefined): number | null =>
    text === undefined || text === '//' ? null : Number(text.replace('P', '')) * (TO_MPS[unit] as number);
  const fromDeg = /^\d/.test(from) ? Number(from) : null;
  const [meanMps, gustMps] = [speed(mean), speed(gust)];
  if ((fromDeg ?? 0) > 360 || (gustMps !== null && gustMps < (meanMps ?? 0))) return null;
  return {
    fromDeg,
    variable: from === 'VRB',
    meanMps,
    gustMps,
    atLeast: mean.startsWith('P') || gust?.startsWith('P') === true,
  };
}
