// A caller over HTTP as a person's browser or a program is one: it keeps cookies, follows no redirect by itself, and
// fills in the forms of the pages it is given.
import http from 'node:http';

export interface Answer<Body = unknown> {
  readonly status: number;
  readonly headers: Headers;
  readonly text: string;
  /** The body read as JSON; throws when it is none. */
  readonly body: Body;
}

export interface Request {
  readonly json?: unknown;
  readonly form?: Readonly<Record<string, string | readonly string[]>>;
  readonly file?: { readonly bytes: Uint8Array | string; readonly mediaType: string };
  /** The version that the caller saw. */
  readonly ifMatch?: string | undefined;
  readonly idempotencyKey?: string | undefined;
}

/** A form of a page, as a browser knows it before anybody has touched it. */
export interface Form {
  readonly action: string;
  readonly text: string;
  /** Values that are sent as they are: hidden and filled-in fields. */
  readonly values: Readonly<Record<string, string>>;
  readonly fields: readonly { readonly name: string; readonly type: string; readonly value: string }[];
}

export class HttpClient {
  readonly #cookies = new Map<string, string>();

  /** `origin`: scheme, host and port, as people type it. */
  constructor(readonly origin: string) {}

  get<Body>(path: string): Promise<Answer<Body>> {
    return this.send('GET', path);
  }

  post<Body>(path: string, request: Request = {}): Promise<Answer<Body>> {
    return this.send('POST', path, request);
  }

  async send<Body>(method: string, path: string, request: Request = {}): Promise<Answer<Body>> {
    const headers: Record<string, string> = { accept: '*/*' };
    if (this.#cookies.size > 0)
      headers['cookie'] = [...this.#cookies].map(([k, v]) => `${k}=${v}`).join('; ');
    // A browser names the page's origin with every change.
    if (method !== 'GET') headers['origin'] = this.origin;
    if (request.ifMatch !== undefined) headers['if-match'] = request.ifMatch;
    if (request.idempotencyKey !== undefined) headers['idempotency-key'] = request.idempotencyKey;
    const { content, mediaType } = contentOf(request);
    if (mediaType !== null) headers['content-type'] = mediaType;
    const response = await exchange(new URL(path, this.origin), method, headers, content);
    this.#keepCookies(response.headers);
    const { text } = response;
    return {
      ...response,
      get body() {
        return JSON.parse(text) as Body;
      },
    };
  }

  /** Names of the cookies that are kept now. */
  get cookies(): string[] {
    return [...this.#cookies.keys()];
  }

  #keepCookies(headers: Headers): void {
    for (const line of headers.getSetCookie()) {
      const [pair = '', ...attributes] = line.split(';');
      const at = pair.indexOf('=');
      const name = pair.slice(0, at).trim();
      if (attributes.some((each) => /^\s*max-age=0\s*$/i.test(each))) this.#cookies.delete(name);
      else this.#cookies.set(name, pair.slice(at + 1).trim());
    }
  }
}

/** One request on a connection of its own: one that is kept could be that of a server which was killed since. */
function exchange(
  url: URL,
  method: string,
  headers: Record<string, string>,
  content: string | Uint8Array | null,
): Promise<{ status: number; headers: Headers; text: string }> {
  return new Promise((resolve, reject) => {
    const request = http.request(url, { method, headers, agent: false }, (response) => {
      const chunks: Buffer[] = [];
      response.on('data', (chunk: Buffer) => void chunks.push(chunk));
      response.once('error', reject);
      response.once('end', () => {
        const given = new Headers();
        for (const [name, values] of Object.entries(response.headersDistinct)) {
          for (const value of values ?? []) given.append(name, value);
        }
        const text = Buffer.concat(chunks).toString('utf8');
        resolve({ status: response.statusCode ?? 0, headers: given, text });
      });
    });
    request.once('error', reject);
    request.end(content ?? undefined);
  });
}

function contentOf({ json, form, file }: Request): {
  content: string | Uint8Array | null;
  mediaType: string | null;
} {
  if (json !== undefined) return { content: JSON.stringify(json), mediaType: 'application/json' };
  if (file !== undefined) return { content: file.bytes, mediaType: file.mediaType };
  if (form === undefined) return { content: null, mediaType: null };
  const pairs = new URLSearchParams();
  for (const [name, value] of Object.entries(form)) {
    for (const each of typeof value === 'string' ? [value] : value) pairs.append(name, each);
  }
  return { content: pairs.toString(), mediaType: 'application/x-www-form-urlencoded' };
}

/** The forms of a page. */
export function formsOf(html: string): Form[] {
  return [...html.matchAll(/<form\b([^>]*)>([\s\S]*?)<\/form>/gi)].map(([, head = '', inside = '']) => {
    const fields = [...inside.matchAll(/<(input|textarea|select|button)\b([^>]*)>/gi)].map(
      ([, tag = '', attributes = '']) => ({
        name: attributeOf(attributes, 'name') ?? '',
        type: attributeOf(attributes, 'type') ?? tag.toLowerCase(),
        value: attributeOf(attributes, 'value') ?? '',
      }),
    );
    const silent = fields.filter(({ name, type }) => name !== '' && ['hidden', 'text'].includes(type));
    return {
      action: attributeOf(head, 'action') ?? '',
      text: inside,
      fields,
      values: Object.fromEntries(silent.map(({ name, value }) => [name, value])),
    };
  });
}

function attributeOf(attributes: string, name: string): string | null {
  const found = new RegExp(`(?:^|\\s)${name}="([^"]*)"`, 'i').exec(attributes);
  return found === null ? null : unescaped(found[1] as string);
}

function unescaped(text: string): string {
  return text
    .replaceAll('&quot;', '"')
    .replaceAll('&#39;', "'")
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&amp;', '&');
}
