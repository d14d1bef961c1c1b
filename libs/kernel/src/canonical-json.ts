import { DryspellError } from './dryspell-error.ts';

/**
 * JSON text that is the same for the same data whatever the order of its members: names sorted by UTF-16 code unit,
 * no blanks, numbers as ECMAScript writes them (RFC 8785). Members that are undefined are left out, as JSON does.
 * Throws `invalid-input` for what JSON cannot hold: NaN, infinities, bigint, functions, symbols, undefined in a list.
 */
export function canonicalJson(value: unknown): string {
  if (value === null || typeof value === 'boolean' || typeof value === 'string') return JSON.stringify(value);
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw cannotHold(value);
    return JSON.stringify(value);
  }
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  if (typeof value !== 'object') throw cannotHold(value);
  const record = value as Record<string, unknown>;
  const members = Object.keys(record)
    .filter((name) => record[name] !== undefined)
    .sort()
    .map((name) => `${JSON.stringify(name)}:${canonicalJson(record[name])}`);
  return `{${members.join(',')}}`;
}

/**
 * FNV-1a, 64 bits, of the UTF-8 bytes of a text, as 16 hex digits (Fowler, Noll, Vo; draft-eastlake-fnv).
 * Tells two problems apart; it is no protection against somebody who wants two texts to agree.
 */
export function fnv1a64(text: string): string {
  // Times the prime 2^40 + 0x1b3, in four parts of 16 bits, the lowest first: whole numbers of 32 bits all the way.
  let [a, b, c, d] = [0x2325, 0x8422, 0x9ce4, 0xcbf2];
  const bytes = new TextEncoder().encode(text);
  for (let index = 0; index < bytes.length; index += 1) {
    a ^= bytes[index] as number;
    const timesA = a * 0x1b3;
    const timesB = b * 0x1b3 + (timesA >>> 16);
    const timesC = c * 0x1b3 + (timesB >>> 16) + (a << 8);
    const timesD = d * 0x1b3 + (timesC >>> 16) + (b << 8);
    a = timesA & 0xffff;
    b = timesB & 0xffff;
    c = timesC & 0xffff;
    d = timesD & 0xffff;
  }
  return [d, c, b, a].map((part) => part.toString(16).padStart(4, '0')).join('');
}

/** The hash of a value's canonical JSON, as 16 hex digits; names a problem or a plan. */
export function hashOf(value: unknown): string {
  return fnv1a64(canonicalJson(value));
}

function cannotHold(value: unknown): DryspellError {
  return new DryspellError('invalid-input', { value: String(value), expected: 'a value that JSON can hold' });
}
