import { z } from 'zod';

/** Who a signed-in person can be. */
export const ROLES = ['manager', 'crew', 'customer', 'partner'] as const;
export type Role = (typeof ROLES)[number];

/** What a link that was sent to somebody without an account is for. */
export const LINK_PURPOSES = ['crew-assignment', 'readiness', 'partner-confirm'] as const;
export type LinkPurpose = (typeof LINK_PURPOSES)[number];

/** Who may call: certain roles, anybody, or the holder of a secret in the path (a link, a calendar feed). */
export type Access =
  | readonly Role[]
  | 'public'
  | { readonly link: readonly LinkPurpose[] }
  | { readonly feed: true };

export type Method = 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE';

/** A body that comes in: JSON or a page's form (both parsed by the schema), or a file taken as bytes. */
export type BodySpec<B extends z.ZodType> =
  | { readonly kind: 'json'; readonly schema: B }
  | { readonly kind: 'form'; readonly schema: B }
  | {
      readonly kind: 'file';
      readonly mediaTypes: readonly string[];
      readonly maxBytes: number;
      /** Whether the handler takes the bytes as they come, so that a large file never lies in memory whole. */
      readonly streamed: boolean;
    };

/** One answer of an endpoint. `schema` is for JSON only: what it does not name is not sent. */
export interface ResponseSpec {
  readonly description: string;
  readonly mediaType: string | null;
  readonly schema: z.ZodType | null;
}

/** How often one client may call, if tighter than the general limit. */
export type RateClass = 'general' | 'sign-in' | 'link';

export interface EndpointSpec<
  P extends z.ZodType = z.ZodType,
  Q extends z.ZodType = z.ZodType,
  B extends z.ZodType = z.ZodType,
> {
  /** Unique, in camel case: the operationId of the OpenAPI document. */
  readonly id: string;
  readonly method: Method;
  /** Whole path, parameters as `:name`. */
  readonly path: string;
  readonly access: Access;
  readonly params: P;
  readonly query: Q;
  readonly body: BodySpec<B> | null;
  readonly responses: Readonly<Record<number, ResponseSpec>>;
  readonly summary: string;
  readonly description: string;
  readonly tags: readonly string[];
  /** `sends`: answers carry an ETag made of `version`; `requires`: the request must name it in If-Match as well. */
  readonly etag: 'none' | 'sends' | 'requires';
  /** Whether an Idempotency-Key is kept: the same key and request get the same answer again. */
  readonly idempotency: 'none' | 'optional' | 'required';
  readonly paginated: boolean;
  readonly rate: RateClass;
}

type Given<P extends z.ZodType, Q extends z.ZodType, B extends z.ZodType> = Pick<
  EndpointSpec<P, Q, B>,
  'id' | 'method' | 'path' | 'access' | 'responses' | 'summary' | 'tags'
> &
  Partial<
    Pick<
      EndpointSpec<P, Q, B>,
      'params' | 'query' | 'body' | 'description' | 'etag' | 'idempotency' | 'paginated' | 'rate'
    >
  >;

const nothing = z.strictObject({});
type Nothing = typeof nothing;

/**
 * Describes one endpoint. Throws at load when the description contradicts itself (a path parameter without a schema,
 * a changing GET, an endpoint without an answer), so that no server starts with it.
 */
export function defineEndpoint<
  P extends z.ZodType = Nothing,
  Q extends z.ZodType = Nothing,
  B extends z.ZodType = Nothing,
>(given: Given<P, Q, B>): EndpointSpec<P, Q, B> {
  const endpoint: EndpointSpec<P, Q, B> = {
    params: nothing as unknown as P,
    query: nothing as unknown as Q,
    body: null,
    description: '',
    etag: 'none',
    idempotency: 'none',
    paginated: false,
    rate: 'general',
    ...given,
  };
  const faults = faultsOfEndpoint(endpoint);
  if (faults.length > 0) throw new TypeError(`Endpoint ${endpoint.id}: ${faults.join('; ')}.`);
  return endpoint;
}

function faultsOfEndpoint(endpoint: EndpointSpec): string[] {
  const faults: string[] = [];
  const named = pathParameters(endpoint.path);
  const described = endpoint.params instanceof z.ZodObject ? Object.keys(endpoint.params.shape) : [];
  if ([...named].sort().join() !== [...described].sort().join())
    faults.push(`path names ${named}, schema ${described}`);
  if (Object.keys(endpoint.responses).length === 0) faults.push('no response');
  if (endpoint.method === 'GET' && endpoint.body) faults.push('a GET has no body');
  if (endpoint.method === 'GET' && endpoint.idempotency !== 'none')
    faults.push('a GET needs no Idempotency-Key');
  if (Array.isArray(endpoint.access) && endpoint.access.length === 0) faults.push('nobody may call it');
  return faults;
}

/** The names of the parameters in a path. */
export function pathParameters(path: string): string[] {
  return [...path.matchAll(/:([A-Za-z][A-Za-z0-9]*)/g)].map((match) => match[1] as string);
}

/** What a handler is given, already checked. */
export interface InputOf<E extends EndpointSpec> {
  readonly params: z.output<E['params']>;
  readonly query: z.output<E['query']>;
  readonly body: E['body'] extends BodySpec<infer B> | null ? z.output<B> : never;
  /** The version named by If-Match; 0 where the endpoint does not ask for one. */
  readonly version: number;
  /** A body that comes as a file, else null: its bytes, what was read where the file is JSON, or the stream where it is taken as it comes. */
  readonly file: {
    readonly bytes: Uint8Array | null;
    readonly json: unknown;
    readonly stream: AsyncIterable<Uint8Array> | null;
    readonly mediaType: string;
  } | null;
}

/** A JSON body. */
export const jsonBody = <B extends z.ZodType>(schema: B): BodySpec<B> => ({ kind: 'json', schema });
/** A body from a page's form. */
export const formBody = <B extends z.ZodType>(schema: B): BodySpec<B> => ({ kind: 'form', schema });
/** A body taken as bytes. */
export const fileBody = (mediaTypes: readonly string[], maxBytes: number): BodySpec<Nothing> => ({
  kind: 'file',
  mediaTypes,
  maxBytes,
  streamed: false,
});
/** A body whose bytes the handler takes as they come; it must stop at `maxBytes` itself. */
export const streamBody = (mediaTypes: readonly string[], maxBytes: number): BodySpec<Nothing> => ({
  kind: 'file',
  mediaTypes,
  maxBytes,
  streamed: true,
});

/** An answer in JSON. */
export const json = (schema: z.ZodType, description: string): ResponseSpec => ({
  description,
  mediaType: 'application/json',
  schema,
});
/** An answer without a body. */
export const empty = (description: string): ResponseSpec => ({ description, mediaType: null, schema: null });
/** An answer that is a page, a file or a stream. */
export const raw = (mediaType: string, description: string): ResponseSpec => ({
  description,
  mediaType,
  schema: null,
});
/** An answer that is a page for people. */
export const page = (description: string): ResponseSpec => raw('text/html', description);
