import { formatCents } from '../../../../libs/kernel/src/index.ts';

/** `CAD 1,234.50`. */
export const money = (cents: number, currency: string): string => formatCents(cents, currency);

/** `CAD 5.00 more`, `CAD 5.00 less` or `the same`. */
export function moneyChange(fromCents: number, toCents: number, currency: string): string {
  const change = toCents - fromCents;
  if (change === 0) return 'the same';
  return `${money(Math.abs(change), currency)} ${change > 0 ? 'more' : 'less'}`;
}
