/** The known name that a mistyped one most resembles, ignoring case, spaces and marks; null when none is near. */
export function didYouMean(typed: string, known: readonly string[]): string | null {
  const bare = (name: string): string => name.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
  const wanted = bare(typed);
  if (wanted === '' || wanted.length > 100) return null;
  let best: { name: string; distance: number } | null = null;
  for (const name of known) {
    const distance = editDistance(wanted, bare(name));
    if (!best || distance < best.distance) best = { name, distance };
  }
  return best && best.distance <= Math.max(1, Math.floor(wanted.length / 3)) ? best.name : null;
}

/** Least number of letters to change, add, leave out (Levenshtein) or swap with their neighbour to get from a to b. */
function editDistance(a: string, b: string): number {
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let least = Math.min(
        (row[j] as number) + 1,
        (next[j - 1] as number) + 1,
        (row[j - 1] as number) + same,
      );
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        least = Math.min(least, (before[j - 2] as number) + 1);
      }
      next.push(least);
    }
    before = row;
    row = next;
  }
  return row[b.length] as number;
}
