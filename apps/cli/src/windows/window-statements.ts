import {
  type HourlyRecord,
  rainHours,
  type SiteDayWork,
  USUAL_LIMITS,
} from '../../../../libs/weather/src/index.ts';

import { type KitRules, type KitWindows, MONTH_WEIGHT_YEARS } from './kit-windows.ts';
import type { OpenedRecord } from './open-record.ts';
import type { SeasonWork } from './season-work.ts';

/** Something that must be known before the odds are used. */
export interface Statement {
  readonly code: string;
  readonly words: string;
}

export const CAUTION: Statement = {
  code: 'planning-aid',
  words:
    'Planning aid from past weather. Whether work goes ahead is decided on the day, from measured wind, by the competent person and the maker’s limits.',
};

/** Fewer years than this are few: common practice takes 20 to 30 years for odds of weather. */
const FEW_YEARS = 20;

/** What the windows of a kit rest on, in sentences. */
export function kitStatements(
  opened: OpenedRecord,
  season: SeasonWork,
  rules: KitRules,
  windows: KitWindows,
): Statement[] {
  const { basis, clock, kind } = windows;
  const list: Statement[] = [];
  const say = (code: string, words: string): void => {
    list.push({ code, words });
  };
  if (basis.unknownDays > 0)
    say(
      'unknown-days',
      `On ${basis.unknownDays} of ${basis.judgedDays} days hours that are not known decide; they count neither as good nor as bad.`,
    );
  list.push(...recordStatements(opened, rainCounts(season)));
  if (season.season.isDemo)
    say(
      'demo-season',
      `The kit and its limits come from ${season.season.source}, an invented demo season; name your own with --season.`,
    );
  say(
    'clock',
    clock.zone === null
      ? `The shift is read on the file’s own clock, ${offsetText(opened.record.standardOffsetMin)} all year: no time zone is known for its place.`
      : `The shift is read on the clocks of ${clock.zone}${windows.zoneFrom === 'place' ? ', the zone at the place of the file,' : ''} in ${rules.year}.`,
  );
  if (kind === 'typical-year')
    say(
      'typical-year',
      'The file is a typical year, its months taken from different years: it stands for one year, and runs of bad weather across months are made up.',
    );
  if (basis.years === 0)
    say(
      'nothing-known',
      'No day of the file could be judged, so it gives no odds; a day is judged with the day after it, so give whole days.',
    );
  else if (basis.years < FEW_YEARS)
    say(
      'few-years',
      `${basis.years === 1 ? 'Only one year stands' : `At most ${basis.years} years stand`} behind each date, so a date counts for ${percent(basis.years / (basis.years + MONTH_WEIGHT_YEARS))} and its month for the rest; 20 to 30 years make good odds.`,
    );
  if (basis.gustEstimatedHours > 0)
    say(
      'gust-estimated',
      `The gust is not recorded in ${percent(basis.gustEstimatedHours / basis.hours)} of the hours; there it is estimated as mean wind x ${basis.gustFactor}.`,
    );
  if (basis.thunderKnownHours === 0)
    say('thunder-unknown', 'Thunder is not recorded, so it is not in these odds: watch for it on the day.');
  const tooLong = season.work.findIndex(
    (day) => day && workMin(day) > rules.shift.toMin - rules.shift.fromMin,
  );
  if (tooLong >= 0)
    say(
      'work-longer-than-shift',
      `The outside work of site day ${tooLong + 1} takes ${hoursText(workMin(season.work[tooLong] as SiteDayWork))} without a pause and does not fit into the shift of ${hoursText(rules.shift.toMin - rules.shift.fromMin)}: no day can be good.`,
    );
  for (const { code, message } of season.warnings) say(code, message);
  list.push(CAUTION);
  return list;
}

/** What is odd about a file itself; of its rain only where rain matters. */
export function recordStatements({ record, reading }: OpenedRecord, rainMatters: boolean): Statement[] {
  const list: Statement[] = [];
  const { badLineCount, badLines, gaps, warnings } = reading;
  if (badLineCount > 0)
    list.push({
      code: 'bad-lines',
      words: `${badLineCount} bad lines are left out; the first is line ${badLines[0]?.line}: ${badLines[0]?.reason}.`,
    });
  if (gaps.hours > 0)
    list.push({
      code: 'gaps',
      words: `${gaps.hours} hours are missing in ${gaps.spanCount === 1 ? 'one gap' : `${gaps.spanCount} gaps`}; they are unknown.`,
    });
  const fixed = rainMatters ? rainAtFixedHours(record) : null;
  if (fixed) list.push(fixed);
  for (const { code, words } of warnings) if (code !== 'years-mixed') list.push({ code, words });
  return list;
}

/** By the hours and the test of the months of weather, whatever the shift: a long shift reaches into the hours of such totals. */
function rainAtFixedHours(record: HourlyRecord): Statement | null {
  const { wetHours, wetWorkHours, hoursOfDay, chanceOfSoFew } = rainHours(record, USUAL_LIMITS);
  if (chanceOfSoFew >= 1e-4 || wetWorkHours > wetHours / 20) return null;
  const { workFromHour, workToHour } = USUAL_LIMITS;
  return {
    code: 'rain-at-fixed-hours',
    words: `Only ${wetWorkHours} of its ${wetHours} wet hours lie between ${workFromHour} and ${workToHour} o’clock; rain is noted only in the hours that begin at ${hoursOfDay.join(', ')}, as if totals were noted at fixed times. Rain by day is not seen, so these odds are too good: use another file for rain.`,
  };
}

function rainCounts({ work }: SeasonWork): boolean {
  return work.some((day) =>
    day?.steps.some(({ limits, dryAfterMin }) => limits.rainMmPerHour !== null || dryAfterMin > 0),
  );
}

function workMin({ steps }: SiteDayWork): number {
  return steps.reduce((sum, { durationMin, lagMin }, at) => sum + durationMin + (at > 0 ? lagMin : 0), 0);
}

function hoursText(minutes: number): string {
  const rest = minutes % 60;
  return rest === 0 ? `${minutes / 60} hours` : `${Math.floor(minutes / 60)} h ${rest} min`;
}

export function percent(share: number): string {
  return share > 0 && share < 0.005 ? 'under 1 %' : `${Math.round(share * 100)} %`;
}

export function offsetText(minutes: number): string {
  const size = Math.abs(minutes);
  return `UTC${minutes < 0 ? '-' : '+'}${Math.floor(size / 60)}:${String(size % 60).padStart(2, '0')}`;
}
