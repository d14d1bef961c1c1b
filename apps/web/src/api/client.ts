import createClient from 'openapi-fetch';
import { TroubleError, troubleFromProblem } from './problem.ts';
import type { components, paths } from './schema.d.ts';

/** The client made from the description of the API; the session travels as a cookie that no script can read. */
export const api = createClient<paths>({ credentials: 'same-origin' });

/** A named schema of the API. */
export type Schema<K extends keyof components['schemas']> = components['schemas'][K];

const sessionEnded = new Set<() => void>();

/** Calls `listener` whenever the server says that nobody is signed in; gives back how to stop that. */
export function onSessionEnded(listener: () => void): () => void {
  sessionEnded.add(listener);
  return () => sessionEnded.delete(listener);
}

interface Answered<T> {
  readonly data?: T;
  readonly error?: unknown;
  readonly response: Response;
}

/** What was asked for, or a `TroubleError` that says what went wrong. */
export async function take<T>(call: Promise<Answered<T>>): Promise<T> {
  const { data, error, response } = await call;
  if (response.ok) return data as T;
  if (response.status === 401) for (const listener of sessionEnded) listener();
  throw new TroubleError(troubleFromProblem(error, response.status));
}

/** The header that names the version which a change was made to. */
export const ifMatch = (version: number): { 'If-Match': string } => ({ 'If-Match': `"${version}"` });

/** A fresh key for a request that must happen once even when it is sent twice. */
export const freshKey = (): string => crypto.randomUUID();
