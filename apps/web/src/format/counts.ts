/** `1 visit`, `3 visits`. */
export function count(number: number, one: string, many = `${one}s`): string {
  return `${number.toLocaleString('en-CA')} ${number === 1 ? one : many}`;
}
