import { readCsv } from '../../../libs/documents/src/csv/read-csv.ts';
import { type RawTable, rawText } from '../../../libs/documents/src/raw-table.ts';
import { UnreadableSheet } from '../../../libs/documents/src/sheet-fault.ts';
import { SHEET_LIMITS } from '../../../libs/documents/src/sheet-limits.ts';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** Row number and cells of each row. */
function plain(table: RawTable): [number, Record<number, string>][] {
  return table.rows.map((row) => [
    row.number,
    Object.fromEntries([...row.cells].map(([column, cell]) => [column, rawText(cell)])),
  ]);
}

function refusal(bytes: Uint8Array): unknown {
  try {
    readCsv('jobs.csv', bytes, SHEET_LIMITS);
  } catch (error) {
    if (error instanceof UnreadableSheet) return [error.fault.sheetRow, error.fault.message];
    throw error;
  }
  return 'it was read';
}

describe('CSV files', () => {
  const twoByTwo = [
    [1, { 1: 'a', 2: 'b' }],
    [2, { 1: '1', 2: '2' }],
  ];

  test.each([
    ['comma, line feeds', 'a,b\n1,2\n'],
    ['semicolon, both ends', 'a;b\r\n1;2\r\n'],
    ['tab, carriage returns', 'a\tb\r1\t2'],
    ['byte order mark', '\ufeffa,b\n1,2'],
    ['told separator', 'sep=;\r\na;b\r\n1;2'],
    ['separator in a quoted name does not count', '"a",b\n1,2'],
  ])('are read whatever they are made with: %s', (_what, text) => {
    expect(plain(readCsv('jobs.csv', bytesOf(text), SHEET_LIMITS))).toEqual(twoByTwo);
  });

  test('are read from UTF-16 with a byte order mark', () => {
    const bytes = Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from('a\tb\r\n1\t2\r\n', 'utf16le')]);
    expect(plain(readCsv('jobs.csv', bytes, SHEET_LIMITS))).toEqual(twoByTwo);
  });

  test('keep spaces, doubled quotation marks and line breaks, and number rows as a spreadsheet program does', () => {
    const text = 'a,b\r\n"x\r\ny"," z "\r\n\r\n"say ""hi""",\r\n,\r\nlast,1,2\r\n';
    expect(plain(readCsv('jobs.csv', bytesOf(text), SHEET_LIMITS))).toEqual([
      [1, { 1: 'a', 2: 'b' }],
      [2, { 1: 'x\r\ny', 2: ' z ' }],
      [4, { 1: 'say "hi"' }],
      [6, { 1: 'last', 2: '1', 3: '2' }],
    ]);
  });

  test('a comma is a decimal sign only between semicolons', () => {
    expect(readCsv('a.csv', bytesOf('a;b\n1,5;2'), SHEET_LIMITS).decimalComma).toBe(true);
    expect(readCsv('a.csv', bytesOf('a,b\n1,5'), SHEET_LIMITS).decimalComma).toBe(false);
    expect(readCsv('a.csv', bytesOf('a\tb\n1,5'), SHEET_LIMITS).decimalComma).toBe(false);
  });

  test.each([
    ['Latin-1', Buffer.from('key,name\na,Café\n', 'latin1'), 2, /^jobs\.csv is not in UTF-8: line 2 /],
    [
      'UTF-16 with the high byte first',
      Buffer.from([0xfe, 0xff, 0, 0x61]),
      0,
      /UTF-16 with the high byte first/,
    ],
    ['half a character of UTF-16', Buffer.from([0xff, 0xfe, 0x61]), 0, /begins as UTF-16 but is damaged/],
    ['a letter that is cut off', bytesOf('key\né').subarray(0, 5), 2, /not in UTF-8: line 2/],
    ['NUL characters', bytesOf('key,name\na,b\nc,\0\n'), 3, /holds a NUL character in line 3/],
    ['a quotation mark that is never closed', bytesOf('key,name\na,"b\nc,d\n'), 3, /opened and never closed/],
    [
      'a quotation mark inside',
      bytesOf('key,name\na,b"c\n'),
      2,
      /line 2: a quotation mark stands where none may stand/,
    ],
  ])('are refused with one reason: %s', (_what, bytes, line, message) => {
    const [row, text] = refusal(bytes) as [number, string];
    expect(text).toMatch(message);
    expect(row).toBe(line);
  });

  test('that are empty have no rows', () => {
    expect(plain(readCsv('jobs.csv', bytesOf(''), SHEET_LIMITS))).toEqual([]);
    expect(plain(readCsv('jobs.csv', bytesOf('\n\n'), SHEET_LIMITS))).toEqual([]);
  });
});
