import type { CostKind } from '../../../../libs/season/src/index.ts';

/** What money goes to, in the words of the table. */
export const COST_WORDS: Readonly<Record<CostKind, string>> = {
  late: 'later than promised',
  notPlanned: 'jobs without a date',
  standby: 'crew waiting for weather',
  km: 'kilometres',
  nights: 'nights away',
  travelDays: 'travel days',
  casualHands: 'casual hands',
  liftHire: 'lift hire',
  bays: 'warehouse bays',
  bayOverflow: 'bays beyond the own ones',
  moved: 'moved dates',
  crewChanged: 'changed crews',
};
