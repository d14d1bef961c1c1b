import type { Brand } from './brand.ts';
import { DryspellError } from './dryspell-error.ts';
import { isLocalDate } from './local-date.ts';

/** A moment in UTC as text with milliseconds, `2026-12-05T16:00:00.000Z`. Texts compare in the order of time. */
export type Instant = Brand<string, 'Instant'>;

const SHAPE = /^(\d{4}-\d{2}-\d{2})T([01]\d|2[0-3]):([0-5]\d):([0-5]\d)(?:\.(\d{1,3})\d*)?Z$/;
const FIRST_MS = -62_135_596_800_000; // 0001-01-01
const LAST_MS = 253_402_300_799_999; // the end of 9999

/** The instant of an epoch time in milliseconds. Throws `invalid-instant` outside the years 0001 to 9999. */
export function instantFromMs(epochMs: number): Instant {
  if (!Number.isFinite(epochMs) || epochMs < FIRST_MS || epochMs > LAST_MS) {
    throw new DryspellError('invalid-instant', { value: epochMs });
  }
  return new Date(epochMs).toISOString() as Instant;
}

/** Milliseconds since 1970-01-01T00:00:00Z. */
export function instantToMs(instant: Instant): number {
  const epochMs = Date.parse(instant);
  if (Number.isNaN(epochMs)) throw new DryspellError('invalid-instant', { value: instant });
  return epochMs;
}

/**
 * Reads an ISO 8601 instant that ends in Z; digits past the millisecond are cut off.
 * Throws `invalid-instant` for anything else: a time without a zone is not an instant, and a leap second is not kept.
 */
export function parseInstant(text: string): Instant {
  const parts = SHAPE.exec(text);
  if (!parts || !isLocalDate(parts[1] as string)) throw new DryspellError('invalid-instant', { value: text });
  const fraction = (parts[5] ?? '').padEnd(3, '0');
  return `${parts[1]}T${parts[2]}:${parts[3]}:${parts[4]}.${fraction}Z` as Instant;
}

/** The instant some minutes later, or earlier if negative. */
export function addMinutes(instant: Instant, durationMin: number): Instant {
  return instantFromMs(instantToMs(instant) + durationMin * 60_000);
}

/** Minutes from the first instant to the second; negative when the second is earlier. */
export function minutesBetween(from: Instant, to: Instant): number {
  return (instantToMs(to) - instantToMs(from)) / 60_000;
}
