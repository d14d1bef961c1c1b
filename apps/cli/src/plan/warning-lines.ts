import type { IntakeWarning, WarningCode } from '../../../../libs/intake/src/index.ts';

/** What each kind of warning is about, as a heading. */
const HEADINGS: Readonly<Record<WarningCode, string>> = {
  'zone-not-at-place': 'time zones that do not lie where the place is',
  'container-number': 'container numbers whose check digit is wrong',
  'crew-without-members': 'crews without members',
  'hand-without-crew': 'regular hands who belong to no crew',
  'promise-before-ready': 'promises that end before the site is ready',
  'outside-season': 'days outside the season',
  'pin-before-ready': 'pins before the site is ready',
  'published-incomplete': 'published places that are not complete',
  'actual-in-future': 'milestones noted as reached on a day to come',
  'value-outside-tolerance': 'measured values outside their tolerance',
  'flatbed-without-forklift': 'flatbed deliveries without a forklift at the site',
  'gate-too-narrow': 'gates too narrow for what must pass',
  'no-unit': 'needs for which there is no unit',
  'goods-without-warehouse': 'goods without a warehouse',
  'as-of-day-assumed': 'the day that the season is looked at from',
  'goods-day-unknown': 'goods of which no day is known: these jobs cannot be planned',
  'goods-chain-short': 'milestone chains that end early',
  'ready-day-unknown': 'readiness items without an expected day',
  'weather-unknown': 'sites whose weather is not known',
  'weather-assumed': 'weather figures that had to be assumed',
  'weather-hopeless': 'months that hardly ever allow outside work',
  'weather-from-record': 'weather that is counted from hourly records',
  'weather-from-figures': 'weather that is counted from made-up hours with monthly figures',
  'weather-record-rain': 'hourly records whose rain is noted as totals at fixed hours',
  'weather-record-short': 'hourly records that do not cover the season',
  'inspection-unknown': 'equipment whose inspection is not known to hold',
  'casual-hand-incomplete': 'casual hands of whom too little is known',
  'casual-cost-assumed': 'costs of casual hands that had to be assumed',
  'kits-merged': 'kits that are built in one visit',
  'travel-estimated': 'ways that are estimated from the map, as if there were a road',
  'day-without-steps': 'outside days without steps',
  'lift-limit-assumed': 'lifts whose wind limit had to be assumed',
  'wind-limit-unknown': 'outside steps without a wind limit: no wind stops them in weather odds',
  'make-safe-unknown': 'kits whose part-built state may stand no night, as its wind limit is not known',
  'step-lag-not-counted': 'times between steps that weather odds do not look at',
};

const MOST_OF_A_KIND = 4;

/** Warnings by kind, the first few of each in full. */
export function warningLines(warnings: readonly IntakeWarning[]): string[] {
  if (warnings.length === 0) return [];
  const kinds = new Map<WarningCode, IntakeWarning[]>();
  for (const each of warnings) kinds.set(each.code, [...(kinds.get(each.code) ?? []), each]);
  const lines = [`Odd or assumed (${warnings.length}); the plan rests on it:`];
  for (const [code, ofKind] of kinds) {
    lines.push(`  ${HEADINGS[code]} (${ofKind.length})`);
    for (const { message } of ofKind.slice(0, MOST_OF_A_KIND)) lines.push(`    ${message}`);
    const more = ofKind.length - MOST_OF_A_KIND;
    if (more > 0) lines.push(`    and ${more} more like these; --json lists them all`);
  }
  return lines;
}
