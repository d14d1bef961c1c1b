/**
 * A spreadsheet program takes a CSV cell that begins with =, +, - or @ for a formula and may run it. Such a text gets an
 * apostrophe in front, and so does one that begins with an apostrophe, so that reading can take it off again exactly.
 */
const RISKY = '=+\\-@\\t\\r\\n\uFF1D\uFF0B\uFF0D\uFF20';
const STARTS_RISKY = new RegExp(`^['${RISKY}]`);
const GUARDED = new RegExp(`^'['${RISKY}]`);

/** The text as it is written into a CSV cell. */
export function guardFormula(text: string): string {
  return STARTS_RISKY.test(text) ? `'${text}` : text;
}

/** The text that a CSV cell stands for. */
export function unguardFormula(cell: string): string {
  return GUARDED.test(cell) ? cell.slice(1) : cell;
}
