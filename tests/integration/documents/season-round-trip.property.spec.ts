import { jest } from '@jest/globals';
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import {
  columnsOf,
  type NamedColumn,
  type SeasonFile,
  type SeasonTable,
  seasonHeadTable,
  seasonTable,
  seasonTableNames,
  validateSeasonFile,
} from '../../../libs/contracts/src/season-file/index.ts';
import {
  type CsvFile,
  readSeasonCsvFolder,
  readSeasonWorkbook,
} from '../../../libs/documents/src/season-sheets/read-season.ts';
import { writeSeasonCsvFolder } from '../../../libs/documents/src/season-sheets/write-csv-folder.ts';
import {
  emptySeasonWorkbook,
  writeSeasonWorkbook,
} from '../../../libs/documents/src/season-sheets/write-workbook.ts';
import { demoSeasons } from './demo-season.ts';

/** Texts that spreadsheets get wrong, and any others. */
const trouble = fc.constantFrom(
  '=1+1',
  '+1',
  '-1',
  '@SUM(A1)',
  "'quoted",
  "'=1",
  "''",
  '=HYPERLINK("http://example.org","x")',
  '0042',
  '1e5',
  '12345678901234567890',
  'TRUE',
  'yes',
  '2026-05-04',
  '1/2',
  '#REF!',
  'NULL',
  '_x0041_',
  '_x005F_',
  '_x0041',
  'a\nb',
  'a\r\nb',
  'a\rb',
  'a\tb',
  'say "hi", they said',
  'semi;colon',
  '<b>&amp;</b>',
  ']]>',
  'constructor',
  '__proto__',
  'toString',
  'Żółw 犬 🐕 \u200d',
  'é',
  'é',
  '\uFF1D1',
  'a\u0000b'.replace('\u0000', '\u0001'),
  'a\u0085b',
  'a\ufffdb',
  'a\ufffeb',
  'a\u{1fffe}b',
  '\u{10ffff}',
  'a\u2028b',
  'x'.repeat(199),
);
const fragments = fc.array(
  fc.oneof(
    { weight: 2, arbitrary: trouble },
    { weight: 3, arbitrary: fc.string({ unit: 'grapheme', maxLength: 12 }) },
    { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 6 }) },
  ),
  { minLength: 1, maxLength: 3 },
);
const anyText = fragments
  .map((parts) => parts.join('').replaceAll('\0', '').trim().slice(0, 200).trim())
  .filter((text) => text !== '' && Buffer.from(text).toString() === text);

type Change = { table: string; row: number; column: string; value: unknown };
type Loose = Record<string, unknown>;

const head = seasonHeadTable as unknown as SeasonTable;
const tables: readonly SeasonTable[] = [head, ...seasonTableNames.map(seasonTable)];
const demos = demoSeasons();

function rowsOf(file: SeasonFile, table: SeasonTable): Loose[] {
  return table === head
    ? [file.season as Loose]
    : ((file as unknown as Record<string, Loose[]>)[table.name] ?? []);
}

/** A value for a cell that may be anything its column allows; undefined for cells that other rows depend on. */
function anyValue(table: SeasonTable, column: NamedColumn): fc.Arbitrary<unknown> | undefined {
  const isBound = [...table.key, ...table.ascending.flat(), ...table.exactlyOneOf.flat()].includes(
    column.name,
  );
  if (
    isBound ||
    column.refersTo.length > 0 ||
    column.pattern !== null ||
    table.references.some((r) => r.columns.includes(column.name))
  )
    return undefined;
  const optional = <Value>(arbitrary: fc.Arbitrary<Value>): fc.Arbitrary<unknown> =>
    column.required ? arbitrary : fc.option(arbitrary, { nil: undefined, freq: 6 });
  const { min, max } = column;
  switch (column.kind) {
    case 'text':
      return column.maxLength && column.maxLength >= 200 && column.maxLength !== 254
        ? optional(anyText)
        : undefined;
    case 'integer':
      return optional(fc.integer({ min: Math.max(min ?? 0, -1e15), max: Math.min(max ?? 1e9, 1e15) }));
    case 'number':
      return optional(
        fc.double({ min: min ?? -1e300, max: max ?? 1e300, noNaN: true }).map((value) => value + 0),
      );
    case 'boolean':
      return optional(fc.boolean());
    default:
      return undefined;
  }
}

const changeable = demos.flatMap((file, demo) =>
  tables.flatMap((table) =>
    columnsOf(table).flatMap((column) => {
      const arbitrary = anyValue(table, column);
      const count = rowsOf(file, table).length;
      return arbitrary && count > 0
        ? [{ demo, table: table.name, column: column.name, count, arbitrary }]
        : [];
    }),
  ),
);

const season = fc.nat({ max: demos.length - 1 }).chain((demo) => {
  const own = changeable.filter((entry) => entry.demo === demo);
  const change = fc.constantFrom(...own).chain((entry) =>
    fc.record({
      table: fc.constant(entry.table),
      column: fc.constant(entry.column),
      row: fc.nat({ max: entry.count - 1 }),
      value: entry.arbitrary,
    }),
  );
  return fc
    .array(change, { minLength: 20, maxLength: 60 })
    .map((changes) => withChanges(demos[demo] as SeasonFile, changes));
});

function withChanges(file: SeasonFile, changes: readonly Change[]): SeasonFile {
  const copy = structuredClone(file);
  for (const change of changes) {
    const table = tables.find((candidate) => candidate.name === change.table) as SeasonTable;
    (rowsOf(copy, table)[change.row] as Loose)[change.column] = change.value;
  }
  const result = validateSeasonFile(copy);
  if (!result.ok) throw new Error(JSON.stringify(result.faults[0]));
  return result.value;
}

jest.setTimeout(120_000);

describe('A season that is exported comes back the same', () => {
  test.each(demos.map((file) => [file.season.key, file] as const))(
    'demo %s as a workbook',
    async (_key, file) => {
      expect(readSeasonWorkbook(await writeSeasonWorkbook(file))).toEqual({ ok: true, seasonFile: file });
    },
  );

  test.each(demos.map((file) => [file.season.key, file] as const))('demo %s as CSV files', (_key, file) => {
    expect(readSeasonCsvFolder(writeSeasonCsvFolder(file))).toEqual({ ok: true, seasonFile: file });
  });

  test('many kinds of cells can be changed by the test', () => {
    expect(changeable.length).toBeGreaterThan(100);
  });

  test('with any texts and numbers, as a workbook', async () => {
    await fc.assert(
      fc.asyncProperty(season, async (file) => {
        expect(readSeasonWorkbook(await writeSeasonWorkbook(file))).toEqual({ ok: true, seasonFile: file });
      }),
      { numRuns: 12 },
    );
  });

  test('with any texts and numbers, as CSV files', () => {
    fc.assert(
      fc.property(season, (file) => {
        const files: CsvFile[] = writeSeasonCsvFolder(file);
        expect(readSeasonCsvFolder(files)).toEqual({ ok: true, seasonFile: file });
        for (const { bytes } of files) {
          // As a spreadsheet program sees the file: no cell of it begins as a formula.
          const cells = parse(Buffer.from(bytes), { bom: true }).flat();
          expect(cells.filter((cell) => /^[=+@\t\r]/.test(cell) || /^-\D/.test(cell))).toEqual([]);
        }
      }),
      { numRuns: 30 },
    );
  });

  test('the empty workbook has every sheet and lacks nothing but the season', async () => {
    const result = readSeasonWorkbook(await emptySeasonWorkbook());
    expect(result.ok).toBe(false);
    expect(!result.ok && result.faults.map((fault) => [fault.table, fault.sheet, fault.code])).toEqual([
      ['season', 'Season', 'not-a-season-file'],
    ]);
  });
});
