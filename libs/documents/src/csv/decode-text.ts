import { UnreadableSheet } from '../sheet-fault.ts';

const SAVE_AS = 'text in UTF-8; in a spreadsheet program choose "CSV UTF-8" when saving';

/**
 * Bytes of a text file as text: UTF-8 with or without a byte order mark, or UTF-16 (little-endian) with one.
 * Throws `UnreadableSheet` for anything else, so that no letter is ever guessed.
 */
export function decodeText(bytes: Uint8Array, name: string): string {
  if (bytes[0] === 0xfe && bytes[1] === 0xff) {
    throw new UnreadableSheet(
      'cannot-be-read',
      `${name} is in UTF-16 with the high byte first.`,
      SAVE_AS,
      name,
    );
  }
  const isUtf16 = bytes[0] === 0xff && bytes[1] === 0xfe;
  const text = isUtf16 ? decodeUtf16(bytes.subarray(2), name) : decodeUtf8(bytes, name);
  const nul = text.indexOf('\0');
  if (nul >= 0) {
    const line = lineOf(text, nul);
    const message = `${name} holds a NUL character in line ${line}, so it is not plain text or is damaged.`;
    throw new UnreadableSheet('cannot-be-read', message, SAVE_AS, name, line);
  }
  return text;
}

function decodeUtf8(bytes: Uint8Array, name: string): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    const line = lineOf(new TextDecoder('latin1').decode(bytes), firstBadByte(bytes));
    const message =
      `${name} is not in UTF-8: line ${line} holds bytes that mean nothing in it ` +
      '(perhaps it was saved in an older encoding such as Windows-1252 or Latin-1).';
    throw new UnreadableSheet('cannot-be-read', message, SAVE_AS, name, line);
  }
}

function decodeUtf16(bytes: Uint8Array, name: string): string {
  try {
    return new TextDecoder('utf-16le', { fatal: true }).decode(bytes);
  } catch {
    const message = `${name} begins as UTF-16 but is damaged or cut off.`;
    throw new UnreadableSheet('cannot-be-read', message, SAVE_AS, name);
  }
}

/** Position of the first byte that is not UTF-8: the longest beginning that decodes, found by halving. */
function firstBadByte(bytes: Uint8Array): number {
  let good = 0;
  let bad = bytes.length;
  while (bad - good > 1) {
    const middle = Math.floor((good + bad) / 2);
    if (decodes(bytes.subarray(0, middle))) good = middle;
    else bad = middle;
  }
  return good;
}

function decodes(bytes: Uint8Array): boolean {
  try {
    // In streaming a letter that is cut in two at the end is no fault.
    new TextDecoder('utf-8', { fatal: true }).decode(bytes, { stream: true });
    return true;
  } catch {
    return false;
  }
}

function lineOf(text: string, position: number): number {
  return text.slice(0, position).split(/\r\n|\n|\r/).length;
}
