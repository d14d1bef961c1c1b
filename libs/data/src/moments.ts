import {
  addDays,
  type Instant,
  instantToLocal,
  instantToMs,
  type LocalDate,
  localToInstant,
} from '../../kernel/src/index.ts';

/** A moment as Prisma takes it. */
export function toDate(instant: Instant): Date {
  return new Date(instantToMs(instant));
}

/** A moment as Prisma gives it. */
export function toInstant(date: Date): Instant {
  return date.toISOString() as Instant;
}

export function toInstantOrNull(date: Date | null): Instant | null {
  return date === null ? null : toInstant(date);
}

/** Quiet hours of a season: from one local time to another, which may be on the next day; null: none. */
export interface QuietHours {
  readonly from: string;
  readonly to: string;
}

/** The first moment from `now` on that lies outside the quiet hours in a zone. */
export function afterQuietHours(now: Instant, zone: string, quiet: QuietHours | null): Instant {
  if (quiet === null || quiet.from === quiet.to) return now;
  const local = instantToLocal(now, zone);
  const time = local.time.slice(0, 5);
  const overMidnight = quiet.from > quiet.to;
  const isQuiet = overMidnight
    ? time >= quiet.from || time < quiet.to
    : time >= quiet.from && time < quiet.to;
  if (!isQuiet) return now;
  const date = overMidnight && time >= quiet.from ? addDays(local.date, 1) : local.date;
  const end = localToInstant({ date, time: quiet.to, zone }).instant;
  // On a clock-change day the end may be read as earlier than now.
  return end > now ? end : now;
}

/** Midnight at the end of a local date. */
export function endOfDay(date: LocalDate, zone: string): Instant {
  return localToInstant({ date: addDays(date, 1), time: '00:00', zone }, { inGap: 'next-valid' }).instant;
}
