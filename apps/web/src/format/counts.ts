/** `1 visit`, `3 visits`. */
export function count(number: number, one: string, many = `${one}s`): string {
  return `${number.toLocaleString('en-CA')} ${number === 1 ? one : many}`;
}

/** `Ana`, `Ana and Ben`, `Ana, Ben and Cy`. */
export function listWords(words: readonly string[]): string {
  if (words.length < 2) return words[0] ?? '';
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}
