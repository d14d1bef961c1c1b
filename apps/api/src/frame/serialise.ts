import type { Readable } from 'node:stream';
import type { EndpointSpec } from '../../../../libs/contracts/src/http/endpoint.ts';
import { DryspellError } from '../../../../libs/kernel/src/index.ts';
import type { Reply } from './reply.ts';

/** An answer as it goes out. */
export interface SentAnswer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly mediaType: string | null;
  readonly body: string | Uint8Array | Readable | undefined;
  /** Version of what the body shows, for the ETag; null: it has none. */
  readonly version: number | null;
}

/**
 * Writes an answer as the endpoint describes it. JSON goes through the schema, which drops all that it does not name;
 * a body that the schema refuses, or a status that the endpoint does not have, is our own fault and throws `internal`.
 */
export function serialise(endpoint: EndpointSpec, reply: Reply): SentAnswer {
  const described = endpoint.responses[reply.status];
  const plain = { status: reply.status, headers: reply.headers, version: null };
  if (!described) throw broken(endpoint, `status ${reply.status} is not described`);
  if (reply.mediaType !== null)
    return { ...plain, mediaType: reply.mediaType, body: reply.body as SentAnswer['body'] };
  if (!described.schema) return { ...plain, mediaType: null, body: undefined };
  const parsed = described.schema.safeParse(reply.body);
  if (!parsed.success) throw broken(endpoint, parsed.error.message);
  const { version } = (parsed.data ?? {}) as { version?: unknown };
  return {
    ...plain,
    mediaType: 'application/json; charset=utf-8',
    body: JSON.stringify(parsed.data),
    version: typeof version === 'number' ? version : null,
  };
}

const broken = (endpoint: EndpointSpec, reason: string) =>
  new DryspellError('internal', { endpoint: endpoint.id, reason });
