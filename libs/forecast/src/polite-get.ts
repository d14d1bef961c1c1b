import type { Instant } from '../../kernel/src/index.ts';
import type { FetchSurroundings, KeptHeaders } from './forecast-source.port.ts';
import { retryAfterOf } from './response-times.ts';

export interface GetRequest {
  readonly url: URL;
  /** Who asks, with a way to reach them: `Dryspell/0.1 planning@example.org`. */
  readonly userAgent: string;
  readonly kept: KeptHeaders | null;
  /** Longest time for one try, from connecting to the last byte. */
  readonly timeoutMs: number;
  readonly maxBytes: number;
  readonly signal?: AbortSignal | undefined;
}

/** What came of a GET. */
export type GotResponse =
  | { readonly state: 'body'; readonly text: string; readonly headers: Headers }
  | { readonly state: 'unchanged'; readonly headers: Headers }
  | { readonly state: 'fault'; readonly reason: string; readonly retryAfter: Instant | null };

/** Tries in all where the network or the server fails. */
const TRIES = 3;
const FIRST_WAIT_MS = 1_000;
/** A server that asks for patience is left alone: the caller comes back later. */
const ASKS_FOR_PATIENCE = new Set([429, 503]);

/** A try that failed: whether another one may help at once. */
class TryFailed extends Error {
  readonly again: boolean;
  readonly retryAfter: Instant | null;
  constructor(reason: string, again: boolean, retryAfter: Instant | null = null) {
    super(reason);
    this.again = again;
    this.retryAfter = retryAfter;
  }
}

/**
 * Gets JSON as a good guest does: says who asks, sends back what it was told (ETag, Last-Modified), tries again after longer and longer
 * waits when the network or the server fails, and stops at once when it is told to. The body is decoded text of at most `maxBytes`.
 */
export async function politeGet(request: GetRequest, around: FetchSurroundings): Promise<GotResponse> {
  for (let tried = 1; ; tried += 1) {
    try {
      return await getOnce(request, around);
    } catch (error) {
      request.signal?.throwIfAborted();
      const failed =
        error instanceof TryFailed ? error : new TryFailed(networkWords(request.url, error), true);
      if (!failed.again || tried >= TRIES) {
        const often = tried > 1 ? ` It was tried ${tried} times.` : '';
        return { state: 'fault', reason: `${failed.message}${often}`, retryAfter: failed.retryAfter };
      }
      await around.pause(FIRST_WAIT_MS * 2 ** (tried - 1) * (0.5 + around.random()), request.signal);
    }
  }
}

async function getOnce(request: GetRequest, { clock }: FetchSurroundings): Promise<GotResponse> {
  const { url, userAgent, kept, timeoutMs, maxBytes } = request;
  const host = url.host;
  const timeout = AbortSignal.timeout(timeoutMs);
  const response = await fetch(url, {
    headers: {
      accept: 'application/json',
      'user-agent': userAgent,
      ...(kept?.etag ? { 'if-none-match': kept.etag } : {}),
      ...(kept?.lastModified ? { 'if-modified-since': kept.lastModified } : {}),
    },
    signal: request.signal ? AbortSignal.any([timeout, request.signal]) : timeout,
  });
  try {
    if (response.status === 304) return { state: 'unchanged', headers: response.headers };
    if (!response.ok) throw refusal(response, host, clock.now());
    const mediaType = (response.headers.get('content-type') ?? '').split(';')[0]?.trim().toLowerCase() ?? '';
    if (mediaType !== 'application/json' && !mediaType.endsWith('+json')) {
      throw new TryFailed(
        `${host} answered with ${mediaType || 'no content type'} where JSON is expected.`,
        false,
      );
    }
    return { state: 'body', text: await limitedText(response, maxBytes, host), headers: response.headers };
  } finally {
    // What is left of an answer that nobody reads would hold the connection. Giving it back fails only where the connection broke, and then
    // that error is on its way already.
    if (!response.bodyUsed) await response.body?.cancel().catch(() => undefined);
  }
}

function refusal({ status, headers }: Response, host: string, now: Instant): TryFailed {
  const retryAfter = retryAfterOf(headers, now);
  if (ASKS_FOR_PATIENCE.has(status)) {
    const words = status === 429 ? 'it is asked too often' : 'it cannot answer now';
    return new TryFailed(
      `${host} answered ${status}: ${words}.`,
      status === 503 && retryAfter === null,
      retryAfter,
    );
  }
  if (status >= 500)
    return new TryFailed(`${host} answered ${status}: it has a fault of its own.`, true, retryAfter);
  if (status === 401 || status === 403) {
    const words = 'it refuses this program. Check the contact, the key and the terms of the service.';
    return new TryFailed(`${host} answered ${status}: ${words}`, false);
  }
  if (status === 404 || status === 422) {
    return new TryFailed(
      `${host} answered ${status}: it has no forecast for this place, or the address is wrong.`,
      false,
    );
  }
  return new TryFailed(`${host} answered ${status}, which is no forecast.`, false);
}

async function limitedText(response: Response, maxBytes: number, host: string): Promise<string> {
  const decoder = new TextDecoder('utf-8');
  let bytes = 0;
  let text = '';
  for await (const chunk of response.body ?? []) {
    bytes += chunk.byteLength;
    if (bytes > maxBytes)
      throw new TryFailed(`${host} sent more than ${maxBytes} bytes, which no forecast needs.`, false);
    text += decoder.decode(chunk, { stream: true });
  }
  return text + decoder.decode();
}

function networkWords(url: URL, error: unknown): string {
  const name = error instanceof Error ? error.name : '';
  if (name === 'TimeoutError') return `${url.host} did not answer in time.`;
  const cause = error instanceof Error ? (error.cause as { code?: unknown } | undefined)?.code : undefined;
  return `${url.host} cannot be reached${typeof cause === 'string' ? ` (${cause})` : ''}.`;
}
