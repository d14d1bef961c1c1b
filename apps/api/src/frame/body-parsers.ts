import type { FastifyInstance } from 'fastify';

/** Media type of a workbook. */
export const WORKBOOK_MEDIA_TYPE = 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet';

/** Largest season file or workbook that is read. */
export const UPLOAD_MAX_BYTES = 20_000_000;

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
  for (const mediaType of [WORKBOOK_MEDIA_TYPE, 'application/zip']) {
    server.addContentTypeParser(
      mediaType,
      { parseAs: 'buffer', bodyLimit: UPLOAD_MAX_BYTES },
      (_request, body, done) => {
        done(null, body);
      },
    );
  }
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
