/** A small XML reader for the parts of a workbook: elements, attributes and text, without document types. */
import { UnreadableSheet } from '../sheet-fault.ts';

export interface XmlHandler {
  /** Element and attribute names come without their prefix. */
  open?(name: string, attribute: (name: string) => string | undefined): void;
  close?(name: string): void;
  text?(text: string): void;
}

/** Reads an XML part from its first to its last element. Throws `UnreadableSheet` where it is not well formed. */
export function readXml(bytes: Uint8Array, part: string, handler: XmlHandler): void {
  const xml = decodeXml(bytes, part);
  const open: string[] = [];
  let at = xml.indexOf('<');
  while (at >= 0) {
    let end: number;
    if (xml.startsWith('<!--', at)) end = after('-->', at + 4);
    else if (xml.startsWith('<![CDATA[', at)) {
      end = after(']]>', at + 9);
      handler.text?.(lineEnds(xml.slice(at + 9, end - 3)));
    } else if (xml.startsWith('<?', at)) end = after('?>', at + 2);
    else if (xml.startsWith('<!', at)) throw malformed(part, 'it has a document type, which no workbook has');
    else {
      end = endOfTag(xml, at, part);
      readTag(xml.slice(at + 1, end - 1));
    }
    const next = xml.indexOf('<', end);
    if (open.length > 0 && next > end) handler.text?.(decodeEntities(lineEnds(xml.slice(end, next)), part));
    at = next;
  }
  if (open.length > 0) throw malformed(part, `the element ${open.at(-1)} is not closed`);

  function after(mark: string, from: number): number {
    const found = xml.indexOf(mark, from);
    if (found < 0) throw malformed(part, `"${mark}" is missing`);
    return found + mark.length;
  }

  function readTag(tag: string): void {
    if (tag.startsWith('/')) {
      const name = withoutPrefix(tag.slice(1).trim());
      if (open.pop() !== name) throw malformed(part, `the element ${name} is closed in the wrong place`);
      handler.close?.(name);
      return;
    }
    const selfClosing = tag.endsWith('/');
    const qualified = /^[^\s/]+/.exec(tag)?.[0] ?? '';
    const name = withoutPrefix(qualified);
    handler.open?.(name, (wanted) => attributeOf(tag.slice(qualified.length), wanted, part));
    if (selfClosing) handler.close?.(name);
    else open.push(name);
  }
}

function endOfTag(xml: string, start: number, part: string): number {
  let quote = 0;
  for (let at = start + 1; at < xml.length; at += 1) {
    const code = xml.charCodeAt(at);
    if (quote !== 0) quote = code === quote ? 0 : quote;
    else if (code === 0x22 || code === 0x27) quote = code;
    else if (code === 0x3e) return at + 1;
  }
  throw malformed(part, 'it ends inside an element');
}

function attributeOf(tag: string, wanted: string, part: string): string | undefined {
  for (const found of tag.matchAll(/([^\s=/]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g)) {
    if (withoutPrefix(found[1] as string) === wanted) return decodeEntities(found[2] ?? found[3] ?? '', part);
  }
  return undefined;
}

function withoutPrefix(name: string): string {
  return name.slice(name.indexOf(':') + 1);
}

/** XML 1.0, 2.11: every line end is read as a line feed. */
function lineEnds(text: string): string {
  return text.includes('\r') ? text.replace(/\r\n?/g, '\n') : text;
}

const NAMED: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

function decodeEntities(text: string, part: string): string {
  if (!text.includes('&')) return text;
  return text.replace(/&([^;]{0,10});?/g, (whole, name: string) => {
    const named = Object.hasOwn(NAMED, name) ? NAMED[name] : undefined;
    if (named !== undefined && whole.endsWith(';')) return named;
    const number = /^#(?:x([0-9a-fA-F]+)|([0-9]+))$/.exec(name);
    const code = number ? Number.parseInt((number[1] ?? number[2]) as string, number[1] ? 16 : 10) : -1;
    if (!whole.endsWith(';') || code < 0 || code > 0x10ffff)
      throw malformed(part, `"${whole}" means nothing`);
    return String.fromCodePoint(code);
  });
}

function decodeXml(bytes: Uint8Array, part: string): string {
  const encoding = bytes[0] === 0xff && bytes[1] === 0xfe ? 'utf-16le' : 'utf-8';
  try {
    return new TextDecoder(encoding, { fatal: true }).decode(bytes);
  } catch {
    throw malformed(part, 'it is not in UTF-8');
  }
}

function malformed(part: string, what: string): UnreadableSheet {
  const message = `The workbook is damaged: its part ${part} cannot be read, ${what}.`;
  return new UnreadableSheet(
    'cannot-be-read',
    message,
    'a whole .xlsx workbook; open it in a spreadsheet program and save it again',
  );
}
