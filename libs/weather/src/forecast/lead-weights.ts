import { DryspellError } from '../../../kernel/src/index.ts';
import { fallingFit } from './falling-fit.ts';

/** One or many equally likely members: how a forecast was made. */
export type ForecastKind = 'single' | 'ensemble';

/** A forecast of the past for one site day, and what came. */
export interface LeadCase {
  /** Whole days from the day of issue to the day forecast, 0 or more. */
  readonly leadDays: number;
  /** Share of members whose day was good, as `memberShare` gives it, 0 to 1. */
  readonly forecastShare: number;
  /** Share of good days at that date in the records, 0 to 1, of records that do not hold the day itself. */
  readonly recordShare: number;
  /** Whether the day was good. */
  readonly good: boolean;
}

/** How much a forecast counts at one lead, and where that number comes from. */
export interface LeadWeight {
  readonly leadDays: number;
  /** 0 to 1: what the forecast counts; the records count the rest. */
  readonly weight: number;
  /** `fitted` when cases outweigh the default, `part-fitted` when there are some, `default` without any. */
  readonly basis: 'default' | 'part-fitted' | 'fitted';
  readonly cases: number;
  /** The best weight of these cases alone, before clipping; null without cases in which forecast and records differ. */
  readonly bestOfCases: number | null;
  readonly defaultWeight: number;
}

/** Weights by lead, lead 0 first; beyond the last one a forecast counts nothing. */
export interface LeadWeights {
  readonly kind: ForecastKind;
  readonly byLead: readonly LeadWeight[];
}

/**
 * What a forecast counts at leads of 0, 1, 2 ... days as long as nothing has been fitted. Common practice, not measured at any
 * site: forecasts of rain and wind for a day help to about a week, an ensemble's shares to about ten days, and beyond two weeks the
 * time of year says as much. A single run is held lower because it does not show its own doubt.
 */
export const DEFAULT_LEAD_WEIGHTS: Readonly<Record<ForecastKind, readonly number[]>> = {
  ensemble: [0.95, 0.9, 0.85, 0.78, 0.7, 0.6, 0.5, 0.4, 0.3, 0.22, 0.15, 0.1, 0.06, 0.03],
  single: [0.85, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2, 0.15, 0.1, 0.05],
};

/** The default counts like so many cases in which forecast and records were this far apart. */
const DEFAULT_COUNTS_AS = { cases: 30, apart: 0.5 } as const;

/** The stated weights, none of them fitted. */
export function defaultLeadWeights(kind: ForecastKind): LeadWeights {
  return fitLeadWeights([], kind);
}

/**
 * Weights by lead from forecasts of the past. Odds are weight x forecastShare + (1 - weight) x recordShare; for each lead the
 * weight with the least Brier score over its cases is, with d = forecastShare - recordShare, sum d (good - recordShare) / sum
 * d^2. The default is mixed in as if it were 30 cases with d = 0.5 that had it as their best weight, so few cases, or cases
 * in which forecast and records agree, change little. Then clipped to 0..1, and never rising with lead: isotonic regression,
 * each lead counting as its cases plus those 30. Leads beyond the table have a default of 0. Throws `invalid-input` for a
 * lead below 0 or a share outside 0..1.
 */
export function fitLeadWeights(cases: readonly LeadCase[], kind: ForecastKind): LeadWeights {
  const defaults = DEFAULT_LEAD_WEIGHTS[kind];
  const sums = defaults.map(() => ({ cases: 0, square: 0, product: 0 }));
  for (const { leadDays, forecastShare, recordShare, good } of cases) {
    if (!Number.isInteger(leadDays) || leadDays < 0)
      throw new DryspellError('invalid-input', { field: 'leadDays', value: leadDays });
    for (const [field, value] of Object.entries({ forecastShare, recordShare })) {
      if (!(value >= 0 && value <= 1)) throw new DryspellError('invalid-input', { field, value });
    }
    while (sums.length <= leadDays) sums.push({ cases: 0, square: 0, product: 0 });
    const sum = sums[leadDays] as (typeof sums)[number];
    const apart = forecastShare - recordShare;
    sum.cases += 1;
    sum.square += apart ** 2;
    sum.product += apart * (Number(good) - recordShare);
  }
  const ofDefault = DEFAULT_COUNTS_AS.cases * DEFAULT_COUNTS_AS.apart ** 2;
  const mixed = sums.map(({ square, product }, lead) => {
    const fallback = defaults[lead] ?? 0;
    if (square === 0) return fallback;
    const weight = (product + ofDefault * fallback) / (square + ofDefault);
    return Math.min(1, Math.max(0, weight));
  });
  const weights = fallingFit(
    mixed,
    sums.map((sum) => sum.cases + DEFAULT_COUNTS_AS.cases),
  );
  return {
    kind,
    byLead: sums.map((sum, leadDays) => ({
      leadDays,
      weight: weights[leadDays] as number,
      basis: sum.square === 0 ? 'default' : sum.square >= ofDefault ? 'fitted' : 'part-fitted',
      cases: sum.cases,
      bestOfCases: sum.square === 0 ? null : sum.product / sum.square,
      defaultWeight: defaults[leadDays] ?? 0,
    })),
  };
}
