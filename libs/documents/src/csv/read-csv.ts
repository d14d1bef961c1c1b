import { CsvError, parse } from 'csv-parse/sync';
import type { RawCell, RawRow, RawTable } from '../raw-table.ts';
import { UnreadableSheet } from '../sheet-fault.ts';
import type { SheetLimits } from '../sheet-limits.ts';
import { decodeText } from './decode-text.ts';

const DELIMITERS = [',', ';', '\t'] as const;
type Delimiter = (typeof DELIMITERS)[number];

/**
 * One CSV file (RFC 4180, with comma, semicolon or tab, and any line ends) as a table of texts. Cells are as they are
 * written, spaces included. A record is a row, as in a spreadsheet program, however many lines its cells take.
 * Throws `UnreadableSheet` for what is not such a file.
 */
export function readCsv(name: string, bytes: Uint8Array, limits: SheetLimits): RawTable {
  const text = decodeText(bytes, name);
  const { delimiter, body } = delimiterOf(text);
  const records = parseRecords(name, body, delimiter);
  const rows: RawRow[] = [];
  let cellCount = 0;
  records.forEach((record, index) => {
    const cells = new Map<number, RawCell>();
    record.forEach((cell, column) => {
      if (cell !== '') cells.set(column + 1, { kind: 'text', text: cell });
    });
    cellCount += cells.size;
    if (cells.size > 0) rows.push({ number: index + 1, cells });
  });
  if (rows.length > limits.rows || cellCount > limits.cells) {
    const message = `${name} has ${rows.length} rows with ${cellCount} cells.`;
    throw new UnreadableSheet(
      'too-large',
      message,
      `at most ${limits.rows} rows and ${limits.cells} cells`,
      name,
    );
  }
  return { name, from: 'csv', rows, merged: [], decimalComma: delimiter === ';' };
}

function parseRecords(name: string, body: string, delimiter: Delimiter): string[][] {
  if (body === '') return [];
  try {
    return parse(body, {
      delimiter,
      record_delimiter: ['\r\n', '\n', '\r'],
      relax_column_count: true,
      skip_empty_lines: false,
    });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = Number((error as { lines?: unknown }).lines) || 0;
    const unclosed = error.code === 'CSV_QUOTE_NOT_CLOSED';
    const message = unclosed
      ? `${name} has a quotation mark that is opened and never closed; line ${line} is the last that was read.`
      : `${name} cannot be read at line ${line}: a quotation mark stands where none may stand.`;
    const expected =
      'cells with quotation marks, commas or line breaks in quotation marks, each one inside doubled ("")';
    throw new UnreadableSheet('cannot-be-read', message, expected, name, line);
  }
}

/** The separator that is most frequent in the header row, outside quotation marks; "sep=;" before it is obeyed. */
function delimiterOf(text: string): { delimiter: Delimiter; body: string } {
  const told = /^sep=([,;\t])(?:\r\n|\n|\r)/i.exec(text);
  if (told) return { delimiter: told[1] as Delimiter, body: text.slice(told[0].length) };
  const counts = new Map<string, number>(DELIMITERS.map((delimiter) => [delimiter, 0]));
  let quoted = false;
  for (const character of text.slice(0, 100_000)) {
    if (character === '"') quoted = !quoted;
    else if (quoted) continue;
    else if (character === '\n' || character === '\r') break;
    else if (counts.has(character)) counts.set(character, (counts.get(character) as number) + 1);
  }
  const best = DELIMITERS.reduce((a, b) => ((counts.get(b) as number) > (counts.get(a) as number) ? b : a));
  return { delimiter: best, body: text };
}
