import { type Instant, instantFromMs, instantToMs } from '../../../kernel/src/index.ts';
import { daysInMonth, hourIndexOf, localDateOfHour } from '../record-clock.ts';

const HOUR_MS = 3_600_000;

/**
 * The instant of a day of the month, hour (24 is the next midnight) and minute in UTC that lies nearest to a reference: reports name no month. Null
 * when there is no such day in the month before, of or after it, or no such hour.
 */
export function nearestInstant(
  dayOfMonth: number,
  hour: number,
  minute: number,
  reference: Instant,
): Instant | null {
  if (hour > 24 || minute > 59 || (hour === 24 && minute > 0)) return null;
  const referenceMs = instantToMs(reference);
  const { year, month } = localDateOfHour(Math.floor(referenceMs / HOUR_MS));
  let nearest: number | null = null;
  for (const shift of [-1, 0, 1]) {
    const months = year * 12 + month - 1 + shift;
    const [inYear, inMonth] = [Math.floor(months / 12), (months % 12) + 1];
    if (dayOfMonth < 1 || dayOfMonth > daysInMonth(inYear, inMonth)) continue;
    const ms = hourIndexOf(inYear, inMonth, dayOfMonth, hour) * HOUR_MS + minute * 60_000;
    if (nearest === null || Math.abs(ms - referenceMs) < Math.abs(nearest - referenceMs)) nearest = ms;
  }
  return nearest === null ? null : instantFromMs(nearest);
}

/** `221630Z`. */
export function dayTime(word: string | undefined, reference: Instant): Instant | null {
  const parts = /^(\d{2})(\d{2})(\d{2})Z$/.exec(word ?? '');
  return parts ? nearestInstant(Number(parts[1]), Number(parts[2]), Number(parts[3]), reference) : null;
}

export interface InstantSpan {
  readonly from: Instant;
  readonly to: Instant;
}

/** `1606/1624`, day and hour of the start and the end, near a reference; null for anything else, or an end before the start. */
export function dayHourSpan(word: string | undefined, reference: Instant): InstantSpan | null {
  const parts = /^(\d{2})(\d{2})\/(\d{2})(\d{2})$/.exec(word ?? '');
  const from = parts && nearestInstant(Number(parts[1]), Number(parts[2]), 0, reference);
  const to = from && nearestInstant(Number(parts[3]), Number(parts[4]), 0, from);
  return from && to && to > from ? { from, to } : null;
}

/** The words of a report, without the sign that ends it. */
export function wordsOf(text: string): string[] {
  return text
    .replace(/=\s*$/, '')
    .split(/\s+/)
    .filter((word) => word !== '');
}

/** A location indicator of four letters and figures, beginning with a letter. */
export function isStation(word: string | undefined): word is string {
  return /^[A-Z][A-Z0-9]{3}$/.test(word ?? '');
}
