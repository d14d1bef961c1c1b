import type { FastifyInstance } from 'fastify';
import { UPLOAD_MAX_BYTES, WORKBOOK } from '../../../../libs/contracts/src/http/seasons.ts';
import { WEATHER_FILE_TYPES } from '../../../../libs/contracts/src/http/weather.ts';

/** Readers for page forms and for files; JSON is read by the server itself, which refuses poisoned keys. */
export function addBodyParsers(server: FastifyInstance): void {
  server.removeContentTypeParser('text/plain');
  server.addContentTypeParser(
    'application/x-www-form-urlencoded',
    { parseAs: 'string', bodyLimit: 64_000 },
    (_request, body, done) => {
      done(null, readForm(String(body)));
    },
  );
  const file = { parseAs: 'buffer', bodyLimit: UPLOAD_MAX_BYTES } as const;
  server.addContentTypeParser(WORKBOOK, file, (_request, body, done) => done(null, body));
  // Taken as they come by handlers that count the bytes; others refuse these types.
  server.addContentTypeParser([...WEATHER_FILE_TYPES], (_request, payload, done) => done(null, payload));
  // Where a file may come as JSON, the limit of the file holds, not that of other requests.
  server.addHook('onRoute', (route) => {
    const { fileMaxBytes } = (route.config ?? {}) as { fileMaxBytes?: number | null };
    if (fileMaxBytes) route.bodyLimit = fileMaxBytes;
  });
}

/** A form as a plain object; a name that comes more than once gives a list. */
export function readForm(text: string): Record<string, string | string[]> {
  const form: Record<string, string | string[]> = Object.create(null) as Record<string, string | string[]>;
  for (const [name, value] of new URLSearchParams(text)) {
    const old = form[name];
    form[name] = old === undefined ? value : Array.isArray(old) ? [...old, value] : [old, value];
  }
  return form;
}
