import type { Readable } from 'node:stream';

/** An answer that says more than its JSON body: a status, headers, or a body that is no JSON. */
export class Reply {
  readonly status: number;
  readonly body: unknown;
  readonly headers: Readonly<Record<string, string>>;
  readonly mediaType: string | null;

  private constructor(
    status: number,
    body: unknown,
    headers: Readonly<Record<string, string>>,
    mediaType: string | null,
  ) {
    this.status = status;
    this.body = body;
    this.headers = headers;
    this.mediaType = mediaType;
  }

  /** JSON, checked and stripped by the schema that the endpoint has for the status. */
  static json(status: number, body: unknown, headers: Readonly<Record<string, string>> = {}): Reply {
    return new Reply(status, body, headers, null);
  }

  static empty(status: number, headers: Readonly<Record<string, string>> = {}): Reply {
    return new Reply(status, undefined, headers, null);
  }

  /** Bytes, text or a stream of the given media type. */
  static raw(
    status: number,
    mediaType: string,
    body: string | Uint8Array | Readable,
    headers: Readonly<Record<string, string>> = {},
  ): Reply {
    return new Reply(status, body, headers, mediaType);
  }

  static page(status: number, html: string, headers: Readonly<Record<string, string>> = {}): Reply {
    return new Reply(status, html, headers, 'text/html; charset=utf-8');
  }

  /** "See other": the browser goes on with a GET of the address. */
  static seeOther(location: string, headers: Readonly<Record<string, string>> = {}): Reply {
    return new Reply(303, undefined, { ...headers, location }, null);
  }
}
