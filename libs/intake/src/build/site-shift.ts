import type { SeasonFile } from '../../../contracts/src/index.ts';

/** Hours after the planned ones in which a crew still works on when it had to wait. Common practice, not a published figure. */
const SHIFT_SLACK_HOURS = 2;
/** Start of a site day where the season names none. */
const USUAL_START = '08:00';

/**
 * Between when outside work of so many planned hours is looked for: from the season's start of the day until the planned hours and two more
 * are over, at the latest until a minute before midnight.
 */
export function shiftOfDay(
  season: Pick<SeasonFile['season'], 'workdayStart'>,
  plannedHours: number,
): { readonly from: string; readonly to: string } {
  const from = season.workdayStart ?? USUAL_START;
  const [hours, minutes] = from.split(':').map(Number) as [number, number];
  const end = hours * 60 + minutes + Math.round((plannedHours + SHIFT_SLACK_HOURS) * 60);
  const to = Math.min(end, 24 * 60 - 1);
  return { from, to: `${String(Math.floor(to / 60)).padStart(2, '0')}:${String(to % 60).padStart(2, '0')}` };
}
