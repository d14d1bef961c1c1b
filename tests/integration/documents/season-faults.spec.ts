import {
  readSeasonCsvFolder,
  readSeasonWorkbook,
  type SeasonSheetsResult,
} from '../../../libs/documents/src/season-sheets/read-season.ts';
import { writeSeasonCsvFolder } from '../../../libs/documents/src/season-sheets/write-csv-folder.ts';
import { writeSeasonWorkbook } from '../../../libs/documents/src/season-sheets/write-workbook.ts';
import { SHEET_LIMITS } from '../../../libs/documents/src/sheet-limits.ts';
import { demoSeasons } from './demo-season.ts';
import { smallWorkbook, textRows } from './small-workbook.ts';

const [season] = demoSeasons();
if (!season) throw new Error('There is no demo season.');
const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** The demo season as CSV files, some of them changed as text. */
function withFiles(changes: Record<string, string | ((text: string) => string) | null>): SeasonSheetsResult {
  const files = writeSeasonCsvFolder(season as NonNullable<typeof season>).flatMap(({ name, bytes }) => {
    const change = changes[name];
    if (change === null) return [];
    if (change === undefined) return [{ name, bytes }];
    const text = new TextDecoder().decode(bytes);
    return [{ name, bytes: bytesOf(typeof change === 'string' ? change : change(text)) }];
  });
  const own = new Set(files.map((file) => file.name));
  for (const [name, text] of Object.entries(changes)) {
    if (!own.has(name) && typeof text === 'string') files.push({ name, bytes: bytesOf(text) });
  }
  return readSeasonCsvFolder(files);
}

/** Where and what each fault is: sheet, row in the sheet, column letter, code, message. */
function told(result: SeasonSheetsResult): unknown[][] {
  if (result.ok) return [];
  return result.faults.map((fault) => [
    fault.sheet,
    fault.sheetRow,
    fault.columnLetter,
    fault.code,
    fault.message,
  ]);
}

/** One line of a CSV text, from 1. */
const line = (text: string, number: number): string => text.split('\r\n')[number - 1] as string;

describe('Faults are told where the user sees them, all at once', () => {
  test('a mistyped column and the missing one', () => {
    const result = withFiles({ 'people.csv': (text) => text.replace(/\bname\b/, 'nmae') });
    expect(told(result)).toEqual([
      ['people.csv', 1, 'B', 'unknown-column', 'There is no column "nmae" here. Did you mean "name"?'],
      ['people.csv', 1, '', 'missing-column', 'The column "name" is missing.'],
    ]);
  });

  test('names in row 1 may differ in case and spaces around them', () => {
    const result = withFiles({
      'people.csv': (text) => text.replace(line(text, 1), line(text, 1).toUpperCase().replaceAll(',', ' , ')),
    });
    expect(result.ok).toBe(true);
  });

  test('a column twice, and cells beside the columns', () => {
    const result = withFiles({
      'people.csv': (text) => text.replace(/^([^\r]*)\r\n([^\r]*)/, '$1,KEY\r\n$2,x,stray'),
    });
    expect(told(result).map((fault) => fault.slice(3))).toEqual([
      ['duplicate-column', 'The column "key" is there more than once.'],
      [
        'outside-columns',
        expect.stringMatching(/^Column [A-Z]+ holds "stray" in row 2 but has no name in row 1\.$/),
      ],
    ]);
  });

  test('a file that is no table, with the nearest name, and a table twice', () => {
    const result = withFiles({ 'poeple.csv': 'key\n', 'x/People.csv': 'key\n', 'README.csv': 'anything' });
    expect(told(result)).toEqual([
      [
        'poeple.csv',
        0,
        '',
        'unknown-sheet',
        'The file poeple.csv is no table of a season. Did you mean people.csv?',
      ],
      ['x/People.csv', 0, '', 'duplicate-sheet', 'x/People.csv is the same table as people.csv.'],
    ]);
  });

  test('names of columns that are not in row 1', () => {
    const result = withFiles({ 'leave.csv': (text) => `Leave of 2027\r\n\r\n${text.replace('\ufeff', '')}` });
    expect(told(result)).toEqual([
      [
        'leave.csv',
        1,
        '',
        'no-header',
        'Row 1 of leave.csv does not hold the names of the columns of "leave".',
      ],
    ]);
    expect(!result.ok && result.faults[0]?.expected).toMatch(
      /they seem to be in row 3, so delete the rows above it$/,
    );
  });

  test('empty rows do not count, and rows are numbered as the spreadsheet program numbers them', () => {
    const result = withFiles({
      'people.csv': (text) => {
        const [head, first, ...rest] = text.split('\r\n');
        return [head, '', first, ',,', first, ...rest].join('\r\n');
      },
    });
    const [fault] = told(result);
    expect(fault?.slice(0, 4)).toEqual(['people.csv', 5, 'A', 'duplicate-key']);
    expect(fault?.[4]).toMatch(/^Row 5 has the same key as row 3\.$/);
  });

  test('faults of several files in one answer; what a file that cannot be read would have held is no fault', () => {
    const result = withFiles({
      'season.csv': (text) => text.replace('2027-', '27-'),
      'liftTypes.csv': (text) => text.replace(/^([^\r]*\r\n[^,\r]*)/, '$1 !'),
      'jobs.csv': () => 'key,nothing\n"a',
    });
    const [unread, date, key, ...others] = told(result);
    const expected =
      'jobs.csv has a quotation mark that is opened and never closed; line 2 is the last that was read.';
    expect(unread).toEqual(['jobs.csv', 2, '', 'cannot-be-read', expected]);
    expect(date?.slice(0, 4)).toEqual(['season.csv', 2, 'F', 'ambiguous']);
    expect(key?.slice(0, 4)).toEqual(['liftTypes.csv', 2, 'A', 'bad-value']);
    expect(others).toEqual([]);
  });

  test('a reference to nothing is told in the sheet and column in which it stands', () => {
    const result = withFiles({
      'crewMembers.csv': (text) => text.replace(line(text, 2).split(',')[0] as string, 'nobody'),
    });
    const faults = told(result);
    expect(faults.length).toBeGreaterThan(0);
    expect(faults[0]?.slice(0, 2)).toEqual(['crewMembers.csv', 2]);
    expect(faults[0]?.[4]).toMatch(/nobody/);
  });

  test('a folder without a season', () => {
    expect(told(withFiles({ 'season.csv': null }))).toEqual([
      ['Season', 0, '', 'not-a-season-file', 'The sheet "Season" with its one row is missing.'],
    ]);
  });

  test('two rows about the season', () => {
    const result = withFiles({ 'season.csv': (text) => `${text}${line(text, 2)}\r\n` });
    expect(told(result)).toEqual([
      ['season.csv', 3, '', 'not-a-season-file', 'season.csv has 2 rows about the season.'],
    ]);
  });

  test('too many bytes or files', () => {
    const files = [{ name: 'jobs.csv', bytes: bytesOf('key\n') }];
    const few = { ...SHEET_LIMITS, fileBytes: 3 };
    expect(told(readSeasonCsvFolder(files, few))[0]?.slice(3)).toEqual([
      'too-large',
      'There are 1 files with 4 bytes.',
    ]);
    expect(told(readSeasonCsvFolder(files, { ...SHEET_LIMITS, sheets: 0 }))[0]?.[3]).toBe('too-large');
  });
});

describe('A workbook with what only a workbook can get wrong', () => {
  const people = (data: string, after = ''): unknown[][] =>
    told(readSeasonWorkbook(smallWorkbook({ sheets: [{ name: 'People', data, after }] }))).filter(
      ([sheet]) => sheet === 'People',
    );

  test('errors, formulas without a value, numbers that lost digits, each with its cell', () => {
    const header =
      '<row r="1"><c r="A1" t="inlineStr"><is><t>key</t></is></c><c r="B1" t="inlineStr"><is><t>name</t></is></c></row>';
    const faults = people(
      `${header}<row r="4"><c r="A4" t="e"><v>#REF!</v></c><c r="B4"><f>A1</f></c></row>` +
        '<row r="5"><c r="A5"><v>12345678901234567890</v></c><c r="B5" t="b"><v>1</v></c></row>',
    );
    expect(faults.filter((fault) => fault[3] !== 'missing-column')).toEqual([
      ['People', 4, 'A', 'error-cell', '"key" is the error #REF!.'],
      ['People', 4, 'B', 'not-calculated', '"name" is a formula that no program has worked out.'],
      [
        'People',
        5,
        'A',
        'wrong-kind',
        '"key" is the number 12345678901234567890, which may have lost digits.',
      ],
      ['People', 5, 'B', 'wrong-kind', '"name" is a true/false cell (true), a text is needed.'],
    ]);
  });

  test('merged cells', () => {
    const faults = people(
      textRows([
        ['key', 'name'],
        ['a', 'Ada'],
      ]),
      '<mergeCells><mergeCell ref="B2:B4"/></mergeCells>',
    );
    expect(faults).toContainEqual([
      'People',
      2,
      '',
      'merged-cells',
      'The cells B2:B4 are merged, so only the first of them holds the value.',
    ]);
  });

  test('a sheet by the table\'s own name is the same sheet, and "Read me" is not read', () => {
    const result = readSeasonWorkbook(
      smallWorkbook({
        sheets: [
          { name: 'read me', data: textRows([['?']]) },
          { name: 'PEOPLE', data: '' },
          { name: 'crewmembers', data: '' },
        ],
      }),
    );
    expect(told(result)).toEqual([
      ['Season', 0, '', 'not-a-season-file', 'The sheet "Season" with its one row is missing.'],
    ]);
  });

  test('a workbook that cannot be read is one fault', async () => {
    const whole = await writeSeasonWorkbook(season as NonNullable<typeof season>);
    expect(told(readSeasonWorkbook(whole.subarray(0, 5000)))).toEqual([
      [
        '',
        0,
        '',
        'cannot-be-read',
        'The workbook is damaged or cut off: the list of its parts at the end is missing.',
      ],
    ]);
  });
});
