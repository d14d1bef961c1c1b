import type { FastifyRequest } from 'fastify';
import type { z } from 'zod';
import { type Fault, faultsOf } from '../../../../libs/contracts/src/errors/problem.ts';
import type { EndpointSpec, InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import { DryspellError } from '../../../../libs/kernel/src/index.ts';
import { versionOf } from './etag.ts';
import { ProblemError } from './problem-error.ts';

/** Checks all that came with a request against its endpoint. Throws with every fault found, not only the first. */
export function checkInput(request: FastifyRequest, endpoint: EndpointSpec): InputOf<EndpointSpec> {
  const params = endpoint.params.safeParse(request.params);
  // A key or id that cannot exist does not exist.
  if (!params.success) throw new DryspellError('not-found');
  const faults: Fault[] = [];
  const query = take(endpoint.query, request.query, 'query', faults);
  const { body, file } = takeBody(request, endpoint, faults);
  if (faults.length > 0) throw new ProblemError('invalid-input', { errors: faults });
  const version = endpoint.etag === 'requires' ? versionOf(request.headers['if-match']) : 0;
  return { params: params.data, query, body: body as never, version, file };
}

function take(schema: z.ZodType, value: unknown, name: string, faults: Fault[]): unknown {
  const parsed = schema.safeParse(value ?? {});
  if (parsed.success) return parsed.data;
  faults.push(...faultsOf(parsed.error, name));
  return undefined;
}

function takeBody(request: FastifyRequest, endpoint: EndpointSpec, faults: Fault[]) {
  const spec = endpoint.body;
  if (!spec) return { body: undefined, file: null };
  const mediaType = (request.headers['content-type'] ?? '').split(';')[0]?.trim().toLowerCase() ?? '';
  if (spec.kind === 'file') {
    if (!spec.mediaTypes.includes(mediaType))
      throw new ProblemError('media-type-not-supported', { facts: { accepted: spec.mediaTypes } });
    const bytes = request.body instanceof Uint8Array ? request.body : null;
    if (Number(request.headers['content-length'] ?? bytes?.length ?? 0) > spec.maxBytes) {
      throw new DryspellError('too-large', { maxBytes: spec.maxBytes });
    }
    const stream = spec.streamed ? (request.body as AsyncIterable<Uint8Array>) : null;
    const json = bytes || stream ? null : request.body;
    return { body: undefined, file: { bytes, json, stream, mediaType } };
  }
  const wanted = spec.kind === 'json' ? 'application/json' : 'application/x-www-form-urlencoded';
  if (mediaType !== wanted && request.body !== undefined && request.body !== null) {
    throw new ProblemError('media-type-not-supported', { facts: { accepted: [wanted] } });
  }
  return { body: take(spec.schema, request.body, 'body', faults), file: null };
}
