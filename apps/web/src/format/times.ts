import { instantToLocal, localDateAt, parseInstant } from '../../../../libs/kernel/src/index.ts';
import { shortDate } from './dates.ts';

/** A moment as people at a place read it, with the zone: `Tue 1 Jun, 08:30 (America/Halifax)`. */
export function zonedTime(instant: string, zone: string): string {
  const { date, time } = instantToLocal(parseInstant(instant), zone);
  return `${shortDate(date)}, ${time.slice(0, 5)} (${zone})`;
}

/** The date at a place at a moment in milliseconds since 1970. */
export function dateAt(epochMs: number, zone: string): string {
  return localDateAt(parseInstant(new Date(epochMs).toISOString()), zone);
}

/** The time of day of a moment at a place, `08:30`. */
export function clockTime(instant: string, zone: string): string {
  return instantToLocal(parseInstant(instant), zone).time.slice(0, 5);
}
