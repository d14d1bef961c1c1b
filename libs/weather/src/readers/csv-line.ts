/** Characters that separate cells. */
export type Separator = ',' | ';' | '\t';

/** The separator of a header line: the one it has most of, outside quotes; semicolon and tab win over a comma when there is a tie. */
export function separatorOf(headerLine: string): Separator {
  const bare = headerLine.replace(/"[^"]*"/g, '');
  const count = (separator: Separator): number => bare.split(separator).length;
  let best: Separator = ';';
  for (const separator of ['\t', ','] as const) if (count(separator) > count(best)) best = separator;
  return best;
}

/**
 * The cells of one line of a table, trimmed, quotes taken off and doubled quotes made single (RFC 4180). Null when a quoted cell does not
 * end on the line: tables of hours need no line breaks in cells, and reading line by line is what keeps long files small.
 */
export function cellsOf(line: string, separator: Separator): string[] | null {
  if (!line.includes('"')) return line.split(separator).map((cell) => cell.trim());
  const cells: string[] = [];
  let at = 0;
  for (;;) {
    while (line[at] === ' ') at += 1;
    let end: number;
    if (line[at] === '"') {
      let text = '';
      for (;;) {
        const close = line.indexOf('"', at + 1);
        if (close < 0) return null;
        text += line.slice(at + 1, close);
        at = close + 1;
        if (line[at] !== '"') break;
        text += '"';
      }
      cells.push(text.trim());
      end = line.indexOf(separator, at);
    } else {
      end = line.indexOf(separator, at);
      cells.push(line.slice(at, end < 0 ? undefined : end).trim());
    }
    if (end < 0) return cells;
    at = end + 1;
  }
}
