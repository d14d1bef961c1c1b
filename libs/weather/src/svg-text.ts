const ESCAPES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

/** Text for an SVG document: marked characters written out, control characters, which XML does not allow, as a blank. */
export function escaped(content: string): string {
  const printable = Array.from(content, (character) => (character < ' ' ? ' ' : character)).join('');
  return printable.replace(/[&<>"]/g, (character) => ESCAPES[character] as string);
}

/** A text element at a place. */
export function textAt(x: number, y: number, content: string, attributes = ''): string {
  return `<text x="${x}" y="${y}"${attributes === '' ? '' : ` ${attributes}`}>${escaped(content)}</text>`;
}

/** Words in lines of at most so many characters; a longer word has a line of its own. */
export function wrapped(content: string, mostCharacters: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of content.split(/\s+/).filter((part) => part !== '')) {
    if (line !== '' && line.length + 1 + word.length > mostCharacters) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return line === '' ? lines : [...lines, line];
}
