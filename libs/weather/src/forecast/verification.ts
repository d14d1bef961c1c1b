import { type Answer, cannotSay, DryspellError, known } from '../../../kernel/src/index.ts';
import { wilsonInterval } from '../wilson.ts';

/** A chance that was stated beforehand, and whether the thing then happened. */
export interface StatedChance {
  /** 0 to 1. */
  readonly chance: number;
  readonly happened: boolean;
}

/** One bin of a reliability table. */
export interface ReliabilityBin {
  /** Chances from this one to below the other; the last bin holds 1 too. */
  readonly fromChance: number;
  readonly toChance: number;
  readonly count: number;
  readonly happened: number;
  /** Mean of the chances stated; null in an empty bin. */
  readonly meanChance: number | null;
  /** Share that happened; null in an empty bin. */
  readonly observedShare: number | null;
  /** Wilson's 95 % interval of that share; 0 to 1 in an empty bin. */
  readonly interval: { readonly low: number; readonly high: number };
}

/**
 * The Brier score and its parts: brier = reliability - resolution + uncertainty + withinBinVariance - withinBinCovariance,
 * exactly. The first three are Murphy's (1973); the two within-bin parts are 0 when all chances of a bin are equal.
 */
export interface BrierParts {
  readonly cases: number;
  /** 0 is perfect, 1 is always wrong with full confidence. */
  readonly brier: number;
  /** Share that happened. */
  readonly baseShare: number;
  /** How far stated chances lie from what happened at them; small is good. */
  readonly reliability: number;
  /** How far what happened differs from bin to bin; large is good. */
  readonly resolution: number;
  /** Brier score of always stating the base share. */
  readonly uncertainty: number;
  readonly withinBinVariance: number;
  readonly withinBinCovariance: number;
  /** 1 - brier / uncertainty: gain over always stating the base share. Null when all or none happened. */
  readonly skill: number | null;
}

/** Mean square of chance minus outcome (Brier 1950, in the half form in use today). Cannot say without a case. */
export function brierScore(cases: readonly StatedChance[]): Answer<number, 'no-cases'> {
  if (cases.length === 0) return cannotSay('no-cases');
  let sum = 0;
  for (const stated of cases) sum += (checked(stated.chance) - Number(stated.happened)) ** 2;
  return known(sum / cases.length);
}

/** Gain over a reference forecast of the same cases: 1 - brier / reference. Null when the reference is perfect already. */
export function brierSkill(brier: number, referenceBrier: number): number | null {
  return referenceBrier === 0 ? null : 1 - brier / referenceBrier;
}

/** Counts, for `bins` bins of equal width (10 by default), how often what was stated with such a chance happened. */
export function reliabilityTable(cases: readonly StatedChance[], bins = 10): ReliabilityBin[] {
  const sums = Array.from({ length: bins }, () => ({ count: 0, happened: 0, chance: 0 }));
  for (const { chance, happened } of cases) {
    const bin = sums[binOf(chance, bins)] as (typeof sums)[number];
    bin.count += 1;
    bin.chance += chance;
    if (happened) bin.happened += 1;
  }
  return sums.map(({ count, happened, chance }, index) => ({
    fromChance: index / bins,
    toChance: (index + 1) / bins,
    count,
    happened,
    meanChance: count === 0 ? null : chance / count,
    observedShare: count === 0 ? null : happened / count,
    interval: wilsonInterval(happened, count),
  }));
}

/**
 * The Brier score in its parts over `bins` bins of equal width (10 by default). Cannot say without a case.
 * Source: Murphy 1973, J. Appl. Meteorol. 12, 595-600; within-bin parts Stephenson, Coelho and Jolliffe 2008, Weather and
 * Forecasting 23, 752-757.
 */
export function brierParts(cases: readonly StatedChance[], bins = 10): Answer<BrierParts, 'no-cases'> {
  const score = brierScore(cases);
  if (!score.known) return score;
  const table = reliabilityTable(cases, bins);
  const total = cases.length;
  const baseShare = cases.filter(({ happened }) => happened).length / total;
  let [reliability, resolution, withinBinVariance, withinBinCovariance] = [0, 0, 0, 0];
  for (const { count, meanChance, observedShare } of table) {
    if (meanChance === null || observedShare === null) continue;
    reliability += (count * (meanChance - observedShare) ** 2) / total;
    resolution += (count * (observedShare - baseShare) ** 2) / total;
  }
  for (const { chance, happened } of cases) {
    const bin = table[binOf(chance, bins)] as ReliabilityBin;
    const off = chance - (bin.meanChance as number);
    withinBinVariance += off ** 2 / total;
    withinBinCovariance += (2 * off * (Number(happened) - (bin.observedShare as number))) / total;
  }
  const uncertainty = baseShare * (1 - baseShare);
  return known({
    cases: total,
    brier: score.value,
    baseShare,
    reliability,
    resolution,
    uncertainty,
    withinBinVariance,
    withinBinCovariance,
    skill: brierSkill(score.value, uncertainty),
  });
}

function binOf(chance: number, bins: number): number {
  // 0.29 * 100 is a hair below 29; a chance that was meant to open a bin must not fall into the one below.
  return Math.min(bins - 1, Math.floor(checked(chance) * bins + 1e-9));
}

function checked(chance: number): number {
  if (!(chance >= 0 && chance <= 1)) {
    throw new DryspellError('invalid-input', {
      field: 'chance',
      value: chance,
      expected: 'a chance from 0 to 1',
    });
  }
  return chance;
}
