import { dayFromParts, instantFromMs, instantToLocal } from '../../../kernel/src/index.ts';
import { monthAndDay, type VisitWork, type WindowRow } from '../../../weather/src/index.ts';
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

/** Where the work of a visit may stop for the night, what that means for its odds; else nothing. */
export function overnightWords(work: VisitWork): string[] {
  const mayStop = work.some(
    (day) => day?.makeSafeGustMps !== null && day?.steps.some((step) => step.mayStopAfter),
  );
  return mayStop
    ? [
        'Work that stops for the night in a state the maker calls safe, and is closed on the next day, costs one lost day; such a day is not called good.',
      ]
    : [];
}

/** What makes a day good for some work, as the rest of a sentence. */
export function goodDayWords({
  work,
  shift,
}: {
  readonly work: VisitWork;
  readonly shift: { readonly from: string; readonly to: string };
}): string {
  const steps = work.find((day) => day !== null)?.steps ?? [];
  const minutes = steps.reduce((sum, step, at) => sum + step.durationMin + (at > 0 ? step.lagMin : 0), 0);
  const light = steps.some(({ limits }) => limits.needsDaylight) ? ' and daylight' : '';
  const all = (name: 'gustMps' | 'rainMmPerHour' | 'tempMinC' | 'tempMaxC'): number[] =>
    steps.flatMap(({ limits }) => (limits[name] === null ? [] : [limits[name]]));
  const gust = Math.min(...all('gustMps'));
  const rain = Math.min(...all('rainMmPerHour'));
  const cold = Math.max(...all('tempMinC'));
  const hot = Math.min(...all('tempMaxC'));
  const strict = [
    ...(Number.isFinite(gust) ? [`gusts to ${gust} m/s at the load`] : []),
    ...(Number.isFinite(rain) ? [rain === 0 ? 'no rain' : `rain to ${rain} mm an hour`] : []),
    ...(Number.isFinite(cold) ? [`from ${cold} C`] : []),
    ...(Number.isFinite(hot) ? [`to ${hot} C`] : []),
  ];
  const limits = strict.length > 0 ? ` (the strictest: ${strict.join(', ')})` : '';
  const count = steps.length === 1 ? 'the outside step' : `the ${steps.length} outside steps`;
  return `${count} of the first outside day (${(minutes / 60).toFixed(1)} hours) can be done in order within the shift, ${shift.from} to ${shift.to}${light}, each under its own limits${limits}.`;
}

/** Clock time on site, `HH:MM`, of a minute after midnight of a record's clock on a date of the year; by the record's clock where there is no zone. */
export function clockOnSite(
  {
    year,
    zone,
    standardOffsetMin,
  }: { readonly year: number; readonly zone: string | null; readonly standardOffsetMin: number },
  date: number,
  minute: number,
): string {
  if (zone === null) {
    const two = (value: number): string => String(value).padStart(2, '0');
    return `${two(Math.floor(minute / 60))}:${two(minute % 60)}`;
  }
  const leap = dayFromParts(year + 1, 1, 1) - dayFromParts(year, 1, 1) === 366;
  const { month, dayOfMonth } = monthAndDay(!leap && date === 59 ? 58 : date);
  const utcMin = dayFromParts(year, month, dayOfMonth) * 1440 + minute - standardOffsetMin;
  return instantToLocal(instantFromMs(utcMin * 60_000), zone).time.slice(0, 5);
}

/** Clock time on site by which work must begin on a date, `HH:MM`; null where no day is good. */
export function localStartOf(
  { shift, year }: WindowContent,
  { standardOffsetMin }: Pick<WindowResult, 'standardOffsetMin'>,
  { date, latestStartMin }: Pick<WindowRow, 'date' | 'latestStartMin'>,
): string | null {
  if (latestStartMin === null) return null;
  return clockOnSite({ year, zone: shift.zone, standardOffsetMin }, date, latestStartMin);
}
