/** The reader of workbooks beside an independent one, the general-purpose library read-excel-file. */
import fs from 'node:fs';
import path from 'node:path';
import readExcelFile from 'read-excel-file/node';
import type { RawCell, RawTable } from '../../../libs/documents/src/raw-table.ts';
import { writeSeasonWorkbook } from '../../../libs/documents/src/season-sheets/write-workbook.ts';
import { SHEET_LIMITS } from '../../../libs/documents/src/sheet-limits.ts';
import { readWorkbook } from '../../../libs/documents/src/xlsx/read-workbook.ts';
import { dataFolder } from '../../builders/data-folder.ts';
import { demoSeasons } from './demo-season.ts';
import { smallWorkbook } from './small-workbook.ts';

const MS_PER_DAY = 86_400_000;

/** Our cell in the library's terms: texts, numbers, booleans, dates, and null for what it leaves out. */
function inItsTerms(cell: RawCell | undefined): unknown {
  switch (cell?.kind) {
    case 'text':
      return cell.text;
    case 'number':
      return Number(cell.digits);
    case 'boolean':
      return cell.value;
    case 'serial':
      return new Date(Math.floor((cell.days + cell.epochShiftDays - 25_569) * MS_PER_DAY));
    case 'iso':
      return new Date(cell.text);
    default:
      return null;
  }
}

async function compare(bytes: Buffer): Promise<number> {
  const own = readWorkbook(bytes, SHEET_LIMITS);
  const other = await readExcelFile(bytes, { trim: false });
  expect(own.map(({ name }) => name)).toEqual(other.map(({ sheet }) => sheet));
  let compared = 0;
  for (const [index, { data }] of other.entries()) {
    const byNumber = new Map((own[index] as RawTable).rows.map((row) => [row.number, row.cells]));
    const ours = data.map((row, r) => row.map((_, c) => inItsTerms(byNumber.get(r + 1)?.get(c + 1))));
    expect(ours).toEqual(data);
    compared += data.flat().filter((cell) => cell !== null).length;
  }
  return compared;
}

describe('The reader of workbooks and an independent one', () => {
  test('agree on every cell of the demo seasons', async () => {
    for (const season of demoSeasons())
      expect(await compare(await writeSeasonWorkbook(season))).toBeGreaterThan(1000);
  }, 60_000);

  const differs = [
    // The library knows the 1904 system by date1904="1" only, so it is four years and a day off here ("true").
    'calamine__date_1904.xlsx',
    // It keeps the carriage return of a line end in XML, which XML 1.0, 2.11 takes away.
    'calamine__has_x000D_.xlsx',
  ];

  test('agree on every cell of sheets from elsewhere', async () => {
    const folder = dataFolder();
    const sheets = folder && path.join(folder, 'tabular');
    const names =
      sheets && fs.existsSync(sheets)
        ? fs.readdirSync(sheets).filter((name) => name.endsWith('.xlsx') && !differs.includes(name))
        : [];
    if (names.length === 0) {
      process.stderr.write(
        'not checked: sheets of the folder "tabular" (set DRYSPELL_DATA to the folder of open data)\n',
      );
    }
    const counts: Record<string, number> = {};
    for (const name of names)
      counts[name] = await compare(fs.readFileSync(path.join(sheets as string, name)));
    expect(names.length === 0 || Object.values(counts).reduce((a, b) => a + b) > 80).toBe(true);
  });

  test('differ where the other one loses something: errors, formulas without a value, date1904="true"', async () => {
    const bytes = smallWorkbook({
      workbookPr: 'date1904="true"',
      sheets: [
        {
          name: 'A',
          data: '<row r="1"><c r="A1" t="e"><v>#REF!</v></c><c r="B1"><f>1+1</f></c><c r="C1" s="1"><v>44684</v></c></row>',
        },
      ],
    });
    const [other] = await readExcelFile(bytes);
    expect(other?.data).toEqual([[null, null, new Date('2022-05-03T00:00:00Z')]]);
    expect([...(readWorkbook(bytes, SHEET_LIMITS)[0]?.rows[0]?.cells.values() ?? [])]).toEqual([
      { kind: 'error', error: '#REF!' },
      { kind: 'not-calculated' },
      { kind: 'serial', days: 44684, epochShiftDays: 1462 },
    ]);
  });
});
