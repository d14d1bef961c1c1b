import { DryspellError } from '../../kernel/src/index.ts';

/** Characters that RFC 5545 section 3.1 keeps out of text: all controls but tab and line break. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: controls are what is looked for
const CONTROLS = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]/g;

/** Text that may stand in a calendar: well-formed Unicode, no controls, line ends as LF. */
export function cleanText(text: string): string {
  // Through bytes, because half a surrogate pair cannot be written as UTF-8.
  return Buffer.from(text, 'utf8').toString('utf8').replace(/\r\n?/g, '\n').replace(CONTROLS, '');
}

/** Text on one line: every run of white space becomes one space. */
export function cleanLine(text: string): string {
  return cleanText(text).replace(/\s+/g, ' ').trim();
}

/**
 * A name that stands in quotes as a parameter. RFC 5545 section 3.2 has no way to write a double quote there and many
 * readers do not know the later one (RFC 6868), so the look-alikes stand in.
 */
export function cleanName(text: string): string {
  return cleanLine(text).replaceAll('"', '\u2019').replaceAll('\\', '/');
}

const MAIL_ADDRESS = /^[^\s@"(),:;<>[\\\]]+@[^\s@"(),:;<>[\\\]]+$/;

/** One mail address, fit for `mailto:`. Throws `invalid-input`. */
export function cleanMailAddress(text: string, field: string): string {
  if (text.length > 254 || text !== cleanText(text) || !MAIL_ADDRESS.test(text)) {
    throw new DryspellError('invalid-input', { field, expected: 'one mail address' });
  }
  return text;
}

/** An https or http address, with the two characters that the writer would escape given as percent-codes. */
export function cleanUrl(text: string, field: string): string {
  const wrong = (): DryspellError =>
    new DryspellError('invalid-input', { field, expected: 'an http or https address' });
  let url: URL;
  try {
    url = new URL(text);
  } catch {
    throw wrong();
  }
  if (url.protocol !== 'https:' && url.protocol !== 'http:') throw wrong();
  return url.href.replaceAll(',', '%2C').replaceAll(';', '%3B').replaceAll('\\', '%5C');
}
