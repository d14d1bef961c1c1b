import { DryspellError } from '../../kernel/src/index.ts';

/** Height at which weather services and records give wind. */
export const RECORD_HEIGHT_M = 10;

/** How wind grows with height above the ground of a place. */
export type WindProfile =
  | {
      readonly law: 'power';
      /** 0.14 over open ground, about 0.2 among hedges and scattered houses, 0.33 in a town. Common practice. */
      readonly exponent: number;
    }
  | {
      readonly law: 'log';
      /** Roughness length: 0.05 m for EN 1991-1-4 terrain category II (low vegetation), 0.3 m for III, 1.0 m for IV. */
      readonly roughnessM: number;
    };

/** Open ground: the power law with exponent 0.14. */
export const OPEN_GROUND: WindProfile = { law: 'power', exponent: 0.14 };

/**
 * Wind at a height as a multiple of the wind at 10 m. Power law: (z / 10)^exponent. Log law: ln(z / z0) / ln(10 / z0), not asked below
 * 2 m, where it stands at its value for 2 m. Below 10 m both give less than 1: a record at 10 m is the stronger wind there.
 * Throws `invalid-input` for a height that is not above 0 or a roughness that is not between 0 and 2 m.
 */
export function windFactorAt(heightM: number, profile: WindProfile = OPEN_GROUND): number {
  if (!(heightM > 0 && heightM <= 300))
    throw new DryspellError('invalid-input', {
      field: 'heightM',
      value: heightM,
      expected: 'above 0, at most 300 m',
    });
  if (profile.law === 'power') return (heightM / RECORD_HEIGHT_M) ** profile.exponent;
  const { roughnessM } = profile;
  if (!(roughnessM > 0 && roughnessM < 2))
    throw new DryspellError('invalid-input', {
      field: 'roughnessM',
      value: roughnessM,
      expected: 'above 0, below 2 m',
    });
  return Math.log(Math.max(2, heightM) / roughnessM) / Math.log(RECORD_HEIGHT_M / roughnessM);
}
