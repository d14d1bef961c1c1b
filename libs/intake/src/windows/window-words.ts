import { dayFromParts, instantFromMs, instantToLocal } from '../../../kernel/src/index.ts';
import { monthAndDay, type WindowRow } from '../../../weather/src/index.ts';
import type { WindowResult } from './compute-window.ts';
import type { WindowContent } from './window-need.ts';

/** What odds stand on, as the end of a sentence. */
export function basisWords({ basis, years }: Pick<WindowResult, 'basis' | 'years'>): string {
  const { typicalYear, hours, gustEstimatedHours, gustFactor, thunderKnownHours } = basis;
  const span = typicalYear
    ? 'a typical year, which shows no difference between years'
    : years === 1
      ? 'one year only'
      : `${years} years`;
  const share = Math.round((100 * gustEstimatedHours) / hours);
  const gusts =
    gustEstimatedHours === 0
      ? ''
      : `, gusts of ${share} % of the hours estimated as ${gustFactor} times the mean wind`;
  const thunder = thunderKnownHours === 0 ? '; thunder is not in it' : '';
  return `${span}${gusts}${thunder}`;
}

/** What is said of a record whose rain cannot be read hour by hour. */
export const RAIN_TOTALS_WORDS =
  'It notes rain only as totals at fixed hours outside work, so rain by day is not seen and its odds are too good: use another record for rain.';

/** What makes a day good for some work, as the rest of a sentence. */
export function goodDayWords({ work, shift }: WindowContent): string {
  const steps = work.find((day) => day !== null)?.steps ?? [];
  const minutes = steps.reduce((sum, step, at) => sum + step.durationMin + (at > 0 ? step.lagMin : 0), 0);
  const light = steps.some(({ limits }) => limits.needsDaylight) ? ' and daylight' : '';
  const known = (name: 'gustMps' | 'rainMmPerHour' | 'tempMinC') =>
    steps.flatMap(({ limits }) => (limits[name] === null ? [] : [limits[name]]));
  const [gusts, rains, colds] = [known('gustMps'), known('rainMmPerHour'), known('tempMinC')];
  const strict = [
    ...(gusts.length > 0 ? [`gusts to ${Math.min(...gusts)} m/s at the load`] : []),
    ...(rains.length > 0 ? [`rain to ${Math.min(...rains)} mm an hour`] : []),
    ...(colds.length > 0 ? [`from ${Math.max(...colds)} C`] : []),
  ];
  const limits = strict.length > 0 ? ` (the strictest: ${strict.join(', ')})` : '';
  const count = steps.length === 1 ? 'the outside step' : `the ${steps.length} outside steps`;
  return `${count} of the first outside day (${(minutes / 60).toFixed(1)} hours) can be done in order between ${shift.from} and ${shift.to}${light}, each under its own limits${limits}.`;
}

/** Clock time on site by which work must begin on a date, `HH:MM`; null where no day is good. */
export function localStartOf(
  { shift, year }: WindowContent,
  { standardOffsetMin }: Pick<WindowResult, 'standardOffsetMin'>,
  { date, latestStartMin }: Pick<WindowRow, 'date' | 'latestStartMin'>,
): string | null {
  if (latestStartMin === null) return null;
  const leap = dayFromParts(year + 1, 1, 1) - dayFromParts(year, 1, 1) === 366;
  const { month, dayOfMonth } = monthAndDay(!leap && date === 59 ? 58 : date);
  const utcMin = dayFromParts(year, month, dayOfMonth) * 1440 + latestStartMin - standardOffsetMin;
  return instantToLocal(instantFromMs(utcMin * 60_000), shift.zone).time.slice(0, 5);
}
