import { formatCents } from '../../../../libs/kernel/src/index.ts';

/** `CAD 1,234.50`. */
export const money = (cents: number, currency: string): string => formatCents(cents, currency);

/** `CAD 5.00 more than before`, `CAD 5.00 less than before` or `the same as before`. */
export function moneyChange(fromCents: number, toCents: number, currency: string): string {
  const change = toCents - fromCents;
  if (change === 0) return 'the same as before';
  return `${money(Math.abs(change), currency)} ${change > 0 ? 'more' : 'less'} than before`;
}
