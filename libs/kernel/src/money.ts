import { DryspellError } from './dryspell-error.ts';
import type { Cents } from './units.ts';

/** Currencies of ISO 4217 whose minor unit is not a hundredth. */
const MINOR_DIGITS: Readonly<Record<string, number>> = {
  BHD: 3,
  BIF: 0,
  CLP: 0,
  DJF: 0,
  GNF: 0,
  IQD: 3,
  ISK: 0,
  JOD: 3,
  JPY: 0,
  KMF: 0,
  KRW: 0,
  KWD: 3,
  LYD: 3,
  OMR: 3,
  PYG: 0,
  RWF: 0,
  TND: 3,
  UGX: 0,
  UYI: 0,
  VND: 0,
  VUV: 0,
  XAF: 0,
  XOF: 0,
  XPF: 0,
};

/**
 * Marks a whole number as an amount in minor units.
 * Throws `invalid-input` for a fraction or a number too large to be exact.
 */
export function cents(value: number): Cents {
  if (!Number.isSafeInteger(value)) {
    throw new DryspellError('invalid-input', {
      field: 'cents',
      value,
      expected: 'a whole number of minor units',
    });
  }
  return value as Cents;
}

/** How many decimals a currency (ISO 4217 code) is written with; 2 for a code that is not known. */
export function minorDigits(currency: string): number {
  return MINOR_DIGITS[currency.toUpperCase()] ?? 2;
}

/**
 * An amount for people, code first: `CAD 1,234.50`, `JPY 1,235`, `CAD -0.05`.
 * The amount is in whole minor units. Grouping is always a comma and the decimal sign a point, so that the same plan
 * prints the same text on every machine.
 */
export function formatCents(amount: number, currency: string): string {
  const digits = minorDigits(currency);
  const whole = cents(amount);
  const text = String(Math.abs(whole)).padStart(digits + 1, '0');
  const head = text.slice(0, text.length - digits).replace(/\B(?=(\d{3})+$)/g, ',');
  const tail = digits === 0 ? '' : `.${text.slice(text.length - digits)}`;
  return `${currency.toUpperCase()} ${whole < 0 ? '-' : ''}${head}${tail}`;
}
