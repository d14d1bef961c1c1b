import { z } from 'zod';
import { PROBLEM_MEDIA_TYPE, problemSchema } from '../errors/problem.ts';
import type { BodySpec, EndpointSpec, ResponseSpec } from './endpoint.ts';

type Json = Record<string, unknown>;

/** Facts about the document as a whole. */
export interface OpenApiInfo {
  readonly title: string;
  readonly version: string;
  readonly description: string;
  readonly serverUrl: string;
}

/**
 * The OpenAPI 3.1 document of the endpoints, from the same schemas that check requests and answers.
 * Throws when two schemas share an id and differ, or two endpoints share an id or an address.
 */
export function buildOpenApi(endpoints: readonly EndpointSpec[], info: OpenApiInfo): Json {
  const schemas = new SchemaStore();
  const paths: Record<string, Json> = {};
  const ids = new Set<string>();
  for (const endpoint of endpoints) {
    const path = endpoint.path.replace(/:([A-Za-z][A-Za-z0-9]*)/g, '{$1}');
    const method = endpoint.method.toLowerCase();
    if (ids.has(endpoint.id) || paths[path]?.[method])
      throw new TypeError(`Endpoint ${endpoint.id} is described twice.`);
    ids.add(endpoint.id);
    paths[path] = { ...paths[path], [method]: operationOf(endpoint, schemas) };
  }
  schemas.reference(problemSchema, 'output');
  return {
    openapi: '3.1.0',
    info: { title: info.title, version: info.version, description: info.description },
    servers: [{ url: info.serverUrl }],
    tags: [...new Set(endpoints.flatMap((endpoint) => endpoint.tags))].sort().map((name) => ({ name })),
    paths,
    components: {
      schemas: schemas.all(),
      securitySchemes: {
        session: {
          type: 'apiKey',
          in: 'cookie',
          name: 'dryspell_session',
          description: 'Session of a browser',
        },
        bearer: { type: 'http', scheme: 'bearer', description: 'Session of a program' },
      },
    },
  };
}

function operationOf(endpoint: EndpointSpec, schemas: SchemaStore): Json {
  const signedIn = Array.isArray(endpoint.access);
  const responses: Record<string, Json> = {};
  for (const [status, response] of Object.entries(endpoint.responses))
    responses[status] = responseOf(response, endpoint, schemas);
  responses['default'] = {
    description: 'Anything that went wrong',
    content: { [PROBLEM_MEDIA_TYPE]: { schema: schemas.reference(problemSchema, 'output') } },
  };
  return {
    operationId: endpoint.id,
    summary: endpoint.summary,
    description: [endpoint.description, accessWords(endpoint)].filter(Boolean).join('\n\n'),
    tags: endpoint.tags,
    security: signedIn ? [{ session: [] }, { bearer: [] }] : [],
    parameters: [
      ...parametersOf(endpoint.params, 'path', schemas),
      ...parametersOf(endpoint.query, 'query', schemas),
      ...headersOf(endpoint),
    ],
    ...(endpoint.body ? { requestBody: requestBodyOf(endpoint.body, schemas) } : {}),
    responses,
  };
}

function accessWords(endpoint: EndpointSpec): string {
  const { access } = endpoint;
  if (access === 'public') return 'Open to anybody.';
  if ('link' in access) return `For the holder of a link of the kind ${access.link.join(' or ')}.`;
  if ('feed' in access) return 'For the holder of the secret address of a calendar.';
  return `For: ${access.join(', ')}.`;
}

function responseOf(response: ResponseSpec, endpoint: EndpointSpec, schemas: SchemaStore): Json {
  if (response.mediaType === null) return { description: response.description };
  const schema = response.schema ? schemas.reference(response.schema, 'output') : { type: 'string' };
  return {
    description: response.description,
    ...(endpoint.etag === 'none'
      ? {}
      : { headers: { ETag: { description: 'The version', schema: { type: 'string' } } } }),
    content: { [response.mediaType]: { schema } },
  };
}

function requestBodyOf(body: BodySpec<z.ZodType>, schemas: SchemaStore): Json {
  if (body.kind === 'file') {
    const content = Object.fromEntries(body.mediaTypes.map((mediaType) => [mediaType, { schema: {} }]));
    return { required: true, content };
  }
  const mediaType = body.kind === 'json' ? 'application/json' : 'application/x-www-form-urlencoded';
  return { required: true, content: { [mediaType]: { schema: schemas.reference(body.schema, 'input') } } };
}

function parametersOf(schema: z.ZodType, where: 'path' | 'query', schemas: SchemaStore): Json[] {
  const { properties = {}, required = [] } = schemas.inline(schema, 'input') as {
    properties?: Record<string, Json>;
    required?: string[];
  };
  return Object.entries(properties).map(([name, property]) => {
    const { description, ...rest } = property;
    return {
      name,
      in: where,
      required: where === 'path' || required.includes(name),
      ...(description ? { description } : {}),
      schema: rest,
    };
  });
}

function headersOf(endpoint: EndpointSpec): Json[] {
  const headers: Json[] = [];
  if (endpoint.etag === 'requires') {
    headers.push({
      name: 'If-Match',
      in: 'header',
      required: true,
      description: 'The ETag of the version that you changed',
      schema: { type: 'string' },
    });
  }
  if (endpoint.idempotency !== 'none') {
    headers.push({
      name: 'Idempotency-Key',
      in: 'header',
      required: endpoint.idempotency === 'required',
      description:
        'A random key; repeat the request with the same key to get the same answer without doing it twice',
      schema: { type: 'string', minLength: 8, maxLength: 200 },
    });
  }
  return headers;
}

type Direction = 'input' | 'output';

/** Collects the named schemas of the document and hands out references to them. */
class SchemaStore {
  private readonly named = new Map<string, Json>();
  private readonly cache = new Map<z.ZodType, Partial<Record<Direction, Json>>>();

  inline(schema: z.ZodType, direction: Direction): Json {
    const {
      $schema: _dialect,
      $defs = {},
      ...own
    } = z.toJSONSchema(schema, {
      io: direction,
      target: 'draft-2020-12',
      unrepresentable: 'any',
    }) as Json & { $defs?: Record<string, Json> };
    const renamed = new Map<string, string>();
    for (const id of Object.keys($defs)) renamed.set(id, nameFor(id, direction));
    for (const [id, definition] of Object.entries($defs)) {
      const { id: _id, ...rest } = rewrite(definition, renamed) as Json;
      this.keep(renamed.get(id) as string, rest);
    }
    return rewrite(own, renamed) as Json;
  }

  reference(schema: z.ZodType, direction: Direction): Json {
    const cached = this.cache.get(schema)?.[direction];
    if (cached) return cached;
    const reference = this.inline(schema, direction);
    this.cache.set(schema, { ...this.cache.get(schema), [direction]: reference });
    return reference;
  }

  all(): Record<string, Json> {
    return Object.fromEntries([...this.named].sort(([a], [b]) => (a < b ? -1 : 1)));
  }

  private keep(name: string, definition: Json): void {
    const text = JSON.stringify(definition);
    const old = this.named.get(name);
    if (old && JSON.stringify(old) !== text) throw new TypeError(`Two schemas are called ${name}.`);
    this.named.set(name, definition);
  }
}

/** A schema may be looser when it comes in (defaults, unknown members), so it has another name there. */
const nameFor = (id: string, direction: Direction): string => (direction === 'output' ? id : `${id}Input`);

function rewrite(value: unknown, renamed: ReadonlyMap<string, string>): unknown {
  if (Array.isArray(value)) return value.map((item) => rewrite(item, renamed));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, item]) => {
      if (name === '$ref' && typeof item === 'string') {
        const id = item.replace('#/$defs/', '');
        return [name, `#/components/schemas/${renamed.get(id) ?? id}`];
      }
      return [name, rewrite(item, renamed)];
    }),
  );
}
