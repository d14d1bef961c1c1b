import type { MorningBrief } from '../../../../libs/contracts/src/http/brief-schema.ts';
import { money } from './money.ts';

type Advice = MorningBrief['advice'];
type Reason = MorningBrief['reasons'][number];
type Limit = MorningBrief['limits'][number];

/** An advice as a word with its sign, and what it means in a sentence. */
export const ADVICE: Readonly<
  Record<Advice, { readonly word: string; readonly sign: string; readonly meaning: string }>
> = {
  go: { word: 'GO', sign: '✓', meaning: 'From what is known, starting is the cheaper risk.' },
  hold: { word: 'HOLD', sign: '‖', meaning: 'From what is known, waiting is the cheaper risk.' },
  'cannot-say': {
    word: 'CANNOT SAY',
    sign: '?',
    meaning:
      'Too little is known for an advice: it does not mean go. Somebody must decide, with the figures below.',
  },
};

const REASONS: Readonly<Record<string, string>> = {
  'fail-chance-above-ratio': 'The chance of failing is above cost of holding / cost of a failed start.',
  'fail-chance-below-ratio': 'The chance of failing is below cost of holding / cost of a failed start.',
  'fail-chance-at-ratio': 'Both cost the same on average.',
  'holding-never-pays': 'Holding costs more than a start that fails.',
  'odds-unknown': 'The odds are not known: no forecast near enough and no record speaks of the day.',
  'failed-start-cost-unknown': 'What a failed start costs is not wholly known.',
  'holding-cost-unknown': 'What holding costs is not wholly known.',
  'fee-after-deadline-unknown': 'The fee for calling off this late is not known.',
  'forecast-stale': 'The newest forecast is too old to advise from.',
  'forecast-missing': 'There is no forecast for the day.',
  'odds-from-records-only': 'The odds are those of past years alone.',
  'records-alone-never-say-go': 'Past years alone never say go.',
  'odds-without-records': 'There is no record of past years for the site.',
  'deadline-past': 'The last moment for calling off without a fee is over.',
  'deadline-unknown': 'No last moment for calling off is known.',
};

/** Why the advice is what it is. A reason without words is named, never hidden. */
export const reasonWords = ({ code }: Reason): string => REASONS[code] ?? `Another reason (${code}).`;

const ODDS_FROM: Readonly<Record<string, string>> = {
  blend: 'the forecast and past years together',
  forecast: 'the forecast alone: there is no record of past years for the site',
  records: 'past years alone: no forecast was used',
};

const WEIGHT_BASIS: Readonly<Record<string, string>> = {
  default: 'a usual weight, not yet checked against what came here',
  'part-fitted': 'partly fitted to how earlier forecasts turned out here',
  fitted: 'fitted to how earlier forecasts turned out here',
};

/** Records of fewer years are said to be few. Our own choice. */
const FEW_YEARS = 10;

/** Of what the odds are made, in sentences. */
export function oddsWords(odds: NonNullable<MorningBrief['odds']>): string[] {
  const { from, weight, weightBasis, members, recordShare, recordYears } = odds;
  const few = recordYears !== null && recordYears < FEW_YEARS ? ', and few years say little' : '';
  const years =
    recordYears === null ? '' : `, ${recordYears === 1 ? '1 year' : `${recordYears} years`} counted${few}`;
  return [
    `From ${ODDS_FROM[from] ?? from}.`,
    ...(members === null ? [] : [runsWords(members)]),
    ...(recordShare === null
      ? []
      : [`In the records ${percent(recordShare)} of such days were good${years}.`]),
    ...(from === 'blend'
      ? [
          `The forecast counts ${percent(weight)}${weightBasis === null ? '' : ` (${WEIGHT_BASIS[weightBasis] ?? weightBasis})`}, the records the rest.`,
        ]
      : []),
  ];
}

function runsWords({ good, bad, unknown }: { good: number; bad: number; unknown: number }): string {
  const known = `In ${good} of ${good + bad} runs of the forecast the day is good`;
  return unknown === 0 ? `${known}.` : `${known}; ${unknown} more do not say.`;
}

/** The rule of the decision with its figures in one sentence. */
export function ruleWords({ rule, visit }: MorningBrief): string {
  const rule1 =
    'Hold when the chance of failing is above the cost of holding divided by the cost of a failed start';
  if (rule === null) return `${rule1}. It cannot be worked out here: a figure is missing.`;
  const cost = (cents: number): string => money(Math.round(cents), visit.currency);
  const share = `${cost(rule.holdingCents)} / ${cost(rule.failedStartCents)}`;
  const ratio = rule.ratio === null ? share : `${share} = ${percent(rule.ratio)}`;
  return `${rule1}: here ${percent(rule.failChance)} against ${ratio}.`;
}

const COST_PARTS: Readonly<Record<string, string>> = {
  'crew-day': 'the crew’s day',
  'casual-hands': 'casual hands',
  'lift-day': 'the lift’s day',
  'lift-delivery': 'bringing and fetching the lift',
  truck: 'the truck',
  beds: 'beds',
  driving: 'driving',
  'travel-days': 'travel days',
  'moved-visit': 'moving the visit',
  late: 'being late',
};

/** A side of the decision as an amount; with an unknown part it is a lower bound and says so. */
export function costWords(side: MorningBrief['holding'], currency: string): string {
  const known = money(Math.round(side.knownCents), currency);
  const missing = side.parts.filter(({ cents }) => cents === null).map(({ key }) => COST_PARTS[key] ?? key);
  if (side.parts.length === 0) return 'not known';
  return missing.length === 0 ? known : `at least ${known}: no price is known for ${missing.join(', ')}`;
}

/** The parts of a side, one by one. */
export const costParts = (side: MorningBrief['holding'], currency: string): string[] =>
  side.parts.map(
    ({ key, cents }) =>
      `${COST_PARTS[key] ?? key}: ${cents === null ? '? not known' : money(Math.round(cents), currency)}`,
  );

const LIMITS: Readonly<
  Record<string, { readonly words: string; readonly unit: string; readonly bound: string }>
> = {
  gustMps: { words: 'Gust at the load', unit: 'm/s', bound: 'at most' },
  windMps: { words: 'Mean wind at the load', unit: 'm/s', bound: 'at most' },
  rainMm: { words: 'Rain in an hour', unit: 'mm', bound: 'at most' },
  tempMinC: { words: 'Temperature', unit: '°C', bound: 'at least' },
  tempMaxC: { words: 'Temperature', unit: '°C', bound: 'at most' },
  dewPointMarginC: { words: 'Margin over the dew point', unit: '°C', bound: 'at least' },
  thunder: { words: 'Thunder', unit: '', bound: 'none near' },
};

/** What is limited, what is allowed, and what the runs of the forecast have instead. */
export function limitWords(limit: Limit): { name: string; allowed: string; middle: string; worst: string } {
  const known = LIMITS[limit.limit] ?? { words: limit.limit, unit: '', bound: '' };
  const figure = (value: number | null): string =>
    value === null ? '? not known' : `${Math.round(value * 10) / 10} ${known.unit}`.trim();
  if (limit.limit === 'thunder')
    return { name: known.words, allowed: known.bound, middle: '–', worst: 'in the forecast' };
  return {
    name: known.words,
    allowed: limit.limitValue === null ? '? not known' : `${known.bound} ${figure(limit.limitValue)}`,
    middle: figure(limit.medianValue),
    worst: figure(limit.worstValue),
  };
}

/** `83 %`. */
export const percent = (share: number): string => `${Math.round(share * 100)} %`;
