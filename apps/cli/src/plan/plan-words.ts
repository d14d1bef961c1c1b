import type { BindingKind, CostKind } from '../../../../libs/season/src/index.ts';

/** What keeps a start from being earlier, in the words of the table. */
export const BINDING_WORDS: Readonly<Record<BindingKind, string>> = {
  siteReady: 'site ready',
  goods: 'goods',
  delivery: 'delivery run',
  crewBusy: 'crew busy',
  crewCalendar: 'crew off',
  siteClosed: 'site closed',
  hands: 'hands',
  tickets: 'tickets',
  lift: 'lift',
  equipment: 'equipment',
  nightsAway: 'nights away',
  frozen: 'frozen',
  pin: 'pin',
  weather: 'weather',
  cost: 'cost',
  horizon: 'season start',
};

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
