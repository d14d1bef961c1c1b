/** What can hurt somebody. */
export type CautionKind = 'lifting' | 'wind' | 'electricity' | 'height' | 'driving';

/** One sentence each; what comes first and who decides is said once behind them. */
export const CAUTIONS: Readonly<Record<CautionKind, string>> = {
  lifting: 'Lifts and team lifts shown here are figures for planning; the load chart and the lift plan rule.',
  wind: 'Wind and weather on a later day are odds, never a promise; wind is measured at the lift before each lift.',
  electricity: 'Nothing here says that a supply is isolated; that is proved on site.',
  height: 'Nothing here says that a place at height is safe to work at.',
  driving: 'Driving and rest times are estimates; whoever is tired does not drive.',
};
