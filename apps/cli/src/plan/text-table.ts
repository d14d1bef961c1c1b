/** Columns of text, as wide as their widest cell, two blanks apart. Columns named in `right` are aligned to the right. */
export function textTable(rows: readonly (readonly string[])[], right: readonly number[] = []): string[] {
  const widths: number[] = [];
  for (const row of rows)
    for (const [at, cell] of row.entries()) widths[at] = Math.max(widths[at] ?? 0, [...cell].length);
  return rows.map((row) =>
    row
      .map((cell, at) => {
        const blanks = ' '.repeat((widths[at] as number) - [...cell].length);
        return right.includes(at) ? blanks + cell : cell + blanks;
      })
      .join('  ')
      .trimEnd(),
  );
}
