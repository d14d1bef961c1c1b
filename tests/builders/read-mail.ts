/** A mail as a mail program shows it (RFC 5322, RFC 2045 to 2047), read without the library that wrote it. */
export interface ReadMail {
  readonly subject: string;
  readonly messageId: string;
  readonly from: string;
  readonly text: string;
  readonly html: string;
  /** Every part of the type text/calendar, in their order. */
  readonly calendars: readonly { readonly method: string | null; readonly content: string }[];
}

interface Part {
  readonly headers: ReadonlyMap<string, string>;
  readonly body: string;
}

/** Reads a mail as it went over the wire. Throws when a part that is needed to show it is missing. */
export function readMail(raw: string): ReadMail {
  const mail = partOf(raw);
  const leaves = leavesOf(mail);
  const first = (type: string): string => {
    const found = leaves.find((part) => typeOf(part) === type);
    if (!found) throw new Error(`the mail "${mail.headers.get('subject')}" has no ${type} part`);
    return decodedBody(found);
  };
  return {
    subject: decodedWords(mail.headers.get('subject') ?? ''),
    messageId: mail.headers.get('message-id') ?? '',
    from: decodedWords(mail.headers.get('from') ?? ''),
    text: first('text/plain'),
    html: first('text/html'),
    calendars: leaves
      .filter((part) => typeOf(part) === 'text/calendar')
      .map((part) => ({ method: parameterOf(part, 'method'), content: decodedBody(part) })),
  };
}

function partOf(raw: string): Part {
  const end = raw.indexOf('\r\n\r\n');
  const head = end < 0 ? raw : raw.slice(0, end);
  const headers = new Map<string, string>();
  for (const line of head.replace(/\r\n[ \t]+/g, ' ').split('\r\n')) {
    const colon = line.indexOf(':');
    if (colon > 0) headers.set(line.slice(0, colon).trim().toLowerCase(), line.slice(colon + 1).trim());
  }
  return { headers, body: end < 0 ? '' : raw.slice(end + 4) };
}

function leavesOf(part: Part): Part[] {
  if (!typeOf(part).startsWith('multipart/')) return [part];
  const boundary = parameterOf(part, 'boundary');
  if (boundary === null) throw new Error('a part of several has no boundary');
  const pieces = `\r\n${part.body}`.split(`\r\n--${boundary}`);
  // Before the first boundary stands what no mail program shows; after the closing one as well.
  return pieces
    .slice(1)
    .filter((piece) => !piece.startsWith('--'))
    .flatMap((piece) => leavesOf(partOf(piece.replace(/^[ \t]*\r\n/, ''))));
}

const contentType = ({ headers }: Part): string => headers.get('content-type') ?? 'text/plain';
const typeOf = (part: Part): string => (contentType(part).split(';')[0] ?? '').trim().toLowerCase();

function parameterOf(part: Part, name: string): string | null {
  const found = new RegExp(`;\\s*${name}=(?:"([^"]*)"|([^;\\s]+))`, 'i').exec(contentType(part));
  return found?.[1] ?? found?.[2] ?? null;
}

function decodedBody(part: Part): string {
  const encoding = (part.headers.get('content-transfer-encoding') ?? '7bit').toLowerCase();
  if (encoding === 'base64') return Buffer.from(part.body, 'base64').toString('utf8');
  if (encoding === 'quoted-printable') return quotedPrintable(part.body.replace(/[ \t]*=\r\n/g, ''));
  return part.body;
}

function quotedPrintable(text: string): string {
  const bytes = text.replace(/=([0-9A-F]{2})/gi, (_all, hex: string) =>
    String.fromCharCode(Number.parseInt(hex, 16)),
  );
  return Buffer.from(bytes, 'latin1').toString('utf8');
}

function decodedWords(text: string): string {
  return text
    .replace(/(\?=)\s+(=\?)/g, '$1$2')
    .replace(/=\?utf-8\?([bq])\?([^?]*)\?=/gi, (_all, kind: string, word: string) =>
      kind.toLowerCase() === 'b'
        ? Buffer.from(word, 'base64').toString('utf8')
        : quotedPrintable(word.replaceAll('_', ' ')),
    );
}
