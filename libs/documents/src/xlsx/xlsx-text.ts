/** `_xHHHH_` in the texts of a workbook stands for a character that XML cannot hold (ECMA-376 part 1, 22.9.2.19). */

/** The text that stands in a cell, from the text in the XML. */
export function decodeXlsxText(text: string): string {
  if (!text.includes('_x')) return text;
  return text.replace(/_x([0-9A-Fa-f]{4})_/g, (_, hex: string) =>
    String.fromCharCode(Number.parseInt(hex, 16)),
  );
}

/**
 * The text for the XML, such that `decodeXlsxText` gives it back exactly. The writer of workbooks drops characters that
 * XML holds badly, and takes a text like "constructor" for one of its own names: both are written by their numbers.
 */
export function encodeXlsxText(text: string): string {
  // Also without a closing underscore: one may follow that belongs to the next escape.
  const escaped = text.replace(/_(?=x[0-9A-Fa-f]{4})/g, '_x005F_');
  let safe = '';
  for (const character of escaped) {
    const code = character.codePointAt(0) as number;
    safe += isUnsafe(code) ? character.split('').map(byNumber).join('') : character;
  }
  return safe in {} ? byNumber(safe.charAt(0)) + safe.slice(1) : safe;
}

/** Control characters (XML would change a carriage return), halves of pairs, and what is no character at all. */
function isUnsafe(code: number): boolean {
  if (code < 0x20) return code !== 0x09 && code !== 0x0a;
  if (code >= 0x7f && code <= 0x9f) return true;
  if (code >= 0xd800 && code <= 0xdfff) return true;
  if (code >= 0xfdd0 && code <= 0xfdef) return true;
  return (code & 0xffff) >= 0xfffd;
}

function byNumber(unit: string): string {
  return `_x${unit.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}_`;
}
