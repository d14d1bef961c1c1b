/**
 * Awkward sheets from public repositories (their test data), read from the folder of open data where it is there. What is
 * expected of each was read off the file itself; the objects of csv-spectrum are those that come with it.
 */
import fs from 'node:fs';
import path from 'node:path';
import { readCsv } from '../../../libs/documents/src/csv/read-csv.ts';
import { type RawTable, rawText } from '../../../libs/documents/src/raw-table.ts';
import { UnreadableSheet } from '../../../libs/documents/src/sheet-fault.ts';
import { SHEET_LIMITS } from '../../../libs/documents/src/sheet-limits.ts';
import { readWorkbook } from '../../../libs/documents/src/xlsx/read-workbook.ts';
import { dataFolder } from '../../builders/data-folder.ts';

const root = dataFolder();
const folder = root && fs.existsSync(path.join(root, 'tabular')) ? path.join(root, 'tabular') : null;
if (!folder) {
  process.stderr.write(
    'not checked: awkward sheets of the folder "tabular" (set DRYSPELL_DATA to the folder of open data)\n',
  );
}

type Outcome = { tables: RawTable[] } | { fault: string };

function read(name: string): Outcome | null {
  const file = folder && path.join(folder, name);
  if (!file || !fs.existsSync(file)) return null;
  const bytes = fs.readFileSync(file);
  try {
    return {
      tables: /\.(?:csv|tsv)$/.test(name)
        ? [readCsv(name, bytes, SHEET_LIMITS)]
        : readWorkbook(bytes, SHEET_LIMITS),
    };
  } catch (error) {
    if (error instanceof UnreadableSheet) return { fault: error.fault.message };
    throw error;
  }
}

/** A cell of the first sheet by its address, as a person would write it. */
function cell(outcome: Outcome, address: string): string {
  const [, letter, row] = /^([A-Z])(\d+)$/.exec(address) ?? [];
  const table = 'tables' in outcome ? outcome.tables[0] : undefined;
  return rawText(
    table?.rows.find(({ number }) => number === Number(row))?.cells.get(String(letter).charCodeAt(0) - 64),
  );
}

/** The rows below the first as objects by its names; the stored copies of two files have lost their carriage returns. */
function objects(table: RawTable): Record<string, string>[] {
  const [head, ...rows] = table.rows;
  return rows.map((row) =>
    Object.fromEntries(
      [...(head?.cells ?? [])].map(([column, name]) => [rawText(name), rawText(row.cells.get(column))]),
    ),
  );
}

const refused: [name: string, message: RegExp][] = [
  ['PapaParse__malformed.tsv', /quotation mark/],
  ['frictionless-py__latin1.csv', /not in UTF-8: line 3/],
  ['frictionless-py__table-with-accents.csv', /not in UTF-8: line 1/],
  ['messytables__spanish_chars.csv', /not in UTF-8/],
  ['frictionless-py__table-infer-iso-8859-7.csv', /not in UTF-8/],
  ['messytables__weird_head_padding.csv', /line 11: a quotation mark/],
  ['calamine__date.xls', /older \.xls format/],
  ['calamine__date_1904.xls', /older \.xls format/],
  ['messytables__simple.xls', /older \.xls format/],
  ['frictionless-py__table-with-ints-floats-dates.xls', /older \.xls format/],
  ['calamine__pass_protected.xlsx', /protected by a password/],
  ['messytables__multilineods.ods', /OpenDocument/],
];

const cells: [name: string, rows: number, expected: Record<string, string>][] = [
  ['PapaParse__utf-8-bom-sample.csv', 2, { A1: 'A', C2: 'Z' }],
  ['messytables__utf8bom.csv', 1, { A1: 'kitten', B1: 'win' }],
  ['frictionless-py__bom.csv', 3, { A1: 'id', B3: '中国人' }],
  ['frictionless-py__delimiter.csv', 3, { A1: 'id', B2: 'english' }],
  ['frictionless-py__blank-headers.csv', 3, { A1: 'id', B1: '', C1: 'age', B2: 'John' }],
  ['frictionless-py__blank-rows-multiple.csv', 3, { A2: '1101', B3: 'Julie' }],
  ['frictionless-py__duplicate-headers.csv', 3, { A1: 'id', C1: 'id' }],
  ['frictionless-py__skip-rows-before-headers.csv', 4, { A1: "# it's a comment!", A2: 'id' }],
  ['frictionless-py__timezone.csv', 5, { A2: '2020-01-01T15:00:00', B1: ' time' }],
  ['frictionless-py__encoding-issue-274.csv', 508, { A1: 'id', C2: 'A2F' }],
  ['messytables__begrotingsanalyse-2011.csv', 42, { G1: '2011', C4: 'provincie' }],
  ['messytables__simple.csv', 7, { A2: '2011-01-01', B3: '-1', C3: 'Galway' }],
  ['messytables__null.csv', 10, { B1: 'null', D2: 'null' }],
  ['messytables__skip_initials.csv', 3, { B2: '    goodbye' }],
  // Day numbers: 44197 is 2021-01-01; the 1904 workbook counts 1462 days less.
  ['calamine__date.xlsx', 3, { A1: '44197', A2: '44198', B3: '17' }],
  ['calamine__date_1904.xlsx', 3, { A1: '42735', B1: '15' }],
  ['calamine__has_x000D_.xlsx', 1, { A1: 'ABC\r\nDEF' }],
  ['calamine__inlineStr_with_value.xlsx', 2, { A1: 'NN', E2: 'RQ11610' }],
  ['calamine__nonstandard-xml-ns-prefix.xlsx', 3, { A1: 'a', B3: '4' }],
  ['calamine__merged_range.xlsx', 3, { A1: 'A1', E4: 'E4' }],
  ['messytables__simple.xlsx', 7, { A1: 'date', A2: '39082', C2: 'Galway' }],
  ['messytables__libreoffice.xlsx', 0, {}],
  ['frictionless-py__number-format-multicode.xlsx', 4, { A1: 'col1', A2: '4.51119775197299' }],
  ['test_files__1904.xlsx', 5, { A1: '1', B1: '1', C1: '1904-01-02' }],
];

describe('Awkward sheets from elsewhere', () => {
  test.each(refused)('%s is refused with one reason', (name, message) => {
    const outcome = read(name);
    if (outcome) expect(outcome).toEqual({ fault: expect.stringMatching(message) });
    else expect(folder && fs.existsSync(path.join(folder, name))).toBeFalsy();
  });

  test.each(cells)('%s is read', (name, rows, expected) => {
    const outcome = read(name);
    if (!outcome) {
      expect(folder && fs.existsSync(path.join(folder, name))).toBeFalsy();
      return;
    }
    expect('tables' in outcome && outcome.tables[0]?.rows.length).toBe(rows);
    const found = Object.fromEntries(
      Object.keys(expected).map((address) => [address, cell(outcome, address)]),
    );
    expect(found).toEqual(expected);
  });

  test('every one of them is read or refused, never a crash', () => {
    const names = folder
      ? fs.readdirSync(folder).filter((name) => /\.(?:csv|tsv|xlsx|xls|ods)$/.test(name))
      : [];
    for (const name of names) expect(read(name)).not.toBeNull();
    expect(folder === null || names.length > 30).toBe(true);
  });

  test('csv-spectrum comes to the objects that come with it', () => {
    const expectedFolder = folder && path.join(folder, 'csv-spectrum-expected');
    const names = expectedFolder && fs.existsSync(expectedFolder) ? fs.readdirSync(expectedFolder) : [];
    for (const name of names) {
      const outcome = read(`csv-spectrum__${name.replace('.json', '.csv')}`);
      if (!outcome) continue;
      const expected: unknown = JSON.parse(
        fs.readFileSync(path.join(expectedFolder as string, name), 'utf8').replaceAll('\\r', ''),
      );
      expect('tables' in outcome && objects(outcome.tables[0] as RawTable)).toEqual(expected);
    }
    expect(folder === null || names.length > 5).toBe(true);
  });
});
