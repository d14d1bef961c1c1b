import fc from 'fast-check';
import { guardFormula, unguardFormula } from '../csv/formula-guard.ts';
import { decodeXlsxText, encodeXlsxText } from './xlsx-text.ts';

const pieces = fc.constantFrom(
  '_x0041',
  '_',
  '_x005F_',
  'x',
  '\u0001',
  '\r',
  '\ud83f\udffe',
  '\ud800',
  '\udc00',
  '\ufffd',
  'a',
  '4',
  '"',
  '=',
  "'",
  '+',
);
const anyText = fc.oneof(
  fc.array(pieces, { maxLength: 8 }).map((parts) => parts.join('')),
  fc.string({ unit: 'binary' }),
  fc.constantFrom('constructor', '__proto__', 'hasOwnProperty'),
);

describe('Texts that need another spelling', () => {
  test('come back from a workbook exactly, and hold nothing there that XML cannot', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const written = encodeXlsxText(text);
        expect(decodeXlsxText(written)).toBe(text);
        // Char of XML 1.0, 2.2, without the carriage return, which reading would change.
        expect(written).toMatch(/^[\t\n\u0020-\ud7ff\ue000-\ufffc\u{10000}-\u{10ffff}]*$/u);
      }),
      { numRuns: 2000 },
    );
  });

  test('come back from a CSV cell exactly, and never begin as a formula there', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        expect(unguardFormula(guardFormula(text))).toBe(text);
        expect(guardFormula(text)).not.toMatch(/^[=+\-@\t\r\n]/);
      }),
      { numRuns: 2000 },
    );
  });
});
