import type { Column } from './column.ts';
import type { Fault, FaultCode } from './fault.ts';
import { season } from './season.ts';
import type { SeasonTable } from './table.ts';
import { type SeasonTableName, seasonTable } from './tables.ts';

export type Row = Record<string, unknown>;

/** Checks one row of one table by itself, as for a single change. `row` is the number to name in faults. */
export function validateSeasonRow(name: SeasonTableName | 'season', value: unknown, row = 1): Fault[] {
  const faults: Fault[] = [];
  const table = name === 'season' ? (season as unknown as SeasonTable) : seasonTable(name);
  if (isRow(value)) checkRow(table, value, row, faults);
  else faults.push(notARow(table.name, value, row));
  return faults;
}

/** Adds what is wrong with one row, looked at by itself. */
export function checkRow(table: SeasonTable, row: Row, number: number, faults: Fault[]): void {
  if (notRows.has(row)) {
    faults.push(notARow(table.name, notRows.get(row), number));
    return;
  }
  const say = (column: string, code: FaultCode, message: string, expected: string) =>
    faults.push({
      table: table.name,
      row: number,
      column,
      value: row[column] ?? null,
      code,
      message,
      expected,
    });
  for (const name of Object.keys(row).filter((member) => !Object.hasOwn(table.columns, member))) {
    const names = Object.keys(table.columns).join(', ');
    say(name, 'unknown-column', `The table "${table.name}" has no column "${name}".`, `one of ${names}`);
  }
  let sound = true;
  for (const [name, column] of Object.entries(table.columns)) {
    const value = row[name];
    if (value === null || value === undefined) {
      if (!column.required) continue;
      sound = false;
      say(name, 'missing-value', `"${name}" is empty.`, column.expected);
    } else if (!column.schema.safeParse(value).success) {
      sound = false;
      const code = typeof value === jsonTypeOf(column) ? 'bad-value' : 'wrong-kind';
      say(name, code, `"${name}" is ${show(value)}, which is not ${column.expected}.`, column.expected);
    }
  }
  if (sound) checkBetweenColumns(table, row, say);
}

function checkBetweenColumns(
  table: SeasonTable,
  row: Row,
  say: (column: string, code: FaultCode, message: string, expected: string) => void,
): void {
  for (const group of table.ascending) {
    const given = group.filter((name) => row[name] !== null && row[name] !== undefined);
    given.slice(1).forEach((name, index) => {
      const before = given[index]!;
      if ((row[before] as string | number) > (row[name] as string | number)) {
        const message = `"${name}" is ${show(row[name])}, but "${before}" is ${show(row[before])}.`;
        say(name, 'wrong-order', message, `"${before}" not after "${name}"`);
      }
    });
  }
  for (const group of table.exactlyOneOf) {
    const given = group.filter((name) => row[name] !== null && row[name] !== undefined);
    if (given.length !== 1) {
      const names = group.map((name) => `"${name}"`).join(' and ');
      const found = given.length === 0 ? 'none is' : 'more than one is';
      say(group[0]!, 'not-exactly-one', `Of ${names} ${found} given.`, `exactly one of ${names}`);
    }
  }
}

/** Stands in for a row that is no object, so that row numbers stay right. */
const notRows = new WeakMap<Row, unknown>();

/** A row that keeps the place of something that is no row. */
export function notRow(value: unknown): Row {
  const row: Row = {};
  notRows.set(row, value);
  return row;
}

function notARow(table: string, value: unknown, row: number): Fault {
  const message = `Row ${row} is not an object with one member a column.`;
  return {
    table,
    row,
    column: '',
    value,
    code: 'wrong-kind',
    message,
    expected: 'an object with one member a column',
  };
}

function jsonTypeOf(column: Column): string {
  if (column.kind === 'boolean') return 'boolean';
  return column.kind === 'integer' || column.kind === 'number' ? 'number' : 'string';
}

/** A value in a message, cut where it is long. */
export function show(value: unknown): string {
  const text = JSON.stringify(value) ?? String(value);
  return text.length > 80 ? `${text.slice(0, 77)}...` : text;
}

export function isRow(value: unknown): value is Row {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
