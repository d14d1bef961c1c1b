import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import {
  canonicalJson,
  DryspellError,
  ERROR_CODES,
  fnv1a64,
  formatCents,
  hashOf,
  isErrorCode,
} from './index.ts';

describe('canonical JSON', () => {
  it('sorts names and writes numbers as RFC 8785 does', () => {
    // Source: RFC 8785 section 3.2.3 (order of names), members without the control characters, and 3.2.2.3 (numbers).
    expect(
      canonicalJson({
        '\u20ac': 'Euro Sign',
        '1': 'One',
        '\u00f6': 'o',
        '\ud83d\ude00': 'Smiley',
        '\ufb33': 'Dalet',
      }),
    ).toBe('{"1":"One","\u00f6":"o","\u20ac":"Euro Sign","\ud83d\ude00":"Smiley","\ufb33":"Dalet"}');
    expect(
      canonicalJson([Number('333333333.33333329'), 1e30, 4.5, 2e-3, 0.000000000000000000000000001]),
    ).toBe('[333333333.3333333,1e+30,4.5,0.002,1e-27]');
    expect(canonicalJson({ b: undefined, a: [null, true, { z: 1, y: 2 }] })).toBe(
      '{"a":[null,true,{"y":2,"z":1}]}',
    );
  });

  it('means the same as the value it was made from, whatever the order of names', () => {
    fc.assert(
      fc.property(fc.dictionary(fc.string(), fc.jsonValue()), (value) => {
        const reversed = Object.fromEntries(Object.entries(value).reverse());
        expect(canonicalJson(reversed)).toBe(canonicalJson(value));
        expect(hashOf(reversed)).toBe(hashOf(value));
        expect(JSON.parse(canonicalJson(value))).toEqual(JSON.parse(JSON.stringify(value)));
      }),
    );
  });

  it.each([Number.NaN, Number.POSITIVE_INFINITY, 1n, () => 1, [undefined]])('refuses %p', (value) => {
    expect(() => canonicalJson(value)).toThrow(expect.objectContaining({ code: 'invalid-input' }));
  });

  it('is hashed with FNV-1a of 64 bits', () => {
    // Source: test vectors of the FNV authors (isthe.com, draft-eastlake-fnv appendix).
    expect(fnv1a64('')).toBe('cbf29ce484222325');
    expect(fnv1a64('a')).toBe('af63dc4c8601ec8c');
    expect(fnv1a64('foobar')).toBe('85944171f73967e8');
  });
});

describe('money', () => {
  // Decimals of a currency: ISO 4217 (CAD 2, JPY 0, KWD 3).
  it.each([
    [0, 'CAD', 'CAD 0.00'],
    [-5, 'CAD', 'CAD -0.05'],
    [123_456_789, 'usd', 'USD 1,234,567.89'],
    [100_000, 'CAD', 'CAD 1,000.00'],
    [1235, 'JPY', 'JPY 1,235'],
    [1234567, 'KWD', 'KWD 1,234.567'],
  ])('writes %d minor units of %s as %s', (amount, currency, text) => {
    expect(formatCents(amount, currency)).toBe(text);
  });

  it('refuses a fraction of a minor unit', () => {
    expect(() => formatCents(0.5, 'CAD')).toThrow(expect.objectContaining({ code: 'invalid-input' }));
  });
});

describe('errors', () => {
  it('carry a code of the closed table, its kind, the facts and the cause', () => {
    const cause = new Error('socket closed');
    const error = new DryspellError('unavailable', { service: 'mail' }, cause);
    expect([error.code, error.kind, error.data, error.cause]).toEqual([
      'unavailable',
      'unavailable',
      { service: 'mail' },
      cause,
    ]);
    expect(isErrorCode('toString')).toBe(false);
    expect(Object.keys(ERROR_CODES).every(isErrorCode)).toBe(true);
  });
});
