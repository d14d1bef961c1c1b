import { type Instant, instantFromMs, instantToMs } from '../../kernel/src/index.ts';

/** An HTTP date (RFC 9110, IMF-fixdate) as an instant; null when it is none. */
export function instantOfHttpDate(text: string | null): Instant | null {
  if (text === null || !/^[A-Z][a-z]{2}, \d{2} [A-Z][a-z]{2} \d{4} \d{2}:\d{2}:\d{2} GMT$/.test(text))
    return null;
  const ms = Date.parse(text);
  return Number.isNaN(ms) ? null : instantFromMs(ms);
}

/** When an answer may be asked for again by its own word: Cache-Control max-age, else Expires (RFC 9111); null: it does not say. */
export function staleFrom(headers: Headers, now: Instant): Instant | null {
  const maxAge = /(?:^|[,\s])max-age=(\d{1,8})/i.exec(headers.get('cache-control') ?? '');
  if (maxAge) {
    const age = Number(/^\d{1,8}$/.exec(headers.get('age') ?? '')?.[0] ?? 0);
    return instantFromMs(instantToMs(now) + Math.max(0, Number(maxAge[1]) - age) * 1000);
  }
  return instantOfHttpDate(headers.get('expires'));
}

const LONGEST_PATIENCE_MS = 86_400_000;

/** Retry-After (RFC 9110): seconds or a date; null when it is not there or already over. Never more than a day. */
export function retryAfterOf(headers: Headers, now: Instant): Instant | null {
  const text = headers.get('retry-after')?.trim() ?? '';
  const at = /^\d{1,9}$/.test(text)
    ? instantFromMs(instantToMs(now) + Number(text) * 1000)
    : instantOfHttpDate(text);
  if (at === null || at <= now) return null;
  return instantFromMs(Math.min(instantToMs(at), instantToMs(now) + LONGEST_PATIENCE_MS));
}

/**
 * The moment of the next fetch: when the answer is stale, but never sooner than `leastMin` from now and never later than `mostMin`, and a few
 * minutes later by chance, so that not everybody asks on the hour.
 */
export function nextFetch(input: {
  readonly now: Instant;
  readonly stale: Instant | null;
  readonly leastMin: number;
  readonly mostMin: number;
  /** From 0 up to, not including, 1. */
  readonly chance: number;
}): Instant {
  const { now, stale, leastMin, mostMin, chance } = input;
  const nowMs = instantToMs(now);
  const staleMs = stale === null ? nowMs : instantToMs(stale);
  const fromMs = Math.min(Math.max(staleMs, nowMs + leastMin * 60_000), nowMs + mostMin * 60_000);
  return instantFromMs(fromMs + Math.floor(chance * SPREAD_MS));
}

const SPREAD_MS = 6 * 60_000;
