import { type Answer, cannotSay, DryspellError, known } from '../../kernel/src/index.ts';
import {
  chainFromCorrelation,
  chainFromShare,
  stationaryBadShare,
  type TwoStateChain,
} from './two-state-chain.ts';

/** The weather of one month for outside work in working hours. Shares are of days, 0 to 1; null is unknown, never zero. */
export interface MonthWeather {
  /** Share of days too wet. */
  readonly wetDayShare: number | null;
  /** Chance that the day after a wet one is wet too. */
  readonly wetAfterWet: number | null;
  /** Share of days too windy. */
  readonly windyDayShare: number | null;
  /** Share of days too cold. */
  readonly coldDayShare: number | null;
  /** Share of days bad for any reason, where a record tells it directly; then it stands instead of the three above. */
  readonly badDayShare: number | null;
  /** Chance that the day after a bad one is bad too, where a record tells it directly. */
  readonly badAfterBad: number | null;
  readonly meanTempC: number | null;
}

/** Twelve months, January first. */
export type MonthlyTable = readonly MonthWeather[];

/** A month of which nothing is known. */
export const UNKNOWN_MONTH: MonthWeather = {
  wetDayShare: null,
  wetAfterWet: null,
  windyDayShare: null,
  coldDayShare: null,
  badDayShare: null,
  badAfterBad: null,
  meanTempC: null,
};

/** What to put where a month does not say; null means: do not put anything, answer "cannot say". */
export interface WeatherAssumptions {
  readonly wetDayShare: number | null;
  readonly windyDayShare: number | null;
  readonly coldDayShare: number | null;
  /** Day-to-day correlation of wet (or bad) days, 0 to 1, where no chance of wet after wet is known. */
  readonly correlation: number | null;
}

/** Assume nothing. */
export const NO_ASSUMPTIONS: WeatherAssumptions = {
  wetDayShare: null,
  windyDayShare: null,
  coldDayShare: null,
  correlation: null,
};

const SHARES = [
  'wetDayShare',
  'wetAfterWet',
  'windyDayShare',
  'coldDayShare',
  'badDayShare',
  'badAfterBad',
] as const;

/** The chain of good and bad days of a month, and what had to be assumed for it. */
export interface BadDayChain {
  readonly chain: TwoStateChain;
  readonly badShare: number;
  readonly assumed: readonly (keyof WeatherAssumptions)[];
}

/**
 * The chain of bad days of one month. A day is bad when it is wet, too windy or too cold in working hours.
 *
 * Where only the shares are known they are combined as independent, good = (1 - wet)(1 - windy)(1 - cold), wet days
 * following a two-state chain and wind and cold drawn anew each day. Then a good day is followed by a good one with
 * chance P(dry after dry)(1 - windy)(1 - cold), exactly, and the chance after a bad day follows from the long-run share.
 * Wind and cold come in spells too, so true spells of bad days are somewhat longer; a table from an hourly record gives
 * `badDayShare` and `badAfterBad` directly and is the better one.
 *
 * Cannot say, with the missing names, when something is unknown and not assumed. Throws `invalid-input` for a share
 * outside 0..1 or a wet-after-wet that no chain with that share can have.
 */
export function badDayChain(
  month: MonthWeather,
  assumptions: WeatherAssumptions = NO_ASSUMPTIONS,
): Answer<BadDayChain, 'weather-unknown'> {
  for (const field of SHARES) {
    const value = month[field];
    if (value !== null && !(value >= 0 && value <= 1)) {
      throw new DryspellError('invalid-input', { field, value, expected: 'a share from 0 to 1' });
    }
  }
  const assumed: (keyof WeatherAssumptions)[] = [];
  const missing: string[] = [];
  const take = (value: number | null, name: keyof WeatherAssumptions): number => {
    if (value !== null) return value;
    const assumption = assumptions[name];
    if (assumption === null) missing.push(name);
    else assumed.push(name);
    return assumption ?? Number.NaN;
  };
  const chainOf = (share: number, afterBad: number | null): TwoStateChain => {
    if (share === 0) return { badAfterGood: 0, badAfterBad: 0 };
    return afterBad === null
      ? chainFromCorrelation(share, take(null, 'correlation'))
      : chainFromShare(share, afterBad);
  };

  let chain: TwoStateChain;
  if (month.badDayShare !== null) {
    chain = chainOf(month.badDayShare, month.badAfterBad);
  } else {
    const wet = chainOf(
      take(month.wetDayShare, 'wetDayShare'),
      month.wetDayShare === null ? null : month.wetAfterWet,
    );
    const calmAndMild =
      (1 - take(month.windyDayShare, 'windyDayShare')) * (1 - take(month.coldDayShare, 'coldDayShare'));
    chain = withIndependentCauses(wet, calmAndMild);
  }
  if (missing.length > 0) return cannotSay('weather-unknown', missing);
  return known({ chain, badShare: stationaryBadShare(chain), assumed });
}

/** The chain of days that are bad because wet, or for another reason that spares only a share `spared` of days. */
function withIndependentCauses(wet: TwoStateChain, spared: number): TwoStateChain {
  const goodShare = (1 - stationaryBadShare(wet)) * spared;
  if (goodShare >= 1) return wet;
  const goodAfterGood = (1 - wet.badAfterGood) * spared;
  const goodAfterBad = (goodShare * (1 - goodAfterGood)) / (1 - goodShare);
  return { badAfterGood: 1 - goodAfterGood, badAfterBad: 1 - goodAfterBad };
}
