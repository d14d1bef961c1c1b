import { DryspellError } from './dryspell-error.ts';
import { type Instant, instantFromMs, instantToMs } from './instant.ts';
import { type LocalDate, toDay, toLocalDate } from './local-date.ts';
import { offsetMinAt, offsetsMinBetween } from './zone-data.ts';

const MS_PER_MIN = 60_000;
const MS_PER_DAY = 86_400_000;
const TIME_SHAPE = /^([01]\d|2[0-3]):([0-5]\d)(?::([0-5]\d)(?:\.(\d{1,3}))?)?$/;
/** No clock change moves the clocks by more than a day (Apia left out one day in 2011). */
const REACH_MS = 26 * 3_600_000;

/** A local date and wall time in an IANA zone. `time` is `HH:MM`, `HH:MM:SS` or with milliseconds. */
export interface LocalMoment {
  readonly date: LocalDate;
  readonly time: string;
  readonly zone: string;
}

/** What to do with a wall time that the clocks skip or show twice. */
export interface ClockChangeRule {
  /**
   * `offset-before`: as RFC 5545 section 3.3.5, read with the offset before the gap, so 02:30 becomes 03:30 (default).
   * `next-valid`: the first wall time after the gap, so 02:30 becomes 03:00.
   */
  readonly inGap?: 'next-valid' | 'offset-before';
  /** Which of the two: the `first`, as RFC 5545 section 3.3.5 (default), or the `second`. */
  readonly inOverlap?: 'first' | 'second';
}

/** An instant and how the wall time led to it. */
export interface LocalToInstant {
  readonly instant: Instant;
  /** `exact`: the wall time exists once; `gap`: not at all; `overlap`: twice. */
  readonly found: 'exact' | 'gap' | 'overlap';
}

/**
 * The instant of a wall time, and whether the clocks showed it once, never or twice that day.
 * Throws `invalid-date`, `unknown-zone`, or `invalid-input` for a time that is not on a 24-hour clock.
 */
export function localToInstant(moment: LocalMoment, rule: ClockChangeRule = {}): LocalToInstant {
  const wallMs = toDay(moment.date) * MS_PER_DAY + timeOfDayMs(moment.time);
  const offsets = offsetsMinBetween(moment.zone, wallMs - REACH_MS, wallMs + REACH_MS);
  const matches = offsets
    .map((offsetMin) => wallMs - offsetMin * MS_PER_MIN)
    .filter((epochMs) => epochMs + offsetMinAt(moment.zone, epochMs) * MS_PER_MIN === wallMs)
    .sort((a, b) => a - b);
  const [first] = matches;
  if (first === undefined) return { instant: instantFromMs(inGap(moment.zone, wallMs, rule)), found: 'gap' };
  if (matches.length === 1) return { instant: instantFromMs(first), found: 'exact' };
  const chosen = rule.inOverlap === 'second' ? (matches.at(-1) as number) : first;
  return { instant: instantFromMs(chosen), found: 'overlap' };
}

/** A wall time as people read it, with the offset that was in force. */
export interface LocalReading {
  readonly date: LocalDate;
  /** `HH:MM:SS`. */
  readonly time: string;
  /** Minutes ahead of UTC. */
  readonly offsetMin: number;
}

/** The wall time in a zone at an instant. Throws `unknown-zone`. */
export function instantToLocal(instant: Instant, zone: string): LocalReading {
  const epochMs = instantToMs(instant);
  const offsetMin = offsetMinAt(zone, epochMs);
  const wallMs = epochMs + offsetMin * MS_PER_MIN;
  const day = Math.floor(wallMs / MS_PER_DAY);
  return { date: toLocalDate(day), time: new Date(wallMs).toISOString().slice(11, 19), offsetMin };
}

/** The local date in a zone at an instant. */
export function localDateAt(instant: Instant, zone: string): LocalDate {
  return instantToLocal(instant, zone).date;
}

/** The first instant of a local date, also where midnight does not exist; undefined when the date itself was left out. */
export function startOfLocalDay(date: LocalDate, zone: string): Instant | undefined {
  const start = localToInstant(
    { date, time: '00:00', zone },
    { inGap: 'next-valid', inOverlap: 'first' },
  ).instant;
  return localDateAt(start, zone) === date ? start : undefined;
}

/**
 * Hours between the start of a local date and the start of the next: 24, or 23, 25, 23.5, 24.5 on a clock-change day.
 * 0 for a date that the zone left out.
 */
export function hoursInLocalDay(date: LocalDate, zone: string): number {
  const next = toLocalDate(toDay(date) + 1);
  const at = (day: LocalDate): number =>
    instantToMs(
      localToInstant({ date: day, time: '00:00', zone }, { inGap: 'next-valid', inOverlap: 'first' }).instant,
    );
  return (at(next) - at(date)) / 3_600_000;
}

function timeOfDayMs(time: string): number {
  const parts = TIME_SHAPE.exec(time);
  if (!parts)
    throw new DryspellError('invalid-input', {
      field: 'time',
      value: time,
      expected: 'HH:MM on a 24-hour clock',
    });
  const fraction = Number((parts[4] ?? '').padEnd(3, '0'));
  return ((Number(parts[1]) * 60 + Number(parts[2])) * 60 + Number(parts[3] ?? 0)) * 1000 + fraction;
}

/** The answer for a wall time that the clocks skipped: finds the change by halving, to the millisecond. */
function inGap(zone: string, wallMs: number, rule: ClockChangeRule): number {
  const wallAt = (epochMs: number): number => epochMs + offsetMinAt(zone, epochMs) * MS_PER_MIN;
  // Wall time runs past `wallMs` somewhere in this range, and only jumps over it at the change.
  let before = wallMs - REACH_MS;
  let after = wallMs + REACH_MS;
  while (after - before > 1) {
    const middle = Math.floor((before + after) / 2);
    if (wallAt(middle) < wallMs) before = middle;
    else after = middle;
  }
  return rule.inGap === 'next-valid' ? after : wallMs - offsetMinAt(zone, before) * MS_PER_MIN;
}
