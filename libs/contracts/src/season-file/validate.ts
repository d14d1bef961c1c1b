import { checkRow, isRow, notRow, type Row, show } from './check-row.ts';
import type { Fault } from './fault.ts';
import { season } from './season.ts';
import { canonicalRow, type SeasonFile, seasonFileFormat, seasonFileVersion } from './season-file.ts';
import type { SeasonTable } from './table.ts';
import { seasonTable, seasonTableNames, sharedKeySpaces } from './tables.ts';

export type SeasonFileResult = { ok: true; value: SeasonFile } | { ok: false; faults: Fault[] };

type Cells = { table: SeasonTable; rows: Row[] };

/**
 * Checks a whole season file and reports every fault at once: cells, unknown columns, double keys, references to
 * nothing. What needs more than one row's plain sense (overlapping crews, check digits, zones) is checked at intake.
 */
export function validateSeasonFile(input: unknown): SeasonFileResult {
  const faults: Fault[] = [];
  if (!isRow(input)) {
    return {
      ok: false,
      faults: [
        fileFault(
          '',
          input,
          'The season file is not a JSON object.',
          'a JSON object with one member a table',
        ),
      ],
    };
  }
  checkHead(input, faults);
  const tables = new Map<string, Cells>();
  for (const name of seasonTableNames) {
    const table = seasonTable(name);
    const rows = rowsOf(table, input[name], faults);
    tables.set(name, { table, rows });
    for (const [index, row] of rows.entries()) checkRow(table, row, index + 1, faults);
    checkKeys(table, rows, faults);
    checkOverlaps(table, rows, faults);
  }
  for (const group of sharedKeySpaces) checkSharedKeys(group, tables, faults);
  for (const cells of tables.values()) checkReferences(cells, tables, faults);
  if (faults.length > 0) return { ok: false, faults };
  return { ok: true, value: trusted(input, tables) };
}

function checkHead(input: Row, faults: Fault[]): void {
  if (input.format !== seasonFileFormat) {
    faults.push(
      fileFault(
        'format',
        input.format,
        'The member "format" does not say that this is a season file.',
        `"${seasonFileFormat}"`,
      ),
    );
  }
  if (input.formatVersion !== seasonFileVersion) {
    const message = 'The member "formatVersion" names a version that this program does not read.';
    faults.push(fileFault('formatVersion', input.formatVersion, message, String(seasonFileVersion)));
  }
  if (isRow(input.season)) checkRow(season as unknown as SeasonTable, input.season, 1, faults);
  else {
    faults.push({
      table: 'season',
      row: 0,
      column: '',
      value: input.season,
      code: 'not-a-season-file',
      message: 'The member "season" is missing or is not one row.',
      expected: 'one row about the season: key, name, first and last day, rates',
    });
  }
  const known = new Set<string>(['format', 'formatVersion', 'season', ...seasonTableNames]);
  for (const name of Object.keys(input).filter((member) => !known.has(member))) {
    faults.push({
      table: name,
      row: 0,
      column: '',
      value: null,
      code: 'unknown-table',
      message: `There is no table named "${name}" in a season file.`,
      expected: `one of ${seasonTableNames.join(', ')}`,
    });
  }
}

function rowsOf(table: SeasonTable, value: unknown, faults: Fault[]): Row[] {
  if (value === undefined) return [];
  if (!Array.isArray(value)) {
    const message = `The member "${table.name}" is not a list of rows.`;
    faults.push({
      table: table.name,
      row: 0,
      column: '',
      value,
      code: 'not-a-table',
      message,
      expected: 'a list of rows',
    });
    return [];
  }
  return value.map((row: unknown) => (isRow(row) ? row : notRow(row)));
}

function checkKeys(table: SeasonTable, rows: Row[], faults: Fault[]): void {
  const seen = new Map<string, number>();
  rows.forEach((row, index) => {
    const id = idOf(row, table.key);
    if (id === null) return;
    const first = seen.get(id);
    if (first === undefined) {
      seen.set(id, index + 1);
      return;
    }
    const names = table.key.join(', ');
    faults.push({
      table: table.name,
      row: index + 1,
      column: table.key[0]!,
      value: row[table.key[0]!] ?? null,
      code: 'duplicate-key',
      message: `Row ${index + 1} has the same ${names} as row ${first}.`,
      expected: `a different ${names} in each row`,
    });
  });
}

function checkOverlaps(table: SeasonTable, rows: Row[], faults: Fault[]): void {
  const rule = table.noOverlap;
  if (!rule) return;
  const groups = new Map<string, { row: Row; number: number }[]>();
  for (const [index, row] of rows.entries()) {
    const id = idOf(row, rule.by);
    const counts = !rule.only || rule.only.values.includes(String(row[rule.only.column]));
    if (id === null || !counts || typeof row[rule.from] !== 'string') continue;
    groups.set(id, [...(groups.get(id) ?? []), { row, number: index + 1 }]);
  }
  for (const group of groups.values()) {
    group.sort((a, b) => (String(a.row[rule.from]) < String(b.row[rule.from]) ? -1 : 1));
    for (const [at, { row, number }] of group.entries()) {
      const earlier = group
        .slice(0, at)
        .find(({ row: other }) => String(other[rule.to] ?? '9999-12-31') >= String(row[rule.from]));
      if (!earlier) continue;
      const who = rule.by.map((name) => show(row[name])).join(' and ');
      faults.push({
        table: table.name,
        row: number,
        column: rule.from,
        value: row[rule.from],
        code: 'overlap',
        message: `The days of rows ${earlier.number} and ${number} overlap for ${rule.by.join(' and ')} ${who}.`,
        expected: `days that do not overlap for the same ${rule.by.join(' and ')}`,
      });
    }
  }
}

function checkReferences(cells: Cells, tables: Map<string, Cells>, faults: Fault[]): void {
  for (const reference of cells.table.references) {
    const targets = reference.tables.map((name) => idsOf(tables.get(name)!, reference.to));
    cells.rows.forEach((row, index) => {
      const values = reference.columns.map((column) => row[column]);
      if (values.some((value) => value === null || value === undefined)) return;
      if (targets.some((ids) => ids.has(JSON.stringify(values)))) return;
      const column = reference.columns.at(-1)!;
      const named = reference.columns.map((name, at) => `${name} ${show(values[at])}`).join(' and ');
      const where = reference.tables.join(' or ');
      faults.push({
        table: cells.table.name,
        row: index + 1,
        column,
        value: row[column],
        code: 'dangling-reference',
        message: `No row of ${where} has the ${named}.`,
        expected: `the ${reference.to.join(' and ')} of a row of ${where}`,
      });
    });
  }
}

function checkSharedKeys(group: readonly string[], tables: Map<string, Cells>, faults: Fault[]): void {
  const owner = new Map<unknown, string>();
  for (const name of group) {
    const rows = tables.get(name)!.rows;
    rows.forEach((row, index) => {
      const other = owner.get(row.key);
      if (other === undefined || other === name) {
        if (row.key !== undefined) owner.set(row.key, name);
        return;
      }
      faults.push({
        table: name,
        row: index + 1,
        column: 'key',
        value: row.key,
        code: 'duplicate-key',
        message: `The key ${show(row.key)} is also used in ${other}.`,
        expected: `a key that no row of ${group.filter((table) => table !== name).join(' or ')} has`,
      });
    });
  }
}

function idsOf(cells: Cells, columns: readonly string[]): Set<string> {
  return new Set(cells.rows.map((row) => JSON.stringify(columns.map((column) => row[column]))));
}

/** Identity of a row by its key columns; null when one that must be there is empty (which is a fault of its own). */
function idOf(row: Row, key: readonly string[]): string | null {
  const values = key.map((column) => row[column] ?? null);
  return values.every((value) => value === null) ? null : JSON.stringify(values);
}

function trusted(input: Row, tables: Map<string, Cells>): SeasonFile {
  const clean = (table: SeasonTable, row: Row) => canonicalRow(row, Object.keys(table.columns));
  return {
    format: seasonFileFormat,
    formatVersion: seasonFileVersion,
    season: clean(season as unknown as SeasonTable, input.season as Row),
    ...Object.fromEntries(
      [...tables].map(([name, { table, rows }]) => [name, rows.map((row) => clean(table, row))]),
    ),
  } as unknown as SeasonFile;
}

function fileFault(column: string, value: unknown, message: string, expected: string): Fault {
  return { table: '', row: 0, column, value: value ?? null, code: 'not-a-season-file', message, expected };
}
